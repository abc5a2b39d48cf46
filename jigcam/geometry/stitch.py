"""Edges of a boundary, inside on their left, put together into closed loops."""

from __future__ import annotations

import numpy as np

from jigcam.geometry.path import Path
from jigcam.geometry.segment import IntArray, Segments
from jigcam.geometry.simplify import simplified


def is_closed(tail: IntArray, head: IntArray) -> bool:
    """Whether as many edges leave every node as arrive there: the mark of a sound boundary."""
    count = int(max(tail.max(), head.max())) + 1 if len(tail) else 0
    return np.array_equal(np.bincount(tail, minlength=count), np.bincount(head, minlength=count))


def loops(tail: IntArray, head: IntArray, segments: Segments, tol: float) -> tuple[Path, ...]:
    """Simple closed loops; those thinner than `tol` are dropped. The edges must satisfy `is_closed`.

    Where several edges meet, the way goes on by the sharpest left turn, so loops touch there and never cross; a loop
    that comes back to a node is cut in two there. Each loop starts at its lowest leftmost vertex; outlines come first.
    """
    found = []
    for cycle in _cycles(tail, head, segments):
        for loop in _split(cycle, tail):
            curve = simplified(segments.take(np.array(loop)), tol)
            if len(curve) < 2:
                continue
            about = Segments(curve.start - curve.start[0], curve.end - curve.start[0], curve.bulge)
            area, length = float(about.area.sum()), float(about.length.sum())
            if abs(area) > tol * length:
                found.append((area < 0.0, _from_corner(curve)))
    keyed = sorted(found, key=lambda item: (item[0], *np.round(item[1].vertices[0], 6)))
    return tuple(path for _, path in keyed)


def _from_corner(curve: Segments) -> Path:
    """As a path that starts at the leftmost, then lowest, vertex."""
    first = int(np.lexsort((np.round(curve.start.imag, 6), np.round(curve.start.real, 6)))[0])
    order = np.roll(np.arange(len(curve)), -first)
    return Path.from_segments(curve.take(order), closed=True)


def _cycles(tail: IntArray, head: IntArray, segments: Segments) -> list[list[int]]:
    """Closed walks along the edges."""
    following = _following(tail, head, segments).tolist()
    done = [False] * len(following)
    cycles = []
    for first in range(len(following)):
        cycle = []
        edge = first
        while not done[edge]:
            done[edge] = True
            cycle.append(edge)
            edge = following[edge]
        if cycle:
            cycles.append(cycle)
    return cycles


def _following(tail: IntArray, head: IntArray, segments: Segments) -> IntArray:
    """The edge that each edge goes on to."""
    order = np.argsort(tail, kind="stable")
    sorted_tail = tail[order]
    following = order[np.searchsorted(sorted_tail, head)]
    busy = np.flatnonzero(np.bincount(tail) > 1)
    if not len(busy):
        return following
    by_head = np.argsort(head, kind="stable")
    sorted_head = head[by_head]
    lengths = segments.length
    for node in busy:
        out = order[np.searchsorted(sorted_tail, node) : np.searchsorted(sorted_tail, node, side="right")]
        back = by_head[np.searchsorted(sorted_head, node) : np.searchsorted(sorted_head, node, side="right")]
        # Directions are taken a little way along, the same for all: tangents alone tie where curves touch.
        reach = 0.5 * min(lengths[out].min(), lengths[back].min())
        place = segments.start[out[0]]
        leaving = np.angle(segments.take(out).at(reach / lengths[out]) - place)
        arriving = np.angle(segments.take(back).at(1.0 - reach / lengths[back]) - place)
        # Going round clockwise, each arrival is followed by the departure that bounds the same wedge of the inside.
        wedge = np.mod(arriving[:, None] - leaving[None, :], 2.0 * np.pi)
        for _ in range(len(out)):
            a, b = np.unravel_index(np.argmin(wedge), wedge.shape)
            following[back[a]] = out[b]
            wedge[a, :] = np.inf
            wedge[:, b] = np.inf
    return following


def _split(cycle: list[int], tail: IntArray) -> list[list[int]]:
    """The walk as simple loops, cut apart where it visits a node again."""
    nodes = tail[cycle].tolist()
    if len(set(nodes)) == len(nodes):
        return [cycle]
    pieces = []
    walk: list[int] = []
    place: dict[int, int] = {}
    for edge, node in zip(cycle, nodes, strict=True):
        if node in place:
            start = place[node]
            for passed in walk[start:]:
                del place[int(tail[passed])]
            pieces.append(walk[start:])
            del walk[start:]
        place[node] = len(walk)
        walk.append(edge)
    pieces.append(walk)
    return pieces
