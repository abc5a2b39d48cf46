"""The arrangement of line and arc segments: cut at every crossing, each piece once, with what lies on its two sides.

Words: a *node* is a place where pieces meet; a *piece* is a part of one segment between two nodes next to each other
on it; a *bundle* is all pieces that run between the same two nodes less than a hair apart, treated as one edge.

How it stays sound where curves nearly coincide: no curve is ever moved. Ends and crossings within `tol` of each other
are one node; every node within `tol` of a segment cuts it; and the two sides of a bundle are looked at from δ = tol/3
outside it by winding numbers of the untouched loops. Curves less than δ apart over their whole length are within `tol`
at their ends, so they are cut at the same nodes, fall into one bundle and are judged together; curves further apart
are judged apart, far above rounding. Only the choice of `tol` between rounding and the size of features matters.

Where `tol` enters, and what it costs:

* `_cuts`: ends and crossings nearer than `tol` to one another become one node, at the place of the earliest, so ends of
  pieces are off by less than `tol` (by less than m · `tol` in a chain of m near places). Every node cuts every segment
  within `tol` of it, and curves that come within `tol` of each other without crossing have a node there.
* `arrange`: two pieces between the same nodes are one edge where their heights over the chord, half way, differ by at
  most δ. A line or an arc (of at most half a turn) between two given ends is told by that one number, so they are then
  within δ all along. Sorted heights are compared with the next: a bundle of m pieces is at most (m − 1) · δ thick.
* Windings are taken half way along, δ outside the outermost pieces of a bundle. The next edge between the same nodes is
  more than δ away, and what else comes within `tol` of a piece there would have cut it. Rounding, some 1e-13 mm at a
  metre from the origin, is nothing against δ at the usual `tol` of 1e-6 mm.

So the result departs from the exact one by a few `tol`, and leaves out or joins only what is thinner than that. Where
several pieces shorter than `tol` fall together so badly that edges do not close, `boolean` sees it and tries another.
"""

from __future__ import annotations

import numpy as np

from jigcam.geometry.crossing import crossings
from jigcam.geometry.pairs import overlaps_between, overlaps_within
from jigcam.geometry.segment import BoolArray, ComplexArray, FloatArray, IntArray, Segments
from jigcam.geometry.winding import winding_number
from jigcam.values import dataclass

TILT = complex(np.cos(0.7), -np.sin(0.7))
"""Turns points by −0.7 rad before they are sorted: those of drawings, lined up along the axes, then do not tie."""
HAIR = 1.0 / 3.0
"""δ, in `tol`: well below it, so that curves that close are cut at the same nodes, and well above rounding."""


@dataclass(frozen=True, slots=True)
class Edges:
    """Bundles of an arrangement. nodes: complex (n,); tail, head: node of both ends, (k,); segments: the curve of each.

    segments run from nodes[tail] to nodes[head]. left, right: winding numbers (kinds, k) beside each.
    """

    nodes: ComplexArray
    tail: IntArray
    head: IntArray
    segments: Segments
    left: IntArray
    right: IntArray


def arrange(segments: Segments, kinds: IntArray, count: int, tol: float) -> Edges:
    """Cut the segments of closed loops at each other. kinds: 0 … count − 1 for each, whose windings are told apart."""
    nodes, owner, t, node = _cuts(segments, tol)
    order = np.lexsort((t, owner))
    owner, t, node = owner[order], t[order], node[order]
    follows = (owner[1:] == owner[:-1]) & (node[1:] != node[:-1])
    index = np.flatnonzero(follows)
    owner, t0, t1, tail, head = owner[index], t[index], t[index + 1], node[index], node[index + 1]

    # Every piece as seen from its lower node, so that pieces of one bundle compare.
    backward = tail > head
    low, high = np.minimum(tail, head), np.maximum(tail, head)
    curve = segments.take(owner)
    middle_t = 0.5 * (t0 + t1)
    middle, way = curve.at(middle_t), curve.tangent(middle_t)
    way = np.where(backward, -way, way)
    chord = nodes[high] - nodes[low]
    rise = (np.conj(chord) * (middle - 0.5 * (nodes[low] + nodes[high]))).imag / np.abs(chord)

    hair = HAIR * tol
    order = np.lexsort((rise, high, low))
    new = np.ones(len(order), dtype=bool)
    a, b = order[:-1], order[1:]
    new[1:] = (low[a] != low[b]) | (high[a] != high[b]) | (rise[b] - rise[a] > hair)
    starts = np.flatnonzero(new)
    ends = np.append(starts[1:], len(order)) - 1 if len(starts) else starts
    lowest, highest = order[starts], order[ends]
    left = winding_number(middle[highest] + 1j * hair * way[highest], segments, kinds, count)
    right = winding_number(middle[lowest] - 1j * hair * way[lowest], segments, kinds, count)

    # The piece of the earliest segment speaks for its bundle: results do not depend on which copy sorts first.
    bundle = np.cumsum(new) - 1
    chosen = np.full(len(starts), len(order), dtype=np.int64)
    np.minimum.at(chosen, bundle, order)
    bulge = np.tan((t1 - t0) * np.arctan(curve.bulge)) * np.where(backward, -1.0, 1.0)
    low, high = low[chosen], high[chosen]
    return Edges(nodes, low, high, Segments(nodes[low], nodes[high], bulge[chosen]), left, right)


