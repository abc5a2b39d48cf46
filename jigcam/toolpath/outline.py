"""Outlines: a closed path cut in passes or in one, with arcs in and out and tabs that hold the piece.

The path given is that of the bit's centre, run so that its cutter lies left of the wall (climb): anticlockwise within
an opening, clockwise round a piece. *Waste* is the side away from the wall, left of the way. Where the machine wants
conventional milling, the path is run the other way.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Path, Region
from jigcam.kit.machine import Direction
from jigcam.toolpath.direction import field_in_mirror, loop_in_mirror, mirrored
from jigcam.toolpath.entry import ramp_length
from jigcam.toolpath.feeds import MOST_THINNING, thinning
from jigcam.toolpath.humps import Hump, Profile, raised
from jigcam.toolpath.loops import calm_station, calm_stations, heading, place, round_from, unrolled
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track
from jigcam.units import Voice

OVERLAP = 1.0
"""mm that a finishing pass goes on past its start."""
LEAD_RADII = (1.0, 0.5, 0.25)
"""Radii of a quarter circle in and out, in bit radii, tried in turn."""
FLAT_RADII = (4.0, 2.0, 1.0)
"""The same of an arc that only crosses the allowance."""
TRIED = 40
"""Places at which arcs in and out are tried before the ring is ramped into instead."""
SHORTEST = 1e-3
"""mm; pieces of a profile shorter than this are joined to the next."""
LEAD_SLACK = 2e-4
"""mm by which an arc in or out may come nearer to the wall than the path, which is what rounding makes of it."""

Depth = Callable[[npt.NDArray[np.float64]], npt.NDArray[np.float64]]
"""From points (k, 2) to how far each lies on the waste side of the path, mm, negative beyond the wall."""


def within(centres: Region) -> Depth:
    """The waste side of the outlines of a region that the bit's centre may be in."""
    return centres.signed_distance


def around(centres: Region) -> Depth:
    """The waste side of the outlines of a region that the bit's centre has to stay out of."""
    return lambda points: -centres.signed_distance(points)


def rough_ring(loop: Path, cutter: Cutter, levels: Sequence[float], humps: Sequence[Hump] = ()) -> Run:
    """One run round the loop in passes, each ramped down along the way of the last, without lifting between them.

    In the direction in which the machine is to rough.
    """
    if cutter.machine.roughing == "climb":
        return _ramped(loop, cutter, levels, humps)
    return mirrored(_ramped(loop_in_mirror(loop), cutter, levels, _in_mirror(humps, loop)))


def _ramped(loop: Path, cutter: Cutter, levels: Sequence[float], humps: Sequence[Hump]) -> Run:
    """The same, climbing."""
    s = calm_station(loop, [hump.stretch for hump in humps])
    track = Track(cutter, *place(loop, s))
    track.sink(AIR_GAP)
    for level in levels:
        ramp = ramp_length(track, level)
        length = loop.length + ramp
        if level == levels[-1]:
            # Where the ramp ended on the way down behind a tab, it left wood on that way.
            length += _still_down(loop, s + length, level, humps)
        profile = [(0.0, track.z), (ramp, level), (length, level)][ramp <= 0.0 :]
        _follow(track, loop, s, profile, humps, cutter.feeds.feed)
        s += ramp
    return track.finished()


def _still_down(loop: Path, s: float, level: float, humps: Sequence[Hump]) -> float:
    """How much further a run that would end at station s has to go to be down from every tab, mm.

    Where the bit comes down on a ramp, that is; the flank of a hump it has cut when it passed the first time.
    """
    beyond = 0.0
    for _ in humps:
        for hump in humps:
            first, last = hump.stretch
            on = (s + beyond - first) % loop.length
            if hump.ramp is not None and hump.top > level and SHORTEST < on < last - first:
                beyond += last - first - on
    return beyond


def finish_ring(
    loop: Path,
    cutter: Cutter,
    levels: Sequence[float],
    waste: Depth,
    cleared: tuple[float, float],
    humps: Sequence[Hump] = (),
    start: float | None = None,
) -> Run:
    """One run round the loop at each level, from ground that was cut before, in and out along arcs where there is room.

    cleared: from which to which distance (mm) on the waste side the bit's centre has been, down to the last level.
    The feed makes up for the thin chips that the first of them gives. start: a station where the bit stands in air, so
    that no arc is needed; the run then climbs whatever the machine wants, as conventional milling would break out the
    edge by which it leaves.
    """
    if start is not None or cutter.machine.finishing == "climb":
        return _finished(loop, cutter, levels, waste, cleared, humps, start)
    there, over = loop_in_mirror(loop), _in_mirror(humps, loop)
    return mirrored(_finished(there, cutter, levels, field_in_mirror(waste), cleared, over, None))


def _finished(
    loop: Path,
    cutter: Cutter,
    levels: Sequence[float],
    waste: Depth,
    cleared: tuple[float, float],
    humps: Sequence[Hump],
    start: float | None,
) -> Run:
    """The same, climbing."""
    feed = finishing_feed(cutter, cleared[0])
    if cleared[0] <= 0.0:
        start = calm_station(loop) if start is None else start
    if start is not None:
        return _at_once(loop, cutter, levels, start, feed)
    stations = calm_stations(loop, [hump.stretch for hump in humps])
    for s in stations[:TRIED]:
        way_in = _lead(loop, s, cutter.radius, waste, cleared, 1.0)
        way_out = _lead(loop, s + OVERLAP, cutter.radius, waste, cleared, -1.0)
        if way_in is not None and way_out is not None:
            break
    else:
        return _ramped(loop, cutter, levels, humps)
    track = Track(cutter, *way_in.start)
    for number, level in enumerate(levels):
        if number:
            track.hop(*way_in.start)
        track.sink(level)
        track.follow(way_in, feed)
        length = loop.length + OVERLAP
        _follow(track, loop, s, [(0.0, level), (length, level)], humps, feed)
        track.follow(way_out, feed)
    return track.finished()


