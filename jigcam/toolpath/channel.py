"""A channel cut into a board that lies flat: a groove or any other cut with upright walls along a centreline."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, bar, offset, rectangle, union
from jigcam.kit import Bit
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import in_turn, operation
from jigcam.toolpath.outline import finish_ring, finishing_note, kept_back, within
from jigcam.toolpath.pocket import CLEAR_OF_STOCK, in_air, pocket
from jigcam.toolpath.program import Operation
from jigcam.toolpath.slot import Air, mouth_runs, slot_run
from jigcam.toolpath.track import Cutter, Run
from jigcam.units import Voice
from jigcam.wood.solid import Cut

ONE_BIT_WIDE = 0.0015
"""mm by which a groove may be wider than the bit and still be cut by passes along its centreline alone: less than a
thousandth is left at each wall, which a mate without clearance does not feel."""
MOST_OVERRUN = 100.0
"""mm beyond which no end is run on, however flat it runs out over the edge."""
ON_EDGE = 1e-6
"""mm; a corner this near to the board's edge lies on the board."""
NEARLY = 1.2
"""mm by which a groove may be wider than the bit and be roughed along its centreline before its walls are finished."""


def channel_operations(cut: Cut, cutter: Cutter, voice: Voice) -> tuple[Operation, ...]:
    """Roughing and finishing of one cut, in the face frame. One that is shorter than wide is cut across."""
    closed = not (cut.open_start or cut.open_finish)
    if closed and len(cut.centreline.segments()) == 1 and cut.centreline.length < cut.width:
        cut = cut.turned()
    region = run_off(cut, cutter.radius)
    levels = even_levels(cut.solid.depth, cutter.feeds.depth_per_pass)
    air = off_the_board(cut, cutter.radius)
    spare = cut.width - cutter.bit.diameter
    open_end = air is not None
    straight = len(cut.centreline.segments()) == 1
    if not straight or spare > NEARLY:
        work = pocket(region, cutter, levels, air=air)
        mouths: list[Run] = []
        if air is not None and straight:
            axis = centre_axis(cut, region, cutter.radius)
            room = 0.5 * spare - work.allowance
            mouths = mouth_runs(axis, cutter, levels, air_lengths(axis, cut, air), air, room)
        rough = in_turn("clear the waste", cutter, [mouths, work.rough], _pocket_note(cut, cutter, levels))
        note = finishing_note(cutter, work.finish, voice, open_end=open_end)
        finish = operation("finish the walls", cutter, work.finish, note)
        return rough, finish
    axis = centre_axis(cut, region, cutter.radius)
    lengths = air_lengths(axis, cut, air)
    run = slot_run(axis, cutter, levels, lengths)
    how = "along the centreline"
    rough = operation(
        "cut the groove" if spare <= ONE_BIT_WIDE else "cut along the centreline",
        cutter,
        [run],
        _note(cut, levels, how),
    )
    if spare <= ONE_BIT_WIDE:
        return (rough,)
    centres = offset(region, -cutter.radius)
    runs = [
        finish_ring(loop, cutter, levels[-1:], within(centres), (0.5 * spare, 0.5 * spare), start=in_air(loop, air))
        for loop in centres.loops
    ]
    note = finishing_note(cutter, runs, voice, open_end=open_end)
    return rough, operation("finish the walls", cutter, runs, note)


def run_off(cut: Cut, radius: float) -> Region:
    """The region to cut, its open ends run on along the centreline until the bit stands clear of the board there."""
    board, region = rectangle(0.0, 0.0, cut.board.length, cut.board.width), cut.solid.section(0.0)
    start, way, stations = _along(cut, region)
    half = 0.5 * cut.width * np.array([[-way[1], way[0]], [way[1], -way[0]]])
    ends = [(stations.min(), -way)] * cut.open_start + [(stations.max(), way)] * cut.open_finish
    for station, outward in ends:
        end = start + station * way
        for overrun in np.arange(0.0, MOST_OVERRUN):
            far = end + overrun * outward
            if (board.signed_distance(far + half) <= -(2.0 * radius + CLEAR_OF_STOCK)).all():
                break
        region = union(region, bar(tuple(end - outward), tuple(far), cut.width))
    return region


