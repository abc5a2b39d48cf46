"""A groove cut directly in its board by the machine: one setup for each hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigcam.gcode import read
from jigcam.geometry import invert
from jigcam.joints.groove.fit import GrooveFit, groove_fit
from jigcam.joints.groove.season import season_findings
from jigcam.joints.groove.words import groove_words
from jigcam.making.flat import flat_setup
from jigcam.making.plan import Outcome, Plan
from jigcam.proof import filled, milled_region
from jigcam.toolpath.channel import channel_operations, corners_left
from jigcam.toolpath.choice import direct_bit, fault_of
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.track import Cutter
from jigcam.units import MM, Voice

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.findings import Finding
    from jigcam.geometry import Region
    from jigcam.job import Entry, Job
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Bit, Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.wood import Cut

EASY = 1.5
"""Length of a stopped groove in bit diameters from which a bit goes down in it on a ramp of some length (common
practice, no source); for shorter ones a narrower bit is taken where there is one."""
WAY_DOWN = 0.5
"""mm that the middle of a bit moves along a stopped groove at the least: on less it would go to and fro without end."""


@dataclass(frozen=True)
class DirectGroove(Plan):
    """A groove cut on the machine. cuts: one for each setup, in order."""

    groove: Groove
    cuts: tuple[Cut, ...]

    def drawings(self) -> Mapping[str, Drawing]:
        """The groove on its board, for each hand."""
        from jigcam.joints.groove.picture import scene_groove

        return {"groove": scene_groove(self.cuts, units=self.voice.units, mate=self.groove.mate)}

    def joint_words(self) -> list[str]:
        """The joint."""
        return groove_words(self.groove, self.kit, self.voice)

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return frozenset({"round-the-edge", "notch"})

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """The mate laid into the groove as each file cuts it."""
        fits: list[GrooveFit] = []
        findings: list[Finding] = []
        for cut, file in zip(self.cuts, files, strict=True):
            where = self.groove.name if cut.hand == "as drawn" else f"{self.groove.name}, {cut.hand}"
            milled = _milled(cut, file, texts[file.file], self.kit)
            fit, says = groove_fit(self.groove, milled, cut.centreline, where, self.voice)
            fits.append(fit)
            findings += says
        return Outcome(fit=replace(fits[0], opposite=fits[1] if len(fits) > 1 else None), findings=tuple(findings))


def plan_direct(groove: Groove, entry: Entry, job: Job, kit: Kit) -> DirectGroove:
    """The setups that cut a groove, as drawn and for the opposite hand.

    Raises `Refused` where no bit can, or the path is larger than the machine; InputError for an unknown bit and a
    climate that is none.
    """
    cuts = groove.cuts()
    made = [direct_setup(cut, kit, entry.bit, voice=job.voice) for cut in cuts]
    said = [finding for _, each in made for finding in each]
    findings = dict.fromkeys([*groove.findings, *season_findings(groove, job, kit), *said])
    return DirectGroove(
        groove.name, tuple(setup for setup, _ in made), tuple(findings), kit, job.voice, groove=groove, cuts=cuts
    )


def direct_setup(cut: Cut, kit: Kit, bit: str | None = None, *, voice: Voice = MM) -> tuple[Setup, list[Finding]]:
    """The setup that cuts a solid of constant section into its board, with what is to be said.

    bit: a name in the kit; None to choose. voice: of findings and notes. Frames: planned in the face frame,
    written from the lower left corner, or from the lower right one where the machine does not reach otherwise.

    Raises `Refused` where no bit can, or the path is larger than the machine; InputError for an unknown bit.
    """
    depth, board = cut.solid.depth, cut.board
    chosen, findings = _bit_for(cut, kit, bit, voice)
    cutter = Cutter(chosen, choose(chosen, board.wood, kit.the_machine, depth, voice=voice), kit.the_machine)
    operations = channel_operations(cut, cutter, voice)
    opposite = cut.hand == "opposite"
    setup, far = flat_setup(
        board,
        cutter,
        operations,
        cut.solid,
        file="groove-opposite" if opposite else "groove",
        joint=cut.joint,
        voice=voice,
        hold=_hold(cut),
        right=opposite,
        hand=cut.hand,
        face=cut.toward_you,
    )
    return setup, [*findings, *far, *corners_left(cut, chosen, voice, widest=bit is None)]


def _bit_for(cut: Cut, kit: Kit, named: str | None, voice: Voice) -> tuple[Bit, list[Finding]]:
    """The bit, narrow enough to have a way down in a cut that is stopped at both ends; see `direct_bit`."""
    depth = cut.solid.depth
    if cut.open_start or cut.open_finish:
        return direct_bit(kit, cut.narrowest, depth, named, cut.joint, voice)
    longest = max(cut.width, cut.centreline.length)
    if named is None:
        easy = min(cut.narrowest, longest / EASY)
        if any(fault_of(each, kit, easy, depth, voice) is None for each in kit.bits):
            room = "the cut" if easy == cut.narrowest else "what leaves it a ramp in the cut is"
            return direct_bit(kit, easy, depth, None, cut.joint, voice, room)
    least = longest - WAY_DOWN
    room = "the cut" if cut.narrowest <= least else "what leaves it a way to go down in the cut is"
    return direct_bit(kit, min(cut.narrowest, least), depth, named, cut.joint, voice, room)


def _hold(cut: Cut) -> tuple[str, ...]:
    """What there is to say of how the board lies."""
    lines = ["Clamps outside the path."]
    if cut.open_start or cut.open_finish:
        lines.append("A spoilboard or backer under and beside the open ends keeps the edge from breaking out.")
    return tuple(lines)


def _milled(cut: Cut, file: GcodeFile, text: str, kit: Kit) -> Region:
    """The groove as a text leaves it half way down, in the face frame.

    Only the walls are looked at; wood that stands between them is for the file's own proof.
    """
    placement = file.setup.placement
    wall = cut.solid.section(0.0).transformed(placement)
    milled = milled_region(read(text), kit.the_machine, file.tools, -cut.solid.depth / 2.0, wall=wall)
    return filled(milled).transformed(invert(placement))
