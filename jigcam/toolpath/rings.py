"""Rings: where a bit's centre goes to clear a region, as a tree of nested regions from exact offsets.

The *centres* of a region are the points at least a bit radius (and the allowance) inside it; the ring of a node is the
boundary of its centres. A node's children are the pieces of its centres moved in by one step. Going round a ring clears
everything from the ring inward by one radius r, exactly: the distance to the boundary of what an inward offset leaves
is the distance to the first boundary less the offset. With a step beyond r the band between two rings is cleared from
both sides, and what neither reaches (horns in sharp corners, necks between two children) is found exactly and kept as
*patches*, which are gone over as well. So no post or sliver is left.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jigcam.geometry import Path, Region, difference, offset

STEP = 0.85
"""Step from ring to ring in bit diameters: square corners then need no patch, up to (1 + √½)/2 = 0.853 (D)."""
COVER = 2e-3
"""mm by which the reach of a ring is taken short, so that rounding leaves nothing between two of them."""
TINY = 5e-4
"""mm; patches thinner than twice this are within what rounding makes of the rings."""


@dataclass(frozen=True, slots=True, eq=False)
class Node:
    """Centres (one connected region), those of the next ring within, and the patches between the two."""

    centres: Region
    children: tuple[Node, ...]
    patches: tuple[Region, ...]

    @property
    def inner(self) -> tuple[Path, ...]:
        """The rings of the children."""
        return tuple(loop for child in self.children for loop in child.centres.loops)

    def walk(self) -> Iterator[Node]:
        """This node and all within it, those within first."""
        for child in self.children:
            yield from child.walk()
        yield self


def rings(region: Region, radius: float, allowance: float = 0.0, step: float | None = None) -> tuple[Node, ...]:
    """The trees that clear a region with a bit of that radius, leaving the allowance at its walls; one for each piece.

    step: from ring to ring, mm, at most a diameter; by default `STEP` diameters.
    """
    step = 2.0 * STEP * radius if step is None else step
    return tuple(_grown(part, radius, step) for part in offset(region, -(radius + allowance)).parts)


def _grown(centres: Region, radius: float, step: float) -> Node:
    """The tree within one connected region of centres."""
    inside = offset(centres, -step)
    core = offset(centres, -(radius - COVER)) if step > radius - COVER else Region.empty()
    if inside.is_empty:
        # What the ring itself does not reach is cleared from its own boundary.
        return Node(centres, tuple(_grown(part, radius, step) for part in _thick(core)), ())
    missed = difference(core, offset(inside, radius - COVER)) if not core.is_empty else core
    return Node(centres, tuple(_grown(part, radius, step) for part in inside.parts), _thick(missed))


def _thick(region: Region) -> tuple[Region, ...]:
    """Its pieces, without those that are too thin to matter."""
    return tuple(part for part in region.parts if not offset(part, -TINY).is_empty)
