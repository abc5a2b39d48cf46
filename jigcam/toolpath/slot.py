"""A groove one bit wide: passes along its centreline, with the way in by a ramp, or from air at an open end.

The *axis* is the path of the bit's centre, from the stopped end (a bit radius within the groove) or from a point in
air, where the bit is clear of the board.
"""

from __future__ import annotations

from collections.abc import Sequence

from jigcam.geometry import Path
from jigcam.toolpath.entry import zigzag
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track


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
