"""Several joints by one sheet: milled once, laid once, and judged joint by joint from the one file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.job import slug
from jigcam.making.plan import Outcome, Plan
from jigcam.making.programs import programs
from jigcam.making.shared_words import joints_words, sheet_words, work_words
from jigcam.making.template import shared_setup, template_setups
from jigcam.making.words import minutes
from jigcam.template import plan_template
from jigcam.toolpath import seconds

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.handwork import HandWork
    from jigcam.making.kind import Joint
    from jigcam.making.laid_again import LaidAgain
    from jigcam.making.opening_plan import OpeningPlan
    from jigcam.making.setup import Setup
    from jigcam.template import SharedSheet, TemplatePlan
    from jigcam.template.laying import Move
    from jigcam.units import Voice
    from jigcam.wood import Taken

SAID = frozenset({"one-pair", "several-pairs", "sheet-wall", "laid-again"})
"""Rules whose findings the words of a shared sheet have said."""


@dataclass(frozen=True)
class SharedPlan(Plan):
    """The plan of a sheet that several joints share. name: of the sheet. members: its joints, in the order of the job.

    layings: where it is laid again for some of them. Without a setup the sheet is made by hand, and nothing of it can
    be proved.
    """

    sheet: SharedSheet
    members: tuple[OpeningPlan, ...]
    layings: tuple[LaidAgain, ...] = ()

    @property
    def joints(self) -> tuple[str, ...]:
        """Those of its openings."""
        return tuple(each.name for each in self.members)

    @property
    def guided(self) -> bool:
        """Always: whoever makes the sheet, the router rides it."""
        return True

    @property
    def templates(self) -> tuple[TemplatePlan, ...]:
        """Of all openings of the sheet."""
        return self.sheet.openings

    @property
    def handwork(self) -> tuple[HandWork, ...]:
        """In one opening after the other, laid again as the sheet says."""
        moves: dict[str, dict[tuple[int, int], Move]] = {}
        for laying in self.layings:
            for use in laying.uses:
                moves.setdefault(use.joint, {})[use.place] = laying.move
        return tuple(work.laid_by(moves.get(each.name, {})) for each in self.members for work in each.handwork)

    def drawings(self) -> Mapping[str, Drawing]:
        """The sheet with all its openings, and each joint on its board."""
        from jigcam.drawing.scenes.shared import scene_shared

        base = self.kit.the_router.base_radius
        found = {"template": scene_shared(self.sheet, self.voice, base_radius=base)}
        for number, member in enumerate(self.members, start=1):
            of = slug(member.name, f"joint-{number}")
            found |= {f"{of}-{stem}": each for stem, each in member.drawings().items() if stem != "template"}
        return found

    def joint_words(self) -> list[Block]:
        """The joints, and the sheet for them."""
        return [*joints_words(self.members), *sheet_words(self.sheet, self.members, self.kit, self.voice)]

    def bench_words(self, number: int) -> list[Block]:
        """The sheet made ready and laid, then the router in one opening after the other, for each hand."""
        return work_words(self.sheet, self.members, self.layings, self.voice, number)

    @property
    def said(self) -> frozenset[str]:
        """What the words of its joints say, and of the sheet."""
        return SAID.union(*(each.said for each in self.members))

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Joint by joint, each in its own opening as the file mills it."""
        return Outcome.of({each.name: each.judged(files, texts) for each in self.members} if files else {})


@dataclass(frozen=True)
class SharedJoints:
    """The joints of a sheet, as drawn. name: of the sheet."""

    name: str
    joints: tuple[Joint, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Of all of them."""
        return tuple(finding for each in self.joints for finding in each.findings)

    def taken(self) -> tuple[Taken, ...]:
        """All the wood that they take. Raises `Refused` where one of them cannot be cut."""
        return tuple(taken for each in self.joints for taken in each.taken())


def shared_plan(
    sheet: SharedSheet, members: Sequence[OpeningPlan], layings: Sequence[LaidAgain], kit: Kit, voice: Voice
) -> SharedPlan:
    """The plan of a sheet, with its milling where the kit has a machine. Raises `Refused`."""
    setups: tuple[Setup, ...] = ()
    findings = [*sheet.findings, *(finding for each in members for finding in each.findings)]
    if layings:
        titles = "; ".join(each.title for each in layings)
        findings.append(Finding("note", "laid-again", sheet.name, f"the sheet is laid again for {titles}"))
    if kit.machine is not None:
        setup, said = shared_setup(sheet, {each.name for each in members if each.both_hands}, kit, voice)
        setups = (setup,)
        findings += [*said, *_time_saved(sheet, setup, members, kit, voice)]
    said_once = tuple(dict.fromkeys(findings))
    return SharedPlan(
        sheet.name, setups, said_once, kit, voice, sheet=sheet, members=tuple(members), layings=tuple(layings)
    )


def _time_saved(
    sheet: SharedSheet, setup: Setup, members: Sequence[OpeningPlan], kit: Kit, voice: Voice
) -> list[Finding]:
    """A note on what the machine does less than for sheets of their own; nothing where these could not be made."""
    alone = 0.0
    for opening, member in zip(sheet.openings, members, strict=True):
        both = member.both_hands
        try:
            plan = plan_template(
                opening.cut, kit, bit=opening.bit, bushing=opening.bushing, both_hands=both, voice=voice
            )
            alone += sum(_time(each, kit) for each in template_setups(plan, kit, both_hands=both, voice=voice)[0])
        except Refused:
            return []
    count, together = len(members), _time(setup, kit)
    less = alone - together
    words = f"{minutes(abs(less))} {'less' if less > 0.0 else 'more'}"
    says = (
        f"the machine runs {minutes(together)} for one sheet with {count} openings, {words} than for {count} sheets "
        f"({minutes(alone)}), and it is made ready, laid and clamped once instead of {count} times; no error of laying "
        "comes between the joints"
    )
    return [Finding("note", "one-sheet", sheet.name, says)]


def _time(setup: Setup, kit: Kit) -> float:
    return sum(seconds(program, kit.the_machine) for program, _ in programs(setup, kit.the_machine))
