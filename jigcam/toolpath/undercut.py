"""Undercut passes: for a bit that is wider at its tip than above, as a dovetail bit is.

Such a bit cuts its full depth at once, comes in from air beside the board, never rises while it is under wood, and
leaves into air: through an open end opposite, or by the way it came. A straight bit has cleared the way before it.
"""

from __future__ import annotations

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.geometry import Path, Region
from jigcam.toolpath.loops import place, round_from
from jigcam.toolpath.pocket import CLEAR_OF_STOCK, Air, in_air
from jigcam.toolpath.rings import rings
from jigcam.toolpath.track import Cutter, Run, Track

STEP = 0.8
"""Step from pass to pass in diameters of the tip (common practice, no source)."""


def undercut_runs(bottom: Region, cutter: Cutter, depth: float, air: Air, where: str) -> list[Run]:
    """The passes that cut an undercut socket, inner ones first, the walls last.

    bottom: the region at the full depth (mm), run on beyond every open end until the bit is clear of the board there.
    air: how far the bit's edge at its widest is clear of the board. Closed passes run anticlockwise: climb on both
    walls. Raises `Refused` with the finding `undercut-closed` where a pass does not reach air.
    """
    runs = []
    for tree in rings(bottom, cutter.radius, step=STEP * cutter.bit.diameter):
        for node in tree.walk():
            for path in (*node.extras, *node.paths):
                runs.append(_pass(path, cutter, -depth, air, where))
    return runs


def straight_pass(axis: Path, cutter: Cutter, depth: float, air: tuple[bool, bool], *, back: bool) -> Run:
    """One pass along an axis whose ends lie in air as `air` says; the first does, or the axis is turned round.

    back: leave by the way it came even where the other end is open too, so that the far edge does not break out.
    """
    if not air[0]:
        axis, air = axis.reversed(), (air[1], air[0])
    track = Track(cutter, *axis.start)
    track.sink(-depth)
    track.follow(axis, cutter.feeds.feed)
    if back or not air[1]:
        track.follow(axis.reversed(), cutter.feeds.feed)
    return track.finished()


def _pass(path: Path, cutter: Cutter, z: float, air: Air, where: str) -> Run:
    if not path.closed:
        ends = air(np.array([path.start, path.end])) >= CLEAR_OF_STOCK
        if ends.any():
            return straight_pass(path, cutter, -z, (bool(ends[0]), bool(ends[1])), back=False)
        raise _closed(where)
    s = in_air(path, air)
    if s is None:
        raise _closed(where)
    track = Track(cutter, *place(path, s))
    track.sink(z)
    track.follow(round_from(path, s), cutter.feeds.feed)
    return track.finished()


def _closed(where: str) -> Refused:
    says = "A bit that is wider at its tip cannot come out of a cut that is closed all round; open one end of it."
    return Refused(f"{where} has no way out for the bit", [Finding("stop", "undercut-closed", where, says)])

