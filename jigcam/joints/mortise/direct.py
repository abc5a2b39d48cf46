"""Mortises cut by the machine: one setup for each board, lying flat, or standing with the end up that is cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.joints.mortise.drawn import DrawnMortise
from jigcam.joints.mortise.fit import MortiseFit, RowFit, row_fit
from jigcam.joints.mortise.words import bench_lines
from jigcam.making.flat import flat_setup
from jigcam.making.measured_cut import MeasuredCut
from jigcam.making.plan import Outcome
from jigcam.making.upright import upright_placement, upright_setup, vise_faults
from jigcam.toolpath.channel import channel_operations
from jigcam.toolpath.choice import direct_bit, fault_of
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.track import Cutter
from jigcam.wood.solid import Prism

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.mortise.entry import MortiseEntry
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.kit import Bit, Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.toolpath.program import Operation
    from jigcam.units import Voice
    from jigcam.wood import Cut

EASY = 1.5
"""Length of a mortise in bit diameters from which a bit goes down in it on a ramp of some length (common practice, no
source); for shorter ones a narrower bit is taken where there is one."""
WAY_DOWN = 0.5
"""mm that the middle of a bit moves along a mortise at the least: on less it would go to and fro without end."""
ABOVE_VISE = 6.0
"""mm; a board stands at least so much and its mortise's depth out of the vise, where the cheeks are thin (common
practice, no source)."""


@dataclass(frozen=True)
class DirectMortise(DrawnMortise):
    """Mortises cut on the machine, one file for each board."""

    def bench_words(self, number: int) -> list[Block]:
        """The tenons."""
        return bench_lines(self.it, number, self.voice)

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """The tenon laid into each mortise as its file cuts it."""
        fits: list[RowFit] = []
        findings: list[Finding] = []
        for row, file in zip(self.it.rows, files, strict=True):
            milled = MeasuredCut.of(file, texts[file.file], self.kit.the_machine)
            sections = [milled.section(-row.depth / 2.0)] * row.count
            depth = float(milled.depths(np.array(row.centres)).min())
            fit, says = row_fit(self.it, row, sections, self.voice, depth)
            fits.append(fit)
            findings += says
        return Outcome(fit=MortiseFit(self.it.tenon, tuple(fits)), findings=tuple(findings))


def plan_direct(it: Mortise, entry: MortiseEntry, job: Job, kit: Kit) -> DirectMortise:
    """The setups that cut mortises, one for each board.

    Raises `Refused` where no bit can, the machine does not hold the board, or the path is larger than the machine;
    InputError for an unknown bit.
    """
    setups: list[Setup] = []
    findings: list[Finding] = list(it.findings)
    faults = [
        fault for row in it.rows if row.end for fault in vise_faults(kit.the_machine, row.board, job.voice.length)
    ]
    if faults:
        says = f"{'; '.join(dict.fromkeys(faults))}: the end is cut on a machine that takes it"
        stop = Finding("stop", "end-not-held", it.name, says)
        raise Refused(f"{it.name}: the machine cannot hold it", [stop])
    for number, row in enumerate(it.rows, start=1):
        setup, said = row_setup(it, row, number, kit, entry.bit, job.voice)
        setups.append(setup)
        findings += said
    return DirectMortise(it.name, tuple(setups), tuple(dict.fromkeys(findings)), kit, job.voice, it=it)


def row_setup(
    it: Mortise, row: Row, number: int, kit: Kit, bit: str | None, voice: Voice
) -> tuple[Setup, list[Finding]]:
    """One board as clamped, and what is to be said. number: of the row; bit: a name in the kit; None to choose.

    Raises `Refused` where no bit can, or the path is larger than the machine; InputError for an unknown bit.
    """
    cuts = row.cuts(it.name)
    chosen, findings = _bit_for(cuts[0], kit, bit, voice)
    cutter = Cutter(chosen, choose(chosen, row.board.wood, kit.the_machine, row.depth, voice=voice), kit.the_machine)
    file = f"mortise-{number}" if len(it.rows) > 1 else "mortise"
    if row.face:
        operations = _operations(cuts, cutter, voice)
        hold = ("Clamps outside the path.",)
        setup, far = flat_setup(
            row.board, cutter, operations, row.solid, file=file, joint=it.name, voice=voice, face=row.face, hold=hold
        )
        return setup, [*findings, *far]
    assert row.end, "a row lies in a face or in an end"
    placement = upright_placement(row.board, row.end)
    placed = [
        replace(
            cut,
            solid=Prism(cut.solid.section(0.0).transformed(placement), row.depth),
            centreline=cut.centreline.transformed(placement),
        )
        for cut in cuts
    ]
    least = voice.at_least(row.depth + ABOVE_VISE)
    hold = (f"It stands at least {least} above the vise's jaws; square to the table both ways.",)
    operations = _operations(placed, cutter, voice)
    setup = upright_setup(
        row.board, row.end, cutter, operations, row.solid, file=file, joint=it.name, voice=voice, hold=hold
    )
    return setup, findings


def _operations(cuts: Sequence[Cut], cutter: Cutter, voice: Voice) -> list[Operation]:
    """Each mortise in turn, roughed and finished."""
    made = []
    for number, cut in enumerate(cuts, start=1):
        for each in channel_operations(cut, cutter, voice):
            name = each.name.replace("cut the groove", "cut the mortise")
            made.append(replace(each, name=f"{name}, mortise {number}" if len(cuts) > 1 else name))
    return made


def _bit_for(cut: Cut, kit: Kit, named: str | None, voice: Voice) -> tuple[Bit, list[Finding]]:
    """The bit, narrow enough to have a way down; see `direct_bit`. With a word on how deep each could go."""
    depth, longest = cut.solid.depth, cut.centreline.length
    reach = list(_reaches(cut, kit, voice))
    try:
        if named is None:
            easy = min(cut.narrowest, longest / EASY)
            if any(fault_of(each, kit, easy, depth, voice) is None for each in kit.bits):
                room = "the cut" if easy == cut.narrowest else "what leaves it a ramp in the cut is"
                bit, said = direct_bit(kit, easy, depth, None, cut.joint, voice, room)
                return bit, said
        least = longest - WAY_DOWN
        room = "the cut" if cut.narrowest <= least else "what leaves it a way to go down in the cut is"
        return direct_bit(kit, min(cut.narrowest, least), depth, named, cut.joint, voice, room)
    except Refused as refused:
        raise Refused(refused.what, [*refused.findings, *reach]) from refused


def _reaches(cut: Cut, kit: Kit, voice: Voice) -> Iterator[Finding]:
    """How deep each bit that goes in could cut, the deepest first."""
    says = voice.length
    able = [bit for bit in kit.bits if fault_of(bit, kit, cut.narrowest, 0.0, voice) is None]
    if able:
        deepest = sorted(able, key=lambda bit: (-bit.cutting_length, bit.name))
        told = ", ".join(f"{bit.name} {says(bit.cutting_length)}" for bit in deepest)
        what = f"the mortise is {says(cut.solid.depth)} deep; by their edges the bits that go in reach: {told}"
        yield Finding("note", "mortise-reach", cut.joint, what)
