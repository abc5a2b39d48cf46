"""Regions as shapely polygons, for those few uses where chords are good enough."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.geometry.region import Region
from jigcam.tolerances import TOLERANCES

if TYPE_CHECKING:
    from shapely import MultiPolygon


def faceted(region: Region, tol: float = TOLERANCES.facet) -> MultiPolygon:
    """The region with arcs replaced by chords within `tol` mm, as a shapely multipolygon (empty for nothing).

    Chords have their ends on the arcs, so outlines lie inside by up to `tol` and holes outside. Do not buffer the
    result of a `tol` much finer than the default: GEOS then goes wrong silently; that is what `offset` is for.
    """
    import shapely

    shapes = []
    for part in region.parts:
        shell, *holes = (loop.points(tol) for loop in part.loops)
        if len(shell) >= 3:
            shapes.append(shapely.Polygon(shell, [hole for hole in holes if len(hole) >= 3]))
    return shapely.MultiPolygon(shapes)
