"""Ways down into the stock for bits that should not go straight: ramps round a loop, to and fro on a line, helices.

Each starts with the bit a little above a surface (the stock, or the floor of the last pass) and ends on the new floor
at z = bottom, mm. The slope is the ramp angle of the cutter's feeds.
"""

from __future__ import annotations

import math

import numpy as np

from jigcam.geometry import Path
from jigcam.toolpath.loops import unrolled
from jigcam.toolpath.track import Track, round_limit

MOST_ROUNDS = 40
"""A ramp that goes round a loop more often than this wants a longer loop."""


def ramp_length(track: Track, bottom: float) -> float:
    """How far a ramp goes from the present height to the bottom, seen from above, mm."""
    return max(0.0, track.z - bottom) / math.tan(track.cutter.feeds.ramp_angle)


def fits_ramp(track: Track, loop: Path, bottom: float) -> bool:
    """Whether a loop is long enough to go down on."""
    return ramp_length(track, bottom) <= MOST_ROUNDS * loop.length


def ramp_round(track: Track, loop: Path, s0: float, bottom: float) -> float:
    """Down along a closed path from station s0; gives the station where it reaches the bottom."""
    length = ramp_length(track, bottom)
    if length <= 0.0:
        return s0
    track.follow(unrolled(loop, s0, length), track.cutter.feeds.feed, bottom)
    return s0 + length


def zigzag(track: Track, path: Path, bottom: float) -> None:
    """Down along the first part of an open path and back, as often as the slope asks for; ends at its start."""
    half = 0.5 * ramp_length(track, bottom)
    if half <= 0.0:
        return
    reach = min(half, path.length)
    legs = 2 * math.ceil(half / reach - 1e-9)
    there = path if reach == path.length else path.substring(0.0, reach)
    back = there.reversed()
    heights = np.linspace(track.z, bottom, legs + 1)[1:]
    for number, height in enumerate(heights.tolist()):
        track.follow(back if number % 2 else there, track.cutter.feeds.feed, height)


def helix(
    track: Track,
    centre: tuple[float, float],
    radius: float,
    bottom: float,
    *,
    ccw: bool = True,
    feed: float | None = None,
) -> None:
    """Down, anticlockwise or not, on a circle through the present point, in half turns, at most half a pass a turn.

    feed: of the bit's centre, mm/min; None: as in any cut, or what the machine can follow on so small a circle.
    """
    drop = track.z - bottom
    if drop <= 0.0:
        return
    feeds = track.cutter.feeds
    along = min(feeds.feed, round_limit(track.cutter.machine, radius)) if feed is None else feed
    # A bit that may plunge goes down on a circle as steeply as its plunging feed allows.
    slope = math.asin(feeds.plunge / feeds.feed) if track.cutter.bit.plunges else feeds.ramp_angle
    a_turn = min(2.0 * math.pi * radius * math.tan(slope), 0.5 * feeds.depth_per_pass)
    halves = 2 * math.ceil(drop / a_turn - 1e-9)
    (cx, cy), (x, y), z0 = centre, track.point, track.z
    for number in range(1, halves + 1):
        px, py = (x, y) if number % 2 == 0 else (2.0 * cx - x, 2.0 * cy - y)
        track.arc(px, py, z0 - drop * number / halves, cx, cy, ccw, along, math.pi * radius)
