"""Exact geometry of lines and arcs: paths, regions, motions, offsets and boolean operations, in mm and radians."""

from jigcam.geometry.facet import faceted
from jigcam.geometry.path import Path, arc_of
from jigcam.geometry.region import Region
from jigcam.geometry.shapes import bar, capsule, disc, polygon, rectangle, slot
from jigcam.geometry.transform import apply, compose, identity, invert, mirror_x, mirror_y, rotation, translation

__all__ = [
    "Path",
    "Region",
    "apply",
    "arc_of",
    "bar",
    "capsule",
    "compose",
    "disc",
    "faceted",
    "identity",
    "invert",
    "mirror_x",
    "mirror_y",
    "polygon",
    "rectangle",
    "rotation",
    "slot",
    "translation",
]
