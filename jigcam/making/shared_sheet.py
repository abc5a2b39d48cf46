"""Several joints by one sheet: milled once, laid once, and judged joint by joint from the one file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.job import slug
from jigcam.making.plan import Outcome, Plan
from jigcam.making.programs import programs
from jigcam.making.shared_words import joints_words, sheet_words, work_words
from jigcam.making.sheet_milling import OPENING
from jigcam.making.template import shared_setup
from jigcam.making.words import minutes
from jigcam.toolpath import seconds
from jigcam.toolpath.time import operation_seconds

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
        findings += [*said, _done_once(sheet, setup, members, kit)]
    said_once = tuple(dict.fromkeys(findings))
    return SharedPlan(
        sheet.name, setups, said_once, kit, voice, sheet=sheet, members=tuple(members), layings=tuple(layings)
    )


def _done_once(sheet: SharedSheet, setup: Setup, members: Sequence[OpeningPlan], kit: Kit) -> Finding:
    """A note on what the machine does once for all openings, and would do anew for sheets of their own.

    These are not planned for it: their openings would take as long, and each would want the rest.
    """
    count, together, besides = len(members), 0.0, 0.0
    what: dict[str, None] = {}
    for program, steps in programs(setup, kit.the_machine):
        together += seconds(program, kit.the_machine)
        times = iter(operation_seconds(program, kit.the_machine))
        for step in steps:
            spent = sum(islice(times, len(step.operations)))
            names = [waste.name for waste in step.wastes] or ["marks"]
            if OPENING not in names:
                besides += spent
                what |= dict.fromkeys(names)
    once = ""
    if what:
        *others, last = what
        named = f"{', '.join(others)} and {last}" if others else last
        once = (
            f", {minutes(besides)} of it for {named}, of which each of {count} sheets would want its own, though less"
        )
    says = (
        f"the machine runs {minutes(together)} for one sheet with {count} openings{once}; it is made ready, laid and "
        f"clamped once instead of {count} times, and no error of laying comes between the joints"
    )
    return Finding("note", "one-sheet", sheet.name, says)
