"""A groove cut directly in its board by the machine: one setup for each hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.gcode import read
from jigcam.geometry import Region, invert, union
from jigcam.joints.groove.fit import GrooveFit, groove_fit
from jigcam.joints.groove.season import season_findings
from jigcam.joints.groove.words import groove_words, last_words
from jigcam.making.flat import flat_setup
from jigcam.making.plan import Outcome, Plan
from jigcam.proof import filled, milled_region
from jigcam.toolpath.channel import channel_operations, corners_left
from jigcam.toolpath.choice import direct_bit, fault_of
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.track import Cutter
from jigcam.units import MM, Voice
from jigcam.wood import Prism

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.findings import Finding
    from jigcam.job import Entry, Job
    from jigcam.joints.groove.groove import Groove, GroovePlace
    from jigcam.kit import Bit, Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.wood import Cut

EASY = 1.5
"""Length of a stopped groove in bit diameters from which a bit goes down in it on a ramp of some length (common
practice, no source); for shorter ones a narrower bit is taken where there is one."""
HOLD = ("Clamps outside the path.",)
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

    def joint_words(self) -> list[Block]:
        """The joint."""
        return groove_words(self.groove, self.kit, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """What is done to the board that enters."""
        return last_words(self.groove, self.kit, self.voice, number)

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return frozenset({"round-the-edge", "notch"})

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """The mate laid into the groove as each file cuts it."""
        count, faces = len(self.groove.row), len(self.groove.faces)
        fits: list[tuple[str, GrooveFit]] = []
        findings: list[Finding] = []
        for places, file in zip(by_setup(self.groove), files, strict=True):
            cuts = [place.cut for place in places]
            milled = _milled(cuts, file, texts[file.file], self.kit)
            for place, region in zip(places, milled, strict=True):
                named = place.named(count, faces)
                where = f"{self.groove.name}, {named}" if named else self.groove.name
                fit, says = groove_fit(place.groove, region, place.cut.centreline, where, self.voice)
                fits.append((named, fit))
                findings += says
        (_, fit), *others = fits
        if count > 1 or faces > 1:
            fit = replace(fit, places=tuple(others))
        elif others:
            fit = replace(fit, opposite=others[0][1])
        return Outcome(fit=fit, findings=tuple(findings))


def by_setup(groove: Groove) -> list[list[GroovePlace]]:
    """The places of a groove, those together that are cut in one clamping: of one board with one face up."""
    alike = groupby(groove.places(), key=lambda place: (place.cut.hand, place.cut.face))
    return [list(places) for _, places in alike]


def plan_direct(groove: Groove, entry: Entry, job: Job, kit: Kit) -> DirectGroove:
    """The setups that cut a groove, as drawn and for the opposite hand.

    Raises `Refused` where no bit can, or the path is larger than the machine; InputError for an unknown bit and a
    climate that is none.
    """
    cuts = groove.cuts()
    made = []
    for first, *others in by_setup(groove):
        row = [place.cut for place in others]
        behind = first.cut.face != groove.face
        try:
            made.append(direct_setup(first.cut, kit, entry.bit, voice=job.voice, row=row, behind=behind))
        except Refused as refused:
            raise _in_parts(refused) if row else refused from refused
    said = [finding for _, each in made for finding in each]
    findings = dict.fromkeys([*groove.findings, *season_findings(groove, job, kit), *said])
    return DirectGroove(
        groove.name, tuple(setup for setup, _ in made), tuple(findings), kit, job.voice, groove=groove, cuts=cuts
    )


def _in_parts(refused: Refused) -> Refused:
    """The refusal of a row that is longer than the machine, with the ways that make it."""
    ways = (
        ' A row longer than the machine is two joints, each with a part of it, or it is cut with way = "template": one '
        "sheet then moves from groove to groove."
    )
    return Refused(
        refused.what,
        [replace(each, says=each.says + ways) if each.rule == "path-too-large" else each for each in refused.findings],
    )


def direct_setup(
    cut: Cut, kit: Kit, bit: str | None = None, *, voice: Voice = MM, row: Sequence[Cut] = (), behind: bool = False
) -> tuple[Setup, list[Finding]]:
    """The setup that cuts a solid of constant section into its board, with what is to be said.

    bit: a name in the kit; None to choose. voice: of findings and notes. row: more of its shape to be cut after it in
    the same clamping. behind: it lies in the face behind the one from which it is drawn, and so is mirrored. Frames:
    planned in the face frame, written from the lower left corner, or from the lower right one where the machine does
    not reach otherwise.

    Raises `Refused` where no bit can, or the path is larger than the machine; InputError for an unknown bit.
    """
    depth, board = cut.solid.depth, cut.board
    chosen, findings = _bit_for(cut, kit, bit, voice)
    cutter = Cutter(chosen, choose(chosen, board.wood, kit.the_machine, depth, voice=voice), kit.the_machine)
    cuts = (cut, *row)
    operations = [
        replace(each, name=f"groove {number} of {len(cuts)}, {each.name}") if row else each
        for number, one in enumerate(cuts, start=1)
        for each in channel_operations(one, cutter, voice)
    ]
    solid = Prism(union(*(one.solid.section(0.0) for one in cuts)), depth) if row else cut.solid
    opposite = cut.hand == "opposite"
    setup, far = flat_setup(
        board,
        cutter,
        operations,
        solid,
        file=f"groove{f'-{cut.face}' if behind else ''}{'-opposite' if opposite else ''}",
        joint=cut.joint,
        voice=voice,
        hold=HOLD,
        # Both are drawn from the same end of the board, which the mirror has on the other side.
        right=opposite != behind,
        hand=cut.hand,
        face=cut.toward_you,
    )
    if behind:
        setup = replace(setup, name=f"{setup.name}, {cut.face} face", title=f"{setup.title}, its {cut.face} face up")
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


def _milled(cuts: Sequence[Cut], file: GcodeFile, text: str, kit: Kit) -> list[Region]:
    """The grooves as a text leaves them half way down, in the face frame, each by itself.

    Only the walls are looked at; wood that stands between them is for the file's own proof.
    """
    placement = file.setup.placement
    depth = cuts[0].solid.depth
    drawn = [cut.solid.section(0.0) for cut in cuts]
    wall = (drawn[0] if len(drawn) == 1 else union(*drawn)).transformed(placement)
    milled = filled(milled_region(read(text), kit.the_machine, file.tools, -depth / 2.0, wall=wall))
    placed = milled.transformed(invert(placement))
    return [placed] if len(cuts) == 1 else [_part_at(placed, cut) for cut in cuts]


def _part_at(milled: Region, cut: Cut) -> Region:
    """The part of what was milled that is a cut's: the one that holds most of its centreline's middle."""
    line = cut.centreline
    middle = line.at([0.5 * line.length])[0]
    parts = [(float(part.signed_distance(middle)[0]), part) for part in milled.parts]
    return max(parts, key=lambda pair: pair[0])[1] if parts else Region.empty()
