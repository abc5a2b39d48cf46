"""Undercut passes: for a bit that is wider at its tip than above, as a dovetail bit is.

Such a bit cuts its full depth at once, comes in from air beside the board, never rises while it is under wood, and
leaves into air: through an open end opposite, or by the way it came. A straight bit has cleared the way before it.
"""

from __future__ import annotations

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.geometry import Path, Region, offset
from jigcam.toolpath.loops import place
from jigcam.toolpath.pocket import CLEAR_OF_STOCK, follow_with_spurs, in_air
from jigcam.toolpath.rings import Node, rings
from jigcam.toolpath.slot import Air
from jigcam.toolpath.track import Cutter, Run, Track

STEP = 0.8
"""Step from pass to pass in diameters of the neck (common practice, no source)."""


def undercut_runs(bottom: Region, cutter: Cutter, depth: float, air: Air, where: str) -> list[Run]:
    """The passes that cut an undercut socket, inner ones first, the walls last; as near to each other as the bit's neck
    asks, which has to clear the mouth.

    bottom: the region at the full depth (mm), run on beyond every open end until the bit is clear of the board there.
    air: how far the bit's edge at its widest is clear of the board. Closed passes run anticlockwise: climb on both
    walls. Raises `Refused` with the finding `undercut-closed` where a pass does not reach air.
    """
    # Where the bit's middle may go is the same seen at the bottom with its tip and at the face with its neck (derived).
    neck = float(cutter.bit.radius_at(depth))
    mouth = offset(bottom, neck - cutter.radius)
    return [
        _pass(each, number, cutter, -depth, air, where)
        for tree in rings(mouth, neck, step=STEP * 2.0 * neck)
        for node in tree.walk()
        for each in (*node.extras, node)
        for number in range(len(each.paths))
    ]


def undercut_slot(axis: Path, cutter: Cutter, depth: float) -> Run:
    """The pass that cuts a straight socket just as wide as the bit: in from air along the axis, and back the same way.

    axis: of the bit's middle, from where it is clear of the board to the far end, which may lie within it or beyond.
    """
    track = Track(cutter, *axis.start)
    track.sink(-depth)
    track.follow(axis, cutter.feeds.feed)
    track.follow(axis.reversed(), cutter.feeds.feed)
    return track.finished()


def _pass(node: Node, number: int, cutter: Cutter, z: float, air: Air, where: str) -> Run:
    """One path of a node, from air and back into it."""
    path = node.paths[number]
    if path.closed:
        s = in_air(path, air)
        if s is None:
            raise _closed(where)
        track = Track(cutter, *place(path, s))
        track.sink(z)
        follow_with_spurs(track, node, number, s)
        return track.finished()
    clear = (air(np.array([path.start, path.end])) >= CLEAR_OF_STOCK).tolist()
    if not any(clear):
        raise _closed(where)
    if not clear[0]:
        node, clear = node.turned(), clear[::-1]
        path = node.paths[0]
    track = Track(cutter, *path.start)
    track.sink(z)
    follow_with_spurs(track, node, number, 0.0)
    if not clear[1]:
        track.follow(path.reversed(), cutter.feeds.feed)
    return track.finished()


def _closed(where: str) -> Refused:
    says = "A bit that is wider at its tip cannot come out of a cut that is closed all round; open one end of it."
    return Refused(f"{where} has no way out for the bit", [Finding("stop", "undercut-closed", where, says)])
