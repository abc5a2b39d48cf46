"""The proof of a file: read its text, cut the drawing virtually, and judge what comes out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

import numpy as np

from jigcam.findings import Finding, by_gravity
from jigcam.gcode import RAPID, Reading, read
from jigcam.geometry import Region, union
from jigcam.kit import Bit, Machine
from jigcam.proof import halts, load, loose, safety, told
from jigcam.proof import tools as carried
from jigcam.proof.areas import Areas
from jigcam.proof.changes import changed_by_hand, doubted
from jigcam.proof.compare import Comparison, compare
from jigcam.proof.envelope import Envelope
from jigcam.proof.gouge import bites
from jigcam.proof.ground import Ground
from jigcam.proof.milled import milled
from jigcam.proof.outline import Outline
from jigcam.proof.passing import passing, turned_away
from jigcam.proof.removal import removal
from jigcam.proof.report import Corner, Place, Proof
from jigcam.proof.safety import CLEAR, REPEAT
from jigcam.proof.sweeps import Work
from jigcam.proof.target import INSIDE, Target
from jigcam.proof.tools import Tools, bit_of
from jigcam.proof.travel import Travel, travel_of
from jigcam.proof.wording import Wording
from jigcam.tolerances import TOLERANCES
from jigcam.units import Unit

STEEP = np.tan(np.radians(10.0))
"""Descents steeper than this are plunges: twice the ramps of common practice, 3 to 5 degrees."""

Progress = Callable[[str, float], None]
"""Called with the name of a step and the share of the whole that is done, 0 to 1."""


def prove(
    text: str,
    target: Target,
    machine: Machine,
    tools: Tools,
    *,
    units: Unit = "mm",
    progress: Progress | None = None,
) -> Proof:
    """Judges G-code text against a drawing.

    tools: the bits by tool number (0: the one in the spindle at the start), or the only bit. units: of the job, in
    which findings speak. Faults of the text come back as findings of level `stop`; nothing is raised for what it says.
    Lines that block delete (/) can switch off are judged both ways: the file is as good as the worse of its readings.
    """
    tell = progress or (lambda step, share: None)
    tell("reading", 0.0)
    return prove_reading(read(text), target, machine, tools, units=units, progress=tell)


def prove_reading(
    reading: Reading,
    target: Target,
    machine: Machine,
    tools: Tools,
    *,
    units: Unit = "mm",
    progress: Progress | None = None,
) -> Proof:
    """The same for a text already read."""
    tell = progress or (lambda step, share: None)
    proof = _proved(reading, target, machine, tools, Wording(units), tell)
    if reading.deleted is None:
        return proof
    return _worse(proof, _proved(reading.deleted, target, machine, tools, Wording(units), tell))


def _worse(off: Proof, on: Proof) -> Proof:
    """The worse of two readings of a text. on: with block delete, whose findings say so where they are others."""
    others = [replace(each, where=f"block delete on, {each.where}") for each in on.findings if each not in off.findings]
    return replace(
        off,
        gouge_mm=max(off.gouge_mm, on.gouge_mm),
        left_mm=max(off.left_mm, on.left_mm),
        findings=tuple(by_gravity([*off.findings, *others])),
    )


def _proved(
    reading: Reading, target: Target, machine: Machine, tools: Tools, wording: Wording, tell: Progress
) -> Proof:
    """The verdict on one reading of a text."""
    reading = doubted(changed_by_hand(reading, machine), machine)
    motions = reading.motions
    tell("motions", 0.3)
    travel = travel_of(motions)
    works = works_of(motions, travel, tools, machine)
    findings = safety.findings_of(reading, target, machine, works, wording)
    findings += halts.findings_of(reading, machine, wording)
    findings += carried.findings_of(reading, target, machine, tools)
    findings += told.findings_of(reading, target, machine, tools, wording)
    tell("comparison with the drawing", 0.4)
    comparison = compare(target, works, len(motions))
    findings += _compared(comparison, motions, works, wording)
    tell("order of the motions", 0.8)
    findings += _kept_out(motions, target, works, wording)
    findings += _in_order(motions, target, works, wording)
    tell("loads and loose pieces", 0.9)
    taken = removal(target, works, len(motions))
    loads = load.loads_of(taken, motions, works, machine)
    findings += load.findings_of(loads, machine, works, wording)
    findings += loose.findings_of(taken, target, motions, wording)
    areas = Areas(target, list(works.values()), taken)
    tell("done", 1.0)
    return Proof(
        gouge_mm=max(0.0, comparison.gouge),
        left_mm=comparison.left,
        left_for_chisel=tuple(Corner(p.x, p.y, p.z, p.size) for p in comparison.chisel),
        findings=tuple(by_gravity(findings)),
        layers=tuple(areas.measured(layer) for layer in comparison.layers),
        loads=loads.as_dict(),
        motions=len(motions),
        gouges=tuple(comparison.gouges[:REPEAT]),
        lefts=tuple(comparison.lefts),
    )


def milled_region(reading: Reading, machine: Machine, tools: Tools, z: float, *, wall: Region | None = None) -> Region:
    """What the straight bits of a file clear at height z. wall: where its outline is wanted, which saves time."""
    motions = changed_by_hand(reading, machine).motions
    works = works_of(motions, travel_of(motions), tools, machine)
    return union(*(milled(work, z, wall) for work in works.values()))


def works_of(motions: np.ndarray, travel: Travel, tools: Tools, machine: Machine) -> dict[int, Work]:
    """What each bit of a text does, by its tool number; tools that are not known are left out."""
    cuts = safety.cutting(motions)[travel.motion]
    number = motions["tool"][travel.motion]
    works = {}
    for tool in np.unique(number):
        bit = bit_of(tools, int(tool))
        if bit is not None:
            rows = np.flatnonzero(number == tool)
            works[int(tool)] = Work(Envelope(bit, _nut(machine, bit)), travel.take(rows), cuts[rows])
    return works


def _nut(machine: Machine, bit: Bit) -> tuple[float, float] | None:
    """Diameter of the collet nut and its height above the tip: the shank is held at least over the nut's length."""
    if machine.nut is None:
        return None
    return machine.nut.diameter, max(bit.overall_length - machine.nut.length, bit.cutting_length)


