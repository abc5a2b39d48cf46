"""Round holes: bored by a helix where they are wider than the bit, drilled where they are as wide and it may plunge."""

from __future__ import annotations

import math
from collections.abc import Sequence

from jigcam.findings import Finding
from jigcam.kit import Bit, Want
from jigcam.template.screws import LEAST_ROOM, SAME_SIZE
from jigcam.toolpath.entry import helix
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track, round_limit
from jigcam.units import Voice

PECK = 1.0
"""Depth drilled before the bit is drawn out to clear the chips, in diameters (common practice, no source)."""
PECK_STEP = {"mm": 0.01, "in": 0.0254}
"""mm; a peck is a whole number of these, so that no rounding of the text comes between the planned depths."""
BACK_OFF = 0.254
"""mm above the last depth, to which the bit comes back at rapid rate, as in G83: from memory of the interpreter's
source."""
SKIN = 0.15
"""mm left at the wall of a bored hole for the last round at full depth, where there is room."""


def can_make(bit: Bit, diameter: float, depth: float) -> str:
    """Why a bit cannot make a round hole; empty if it can."""
    lacks = Want("upright_walls", edges=depth).lacks(bit)
    if "ability" in lacks:
        return f"it is a {bit.kind} bit"
    if "edges" in lacks:
        return "its cutting length is less than the depth"
    room = diameter - bit.diameter
    if abs(room) <= SAME_SIZE:
        return "" if bit.plunges else "it is as wide as the hole and does not cut at its centre"
    if room < 0.0:
        return "it is wider than the hole"
    if room < LEAST_ROOM * bit.diameter:
        return "" if bit.plunges and room <= SAME_SIZE else "it is nearly as wide as the hole: no room for a helix"
    return "it leaves a post in the middle" if room > bit.diameter else ""


def drills(bit: Bit, diameter: float) -> bool:
    """Whether a bit that can make a hole drills it, straight down, as it is as wide."""
    return diameter - bit.diameter <= SAME_SIZE


def hole_run(x: float, y: float, diameter: float, cutter: Cutter, bottom: float) -> Run:
    """One hole down to z = bottom: see `can_make` for what a bit can do.

    A helix goes down and once round on the bottom, anticlockwise where the machine is to climb; drilling goes down in
    one or in pecks.
    """
    if drills(cutter.bit, diameter):
        return _drilled(x, y, cutter, bottom)
    room = 0.5 * (diameter - cutter.bit.diameter)
    skin = SKIN if room > 4.0 * SKIN else 0.0
    track = Track(cutter, x + room - skin, y)
    track.sink(AIR_GAP)
    machine = cutter.machine
    climb = machine.finishing == "climb"
    _bored(track, x, y, room - skin, bottom, machine.roughing == "climb" if skin else climb)
    if skin:
        track.line(x + room, y, bottom, bore_feed(cutter, room))
        helix_round(track, x, y, room, bottom, climb)
    track.line(x + 0.5 * room, y, bottom, cutter.feeds.feed)
    return track.finished()


def bore_feed(cutter: Cutter, radius: float) -> float:
    """The feed (mm/min) of the bit's centre on a circle of that radius: with it the edge goes along the hole's wall at
    the feed of any cut, and so takes its chip, or at less where the machine could not follow."""
    at_the_wall = cutter.feeds.feed * radius / (radius + cutter.radius)
    return min(at_the_wall, round_limit(cutter.machine, radius))


def _bored(track: Track, x: float, y: float, radius: float, bottom: float, ccw: bool) -> None:
    helix(track, (x, y), radius, bottom, ccw=ccw, feed=bore_feed(track.cutter, radius))
    helix_round(track, x, y, radius, bottom, ccw)


def helix_round(track: Track, x: float, y: float, radius: float, z: float, ccw: bool) -> None:
    """Once round (x, y), anticlockwise or not, from the present point, level, in two half turns."""
    px, py = track.point
    feed, half = bore_feed(track.cutter, radius), math.pi * radius
    track.arc(2.0 * x - px, 2.0 * y - py, z, x, y, ccw, feed, half)
    track.arc(px, py, z, x, y, ccw, feed, half)


def _drilled(x: float, y: float, cutter: Cutter, bottom: float) -> Run:
    """Down in one, or in pecks from the approach height, drawn out to it after each to clear the chips.

    The moves are those of the cycles G81 and G83 (NISTIR 6556 section 3.5.16), so that they may be written as such.
    """
    track = Track(cutter, x, y)
    top, most = cutter.approach, PECK * cutter.bit.diameter
    if -bottom > most:
        peck = _peck(top - bottom, most, PECK_STEP[cutter.machine.output_units])
        floor = top - peck
        while floor > bottom:
            track.line(x, y, floor, cutter.feeds.plunge)
            track.lift(top)
            track.drop(min(floor + BACK_OFF, top))
            floor -= peck
    track.line(x, y, bottom, cutter.feeds.plunge)
    return track.finished()


def _peck(way: float, most: float, step: float) -> float:
    """The largest peck of whole steps, at most `most`, of which the last is a smaller one but no less than half.

    Were the last as large, rounding would decide whether another follows it.
    """
    pecks = (number * step for number in range(int(most / step + 1e-9), 0, -1))
    return next((peck for peck in pecks if 0.5 * peck <= way % peck < peck - 0.5 * step), most)


def not_made(places: Sequence[tuple[float, float]], diameter: float, why: str, where: str, voice: Voice) -> Finding:
    """The caution for holes that no bit can make. voice: to speak in."""
    holes = f"the {len(places)} holes" if len(places) > 1 else "the hole"
    says = f"The template's cutter does not make {holes} of {voice.length(diameter)} ({why}): drill by hand."
    return Finding("caution", "hole-by-hand", where, says)
