"""Union, difference and intersection of regions, exact in lines and arcs."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from jigcam.errors import JigcamError
from jigcam.geometry.arrangement import arrange, boundary
from jigcam.geometry.nearest import z_order
from jigcam.geometry.region import Region
from jigcam.geometry.segment import BoolArray, IntArray, Segments
from jigcam.geometry.stitch import is_closed, loops
from jigcam.tolerances import TOLERANCES

Inside = Callable[[IntArray], BoolArray]
"""From winding numbers (kinds, k) to whether the result holds there."""

GROUP = 12
"""So many regions are united at once."""

TRIES = (1.0, 0.3, 3.0, 0.1, 10.0)
"""Multiples of the tolerance within which points are one, tried in turn until the boundary closes."""


class GeometryError(JigcamError):
    """A shape that could not be computed: lines and arcs that nearly coincide at every tolerance tried."""


def union(*regions: Region) -> Region:
    """All points inside any of the regions. Also clears one region of overlaps and doubled edges.

    Many regions are united in groups of neighbours, then the groups: edges that are soon covered are gone before they
    meet the far ones, and the time stays near n log n where thousands overlap, as the sweeps of a tool path do.

    Raises GeometryError, as all of this module, where no sound boundary comes out; no input is known that does it.
    """
    operands = [region.as_segments() for region in regions if not region.is_empty]
    while len(operands) > GROUP:
        order = np.argsort(z_order(np.array([s.start.mean() for s in operands])), kind="stable")
        groups = [order[i : i + GROUP] for i in range(0, len(order), GROUP)]
        united = [combine([Segments.joined([operands[i] for i in group])], positive) for group in groups]
        operands = [region.as_segments() for region in united if not region.is_empty]
    return combine([Segments.joined(operands)], positive)


def intersection(a: Region, b: Region) -> Region:
    """All points inside both. Raises GeometryError as `union` does."""
    return combine([a.as_segments(), b.as_segments()], _all)


def difference(a: Region, b: Region) -> Region:
    """All points inside `a` and not inside `b`. Raises GeometryError as `union` does."""
    return combine([a.as_segments(), b.as_segments()], _first_only)


def combine(operands: Sequence[Segments], inside: Inside) -> Region:
    """The region where `inside` holds of the winding numbers of the operands, each the segments of closed loops.

    Vertices nearer than `tolerances.same_point` fall together, so the result is within a few of those of the true one.
    Raises GeometryError where no sound boundary comes out; no input is known that does it.
    """
    segments = Segments.joined(operands)
    if not len(segments):
        return Region.empty()
    kinds = np.repeat(np.arange(len(operands)), [len(s) for s in operands])
    for factor in TRIES:
        tol = factor * TOLERANCES.same_point
        edges = arrange(segments, kinds, len(operands), tol)
        tail, head, curve = boundary(edges, inside(edges.left), inside(edges.right))
        if is_closed(tail, head):
            return Region(loops(tail, head, curve, tol))
    raise GeometryError(
        "outlines nearly coincide in a way that cannot be resolved",
        where="near {:.3f}, {:.3f} mm".format(*_middle(segments)),
        mend="make one of the shapes a hundredth of a millimetre larger or smaller",
    )


def _middle(segments: Segments) -> tuple[float, float]:
    """Where the shapes are, for a message."""
    mean = complex(segments.start.mean())
    return mean.real, mean.imag


def positive(winding: IntArray) -> BoolArray:
    """Where the loops of the first operand wind round a point more than zero times."""
    inside: BoolArray = winding[0] > 0
    return inside


def _all(winding: IntArray) -> BoolArray:
    inside: BoolArray = np.all(winding > 0, axis=0)
    return inside


def _first_only(winding: IntArray) -> BoolArray:
    inside: BoolArray = (winding[0] > 0) & ~(winding[1] > 0)
    return inside