def _compared(
    comparison: Comparison, motions: np.ndarray, works: Mapping[int, Work], wording: Wording
) -> Iterator[Finding]:
    for bite in comparison.gouges[:REPEAT]:
        yield Finding(
            "stop",
            "gouge",
            wording.place(int(motions["line"][bite.motion]), (bite.x, bite.y, bite.z)),
            f"cuts {wording.length(bite.size)} into wood that has to stay",
        )
    if len(comparison.gouges) > REPEAT:
        more = len(comparison.gouges) - REPEAT
        some = "1 more motion cuts" if more == 1 else f"{more} more motions cut"
        yield Finding("stop", "gouge", "the file", f"{some} wood that has to stay")
    for left in comparison.lefts:
        where, nearest = _passed_by(left, motions, works, wording)
        yield Finding("stop", "left", where, f"{wording.length(left.size)} of wood is left that had to go{nearest}")
    for corner in comparison.chisel:
        yield Finding(
            "note",
            "for-the-chisel",
            wording.spot((corner.x, corner.y, corner.z)),
            f"a corner out of reach of the bit: {wording.length(corner.size, 2)} stands there for the chisel",
        )
    for mark in comparison.marks:
        where, nearest = _passed_by(mark, motions, works, wording)
        says = f"a mark is not engraved as drawn: {wording.length(mark.size, 2)} off the path{nearest}"
        yield Finding("stop", "mark-missing", where, says)


def _passed_by(spot: Place, motions: np.ndarray, works: Mapping[int, Work], wording: Wording) -> tuple[str, str]:
    """Where something was not cut: the line and place to look at, and in words why that line."""
    point = np.array([spot.x, spot.y, spot.z])
    for numbers, says in (
        (turned_away(works, *point), "would cut it if it turned the other way"),
        (passing(works, *point), "passes nearest to it"),
    ):
        if numbers:
            line = int(motions["line"][numbers[-1]])
            return wording.place(line, point), f"; line {line} {says}"
    return wording.spot(point), "; no cut goes near it"


def _kept_out(motions: np.ndarray, target: Target, works: Mapping[int, Work], wording: Wording) -> Iterator[Finding]:
    for keep_out in target.keep_outs:
        outline = Outline(keep_out.region)
        for work in works.values():
            low = work.travel.below(keep_out.height)
            radius = work.envelope.widest_up_to(keep_out.height - low.lowest)
            bite = bites(outline, low.strokes, radius)
            for row in np.flatnonzero(bite.depth > TOLERANCES.gouge)[:REPEAT]:
                yield Finding(
                    "stop",
                    "keep-out",
                    wording.place(int(motions["line"][low.motion[row]]), [*bite.place[row], low.lowest[row]]),
                    f"the tool enters a place to keep clear of: {keep_out.name}",
                )


def _in_order(motions: np.ndarray, target: Target, works: Mapping[int, Work], wording: Wording) -> Iterator[Finding]:
    """What depends on what was cut before: rapids, plunges, shanks."""
    ground = Ground(target, works)
    for tool, work in works.items():
        travel = work.travel
        rapid = motions["kind"][travel.motion] == RAPID
        across = rapid & (travel.strokes.length > INSIDE)
        low = np.flatnonzero(rapid & (travel.lowest < -INSIDE))
        for meeting in ground.meetings(tool, low, REPEAT):
            line = int(motions["line"][travel.motion[meeting.stroke]])
            yield Finding(
                "stop",
                "rapid-in-wood",
                wording.place(line, [meeting.x, meeting.y, meeting.z]),
                "a rapid through wood that still stands",
            )
        skimming = np.flatnonzero(across & (travel.lowest >= -INSIDE) & (travel.lowest < CLEAR - INSIDE))
        for row in ground.skims(tool, skimming, REPEAT):
            line = int(motions["line"][travel.motion[row]])
            where = wording.place(line, [*travel.strokes.b[row], travel.lowest[row]])
            yield Finding(
                "stop", "rapid-low", where, f"a rapid across less than {wording.length(CLEAR, 1)} above the stock"
            )
        for meeting in ground.shank_meetings(tool, REPEAT):
            line = int(motions["line"][travel.motion[meeting.stroke]])
            deep = -float(travel.lowest[meeting.stroke])
            says = (
                f"{wording.length(deep, 2)} deep with "
                f"{wording.length(work.envelope.bit.cutting_length, 2)} of cutting edge: "
                "the shank or the nut meets wood"
            )
            yield Finding("stop", "shank-in-wood", wording.place(line, [meeting.x, meeting.y, meeting.z]), says)
        if not work.envelope.bit.plunges:
            fall = travel.z0 - travel.z1
            steep = ~rapid & (fall > STEEP * travel.strokes.length) & (fall > 0.0) & (travel.lowest < -INSIDE)
            for meeting in ground.meetings(tool, np.flatnonzero(steep), REPEAT):
                line = int(motions["line"][travel.motion[meeting.stroke]])
                yield Finding(
                    "stop",
                    "plunge",
                    wording.place(line, [meeting.x, meeting.y, meeting.z]),
                    f"the bit {work.envelope.bit.name} cannot go straight down into wood",
                )
