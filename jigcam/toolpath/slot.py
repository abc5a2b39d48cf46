"""A groove one bit wide: passes along its centreline, with the way in by a ramp, or from air at an open end; and the
cuts inward that open the ends of a wider one before it is cleared.

The *axis* is the path of the bit's centre, from the stopped end (a bit radius within the groove) or from a point in
air, where the bit is clear of the board.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from jigcam.geometry import Path, translation
from jigcam.toolpath.entry import zigzag
from jigcam.toolpath.loops import heading
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track

Air = Callable[[np.ndarray], np.ndarray]
"""From points (k, 2) to how far the bit's edge is clear of the stock there, mm, negative over it."""
LANE = 0.95
"""From lane to lane at a mouth, in diameters."""
FINE = 0.5
"""mm between the places at which a way is looked at."""


def slot_run(axis: Path, cutter: Cutter, levels: Sequence[float], air: tuple[float, float] = (0.0, 0.0)) -> Run:
    """One run that cuts the axis at each level (z, mm, descending).

    air: for each end, how much of the axis lies off the board; 0 for a stopped end. Where both ends are open, no pass
    leaves the board through uncut wood: it stops short, and the rest is cut inward from the other side.
    """
    if air[0] > 0.0 and air[1] > 0.0:
        return _from_both_ends(axis, cutter, levels, air)
    if air[0] > 0.0 or air[1] > 0.0:
        return _from_the_open_end(axis if air[0] > 0.0 else axis.reversed(), cutter, levels)
    return _to_and_fro(axis, cutter, levels)


def _to_and_fro(axis: Path, cutter: Cutter, levels: Sequence[float]) -> Run:
    """Stopped at both ends: ramp down at one end, cut to the other, ramp down there, and back."""
    track = Track(cutter, *axis.start)
    floor = 0.0
    for level in levels:
        track.sink(floor + AIR_GAP)
        zigzag(track, axis, level)
        track.follow(axis, cutter.feeds.feed)
        axis, floor = axis.reversed(), level
    return track.finished()


def _from_the_open_end(axis: Path, cutter: Cutter, levels: Sequence[float]) -> Run:
    """Down in air outside the board, in to the stopped end, and round again above the stock."""
    track = Track(cutter, *axis.start)
    for number, level in enumerate(levels):
        if number:
            track.hop(*axis.start)
        track.sink(level)
        track.follow(axis, cutter.feeds.feed)
    return track.finished()


def _from_both_ends(axis: Path, cutter: Cutter, levels: Sequence[float], air: tuple[float, float]) -> Run:
    """In from one end to just before the other, then the rest inward from there, and out again the same way."""
    track = Track(cutter, *axis.start)
    for level in levels:
        track.sink(level)
        rest = min(air[1] + 2.0 * cutter.bit.diameter, 0.5 * axis.length)
        split = axis.length - rest
        track.follow(axis.substring(0.0, split), cutter.feeds.feed)
        track.hop(*axis.end)
        track.sink(level)
        inward = axis.substring(split, axis.length).reversed()
        track.follow(inward, cutter.feeds.feed)
        track.follow(inward.reversed(), cutter.feeds.feed)
        axis, air = axis.reversed(), (air[1], air[0])
    return track.finished()


def mouth_runs(
    axis: Path, cutter: Cutter, levels: Sequence[float], air: tuple[float, float], clear: Air, room: float
) -> list[Run]:
    """Opens a wider groove at its open ends by lanes side by side, each cut inward and left by the way it came.

    A pass that leaves the board in its full width pushes what is left of its way outward, and breaks out the edge; what
    clears the groove later leaves the board through these mouths. They go in until all of the bit's front is half a
    radius past the edge. air: as for `slot_run`. clear: how far the bit's edge is clear of the board. room: from the
    axis to the outer lanes, mm; where the axis is in air, so are the starts of the lanes.
    """
    count = 1 + math.ceil(2.0 * room / (LANE * cutter.bit.diameter))
    fast = min(cutter.machine.max_feed[:2])
    runs = []
    for way, free in ((axis, air[0]), (axis.reversed(), air[1])):
        if free <= 0.0:
            continue
        dx, dy = heading(way, 0.0)
        lanes = [way.transformed(translation(-t * dy, t * dx)) for t in np.linspace(-room, room, count).tolist()]
        lanes = [lane.substring(0.0, _past_the_edge(lane, cutter.radius, clear)) for lane in lanes]
        track = Track(cutter, *lanes[0].start)
        for level in levels:
            track.sink(level)
            for lane in lanes:
                track.line(*lane.start, level, fast)
                track.follow(lane, cutter.feeds.feed)
                track.follow(lane.reversed(), cutter.feeds.feed)
            lanes.reverse()
        runs.append(track.finished())
    return runs


def _past_the_edge(way: Path, radius: float, clear: Air) -> float:
    """The station from which both sides of the bit's front are half a radius within the board; at most its length."""
    stations = np.linspace(0.0, way.length, max(2, math.ceil(way.length / FINE)))
    places, along = way.at(stations)
    across = radius * np.column_stack([-along[:, 1], along[:, 0]])
    within = (clear(places + across) <= -1.5 * radius) & (clear(places - across) <= -1.5 * radius)
    return float(stations[np.argmax(within)]) if within.any() else way.length