def off_the_board(cut: Cut, radius: float) -> Air | None:
    """How far the bit's edge is clear of the board, where an end is open."""
    if not (cut.open_start or cut.open_finish):
        return None
    board = rectangle(0.0, 0.0, cut.board.length, cut.board.width)
    return lambda points: -board.signed_distance(points) - radius


def centre_axis(cut: Cut, region: Region, radius: float) -> Path:
    """The way of the bit's centre along a straight cut: stopped ends half a width within, open ones off the board."""
    start, way, stations = _along(cut, region)
    half = max(radius, 0.5 * cut.width)
    first = stations.min() + radius if cut.open_start else half
    last = stations.max() - radius if cut.open_finish else cut.centreline.length - half
    last = max(last, first + 1e-3)
    return Path.through([start + first * way, start + last * way])


def _along(cut: Cut, region: Region) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Start and direction of a cut's centreline, and how far along it the points of a region lie, mm."""
    start, finish = np.array(cut.centreline.start), np.array(cut.centreline.end)
    way = (finish - start) / np.hypot(*(finish - start))
    return start, way, (np.vstack([loop.points() for loop in region.loops]) - start) @ way


def air_lengths(axis: Path, cut: Cut, air: Air | None) -> tuple[float, float]:
    """How much of each end of the axis the bit spends clear of the board; 0 for stopped ends."""
    if air is None:
        return 0.0, 0.0
    stations = np.linspace(0.0, axis.length, max(64, math.ceil(4.0 * axis.length)))
    clear = air(axis.at(stations)[0]) >= CLEAR_OF_STOCK
    cutting = np.flatnonzero(~clear)
    if not len(cutting):
        return 0.0, 0.0
    return (
        float(stations[cutting[0]]) if cut.open_start else 0.0,
        float(axis.length - stations[cutting[-1]]) if cut.open_finish else 0.0,
    )


def _pocket_note(cut: Cut, cutter: Cutter, levels: Sequence[float]) -> str:
    wanted = cutter.machine.roughing
    if cut.open_start or cut.open_finish:
        return (
            "First cut inward at each open end, so that no pass breaks out its edge; then "
            f"{_counted(levels).lower()}, climb, from the inside out, down in air beside the board."
            f"{kept_back(wanted, True)}"
        )
    return f"{_counted(levels)}, {wanted}, from the inside out; ramped entry."


def _counted(levels: Sequence[float]) -> str:
    return f"{len(levels)} passes" if len(levels) > 1 else "One pass"


def _note(cut: Cut, levels: Sequence[float], how: str) -> str:
    if cut.open_start and cut.open_finish:
        return f"{_counted(levels)}, {how}; in from both ends, so that neither edge breaks out."
    if cut.open_start or cut.open_finish:
        return f"{_counted(levels)}, {how}; in from the open end."
    return f"{_counted(levels)}, {how}; ramped entry."


def corners_left(cut: Cut, bit: Bit, voice: Voice, *, widest: bool = False) -> list[Finding]:
    """A note where corners of the drawing on the board are tighter than the bit. widest: it was chosen as the widest.

    Beyond an open end a corner hangs in the air, and nobody has to cut it.
    """
    board = rectangle(0.0, 0.0, cut.board.length, cut.board.width)
    region = cut.solid.section(0.0)
    drawn = [loop.vertices[:, :2] for loop in region.loops if not np.any(loop.vertices[:, 2])]
    if not any(np.any(board.signed_distance(corners) > -ON_EDGE) for corners in drawn):
        return []
    why = ", the widest that fits, as the chisel comes anyway," if widest else ""
    says = f"{bit.name}{why} leaves corners of {voice.length(bit.radius)} radius for the chisel at square ends."
    return [Finding("note", "corners-left", cut.joint, says)]