def _cuts(segments: Segments, tol: float) -> tuple[ComplexArray, IntArray, FloatArray, IntArray]:
    """Nodes, and every cut of a segment, its ends included: the segment, the fraction along it, the node."""
    count = len(segments)
    boxes = segments.boxes(0.5 * tol)
    i, j, point = crossings(segments, *overlaps_within(boxes), tol)
    everywhere = np.concatenate([segments.start, segments.end, point])
    nodes, label = cluster(everywhere, tol)
    own = np.arange(count)
    ends, starts = label[count : 2 * count], label[:count]
    met = label[2 * count :]

    # Every node that a segment passes within tol cuts it, whichever pair it came from.
    spot = (nodes.real, nodes.imag, nodes.real, nodes.imag)
    at, on = overlaps_between(spot, segments.boxes(tol))
    at, on = np.concatenate([at, met, met]), np.concatenate([on, i, j])
    gap, t = segments.take(on).foot(nodes[at])
    near = gap <= tol
    near[len(near) - 2 * len(met) :] = True
    keep = near & (at != starts[on]) & (at != ends[on])
    at, on, t = at[keep], on[keep], t[keep]
    _, once = np.unique(on * len(nodes) + at, return_index=True)
    at, on, t = at[once], on[once], t[once]
    owner = np.concatenate([own, own, on])
    fraction = np.concatenate([np.zeros(count), np.ones(count), t])
    return nodes, owner, fraction, np.concatenate([starts, ends, at])


def cluster(points: ComplexArray, tol: float) -> tuple[ComplexArray, IntArray]:
    """Points within `tol` of each other become one: the places kept, and for each point the index of its place.

    Chains of near points are one cluster; it stands where the earliest of its points does, so that given vertices,
    which come before computed crossings, keep their exact coordinates.
    """
    distinct, first, inverse = np.unique(points, return_index=True, return_inverse=True)
    key = (distinct * TILT).real
    order = np.argsort(key, kind="stable")
    key, sorted_points = key[order], distinct[order]
    a, b = [], []
    for step in range(1, len(order)):
        ahead = key[step:] - key[:-step] <= tol
        if not ahead.any():
            break
        at = np.flatnonzero(ahead)
        at = at[np.abs(sorted_points[at + step] - sorted_points[at]) <= tol]
        a.append(order[at])
        b.append(order[at + step])
    # `root` holds for each point the earliest original index known in its cluster.
    root = first.astype(np.int64)
    if a:
        one, other = np.concatenate(a), np.concatenate(b)
        while len(one):
            least = np.minimum(root[one], root[other])
            before = root.copy()
            np.minimum.at(root, one, least)
            np.minimum.at(root, other, least)
            if np.array_equal(before, root):
                break
    places, label = np.unique(root, return_inverse=True)
    return points[places], label[inverse.reshape(-1)].astype(np.int64)


def boundary(edges: Edges, inside: BoolArray, inside_right: BoolArray) -> tuple[IntArray, IntArray, Segments]:
    """Tail, head and curve of the edges that have the inside on one side only, turned so that it lies left."""
    kept = np.flatnonzero(inside != inside_right)
    flip = ~inside[kept]
    tail = np.where(flip, edges.head[kept], edges.tail[kept])
    head = np.where(flip, edges.tail[kept], edges.head[kept])
    bulge = np.where(flip, -1.0, 1.0) * edges.segments.bulge[kept]
    return tail, head, Segments(edges.nodes[tail], edges.nodes[head], bulge)
