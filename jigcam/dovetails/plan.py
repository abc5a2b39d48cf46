"""A dovetailed corner cut by the machine: a setup for each clamping, and the corners put together from the files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.dovetails.by_hand import HandDovetail
from jigcam.dovetails.choice import DovetailChoice, choose_ways
from jigcam.dovetails.fit import CornerFit, DovetailFit, fit_corner, fit_findings, placed
from jigcam.dovetails.season import season_findings
from jigcam.dovetails.strategy import end_setup
from jigcam.dovetails.words import dovetail_words, hand_words
from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.gcode import read
from jigcam.making.counted_edges import with_widths
from jigcam.making.plan import Outcome, Plan
from jigcam.proof.assembly import PlacedFile
from jigcam.wood.taken import Taken

if TYPE_CHECKING:
    from jigcam.dovetails.cuts import EndCut
    from jigcam.dovetails.joint import Dovetail
    from jigcam.drawing import Drawing
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile


def plan_dovetail(joint: Dovetail, entry: Entry, job: Job, kit: Kit) -> Plan:
    """The clampings that cut a dovetailed corner, in the order in which they are run; none by hand.

    Raises `Refused`; InputError for a climate that is none.
    """
    if entry.way == "hand":
        return HandDovetail(joint.name, (), joint.findings, kit, job.voice, joint=joint)
    choice = choose_ways(joint, kit)
    if stops(choice.findings):
        raise Refused(f"{joint.name} cannot be cut with the kit {kit.name}", choice.findings)
    made = [end_setup(cut, kit, voice=job.voice) for cut in choice.cuts]
    notes = [finding for _, each in made for finding in each]
    findings = tuple(dict.fromkeys([*choice.findings, *season_findings(joint, job, kit), *notes]))
    setups = tuple(setup for setup, _ in made)
    return DovetailPlan(joint.name, setups, findings, kit, job.voice, choice=choice)


@dataclass(frozen=True)
class DovetailPlan(Plan):
    """A dovetailed corner with a kit: one setup for each of its choice's cuts."""

    choice: DovetailChoice

    @property
    def redrawn(self) -> tuple[Taken, ...]:
        """With the layout that the bits give, and where corners are relieved, what that takes beyond it."""
        relieved = tuple(
            Taken(cut.joint, cut.board, cut.face, cut.solid, end=cut.end, what="the relief of the corners")
            for cut in self.choice.cuts
            if cut.relieved and cut.corners
        )
        return *self.choice.joint.taken_by(self.choice.layout), *relieved

    @property
    def numbered(self) -> bool:
        """Inside faces come before outside ones, tails before pins."""
        return True

    def drawings(self) -> Mapping[str, Drawing]:
        """Both boards, and the corner put together."""
        from jigcam.dovetails.picture import scene_dovetail

        return {"joint": scene_dovetail(self.choice, units=self.voice.units)}

    def joint_words(self) -> list[Block]:
        """Boards, tails, slope, clearance, and the edges that the files count from."""
        words = dovetail_words(self.choice, self.voice)
        return with_widths(words, self.setups, self.choice.joint.sizes.clearance, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """What is left for the chisel, and the layout for hand work."""
        return hand_words(self.choice, number, self.voice)

    def cuts_of(self, files: Sequence[GcodeFile]) -> list[tuple[EndCut, GcodeFile]]:
        """Each file with the cut that it belongs to."""
        cuts = {id(setup): cut for setup, cut in zip(self.setups, self.choice.cuts, strict=True)}
        return [(cuts[id(file.setup)], file) for file in files]

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Every corner put together from the texts."""
        machine = self.kit.the_machine
        parts = [
            (cut, PlacedFile.of(read(texts[file.file]), machine, file.tools, placed(cut, file.setup.placement)))
            for cut, file in self.cuts_of(files)
        ]
        joint = self.choice.joint
        tail_board, pin_board = joint.tail_board.name, joint.pin_board.name
        corners: list[CornerFit] = []
        findings: list[Finding] = []
        for tails_end, pins_end in joint.ends:
            tails = [(cut, part) for cut, part in parts if cut.of_tails and cut.end == tails_end]
            pins = [(cut, part) for cut, part in parts if not cut.of_tails and cut.end == pins_end]
            fits = fit_corner(self.choice, tails, pins)
            corners.append(CornerFit(f"{tail_board}, {tails_end} end", f"{pin_board}, {pins_end} end", fits))
            where = f"{joint.name}, {tails_end} end of {tail_board}"
            findings += fit_findings(fits, where, pared=joint.sizes.pare > 0.0, voice=self.voice)
        return Outcome(fit=DovetailFit(tuple(corners)), findings=tuple(findings))