def _in_mirror(humps: Sequence[Hump], loop: Path) -> list[Hump]:
    """The humps at their stations of the loop in the mirror."""
    return [replace(hump, start=loop.length - hump.end, end=loop.length - hump.start) for hump in humps]


def finishing_feed(cutter: Cutter, engagement: float) -> float:
    """The feed (mm/min) that keeps the chips of a full cut where the bit takes only `engagement` mm off a wall."""
    if engagement <= 0.0:
        return cutter.feeds.feed
    factor = min(MOST_THINNING, thinning(engagement, cutter.bit.diameter))
    return min(factor * cutter.feeds.feed, *cutter.machine.max_feed[:2])


def finishing_note(cutter: Cutter, runs: Sequence[Run], voice: Voice, *, open_end: bool = False) -> str:
    """What a machinist wants to know of a finishing pass. open_end: whether it leaves the board, and so climbs."""
    feed = max((feed for run in runs for feed in _feeds_along(run)), default=0.0)
    faster = f", at {voice.feed(feed)} for its thin chips" if feed > 1.02 * cutter.feeds.feed else ""
    direction = "climb" if open_end else cutter.machine.finishing
    return f"One pass of the full depth, {direction}{faster}.{kept_back(cutter.machine.finishing, open_end)}"


def _feeds_along(run: Run) -> Iterator[float]:
    """The feeds of the moves that go along, and not straight down."""
    for before, move in pairwise(run.moves):
        if move.kind != "rapid" and before.point[:2] != move.point[:2]:
            yield move.feed


def kept_back(wanted: Direction, open_end: bool) -> str:
    """Why a pass climbs where the machine wants it otherwise, as a sentence to add; empty where it does not."""
    if wanted == "climb" or not open_end:
        return ""
    return " Climb at an open end, though the kit says conventional: that would break out the edge."


def _at_once(loop: Path, cutter: Cutter, levels: Sequence[float], start: float, feed: float) -> Run:
    """From a station where nothing stands in the way."""
    track = Track(cutter, *place(loop, start))
    for level in levels:
        track.sink(level)
        track.follow(round_from(loop, start), feed)
    return track.finished()


def _follow(track: Track, loop: Path, s: float, profile: Profile, humps: Sequence[Hump], feed: float) -> None:
    """Along the loop from station s, at the heights of a profile (from its first one on) and over the humps.

    On the flanks of a hump the bit goes up and down no faster than it may plunge.
    """
    total, plunge = loop.length, track.cutter.feeds.plunge
    heights = raised(profile, humps, s % total, total)
    at = heights[0][0]
    for there, z in heights[1:]:
        if abs(there - at) > SHORTEST:
            rise, run = abs(z - track.z), abs(there - at)
            way = unrolled(loop, s + min(at, there), run)
            slowed = min(feed, plunge * math.hypot(rise, run) / rise) if rise > 0.0 else feed
            track.follow(way if there > at else way.reversed(), slowed, z)
            at = there


def _lead(loop: Path, s: float, radius: float, waste: Depth, cleared: tuple[float, float], sense: float) -> Path | None:
    """An arc that meets the loop at station s along its direction: into it for sense 1, out of it for −1.

    It bends from the waste side. A quarter circle where its far end lies in cleared ground, else a flat arc that
    starts at the nearest cleared ground; None where neither keeps clear of the wall.
    """
    nearest, furthest = cleared
    if nearest <= 0.0:
        return None
    p = complex(*place(loop, s))
    to_centre = 1j * complex(*heading(loop, s))

    def arc(size: float, turn: float) -> tuple[complex, Path]:
        centre = p + to_centre * size
        far = centre + (p - centre) * cmath.exp(-1j * sense * turn)
        ends = [far, p] if sense > 0.0 else [p, far]
        bulge = math.tan(0.25 * turn)
        return far, Path(np.array([(ends[0].real, ends[0].imag, bulge), (ends[1].real, ends[1].imag, 0.0)]))

    def depth(at: complex) -> float:
        return float(waste(np.array([(at.real, at.imag)]))[0])

    for share in LEAD_RADII:
        size = share * radius
        far, path = arc(size, 0.5 * math.pi)
        if nearest <= depth(far) <= furthest and _keeps_clear(path, waste):
            return path
    for share in FLAT_RADII:
        size = share * radius
        low, high = 0.0, 0.5 * math.pi
        if depth(arc(size, high)[0]) < nearest:
            continue
        for _ in range(40):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if depth(arc(size, middle)[0]) < nearest else (low, middle)
        far, path = arc(size, high)
        if _keeps_clear(path, waste):
            return path
    return None


def _keeps_clear(path: Path, waste: Depth) -> bool:
    """Whether an arc lies on the waste side all along."""
    points, _ = path.at(np.linspace(0.0, path.length, 33))
    return bool((waste(points) >= -LEAD_SLACK).all())
