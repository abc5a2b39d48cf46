"""Exact geometry of lines and arcs: paths, regions, motions, offsets and boolean operations, in mm and radians."""

from jigcam.geometry.boolean import GeometryError, difference, intersection, union
from jigcam.geometry.chord import chords
from jigcam.geometry.clip import within
from jigcam.geometry.facet import faceted
from jigcam.geometry.measure import max_excess
from jigcam.geometry.offset import offset, opening, swept
from jigcam.geometry.path import Path, arc_of
from jigcam.geometry.region import Region
from jigcam.geometry.shapes import bar, capsule, disc, polygon, rectangle, slot
from jigcam.geometry.transform import (
    apply,
    compose,
    identity,
    invert,
    mirror_x,
    mirror_y,
    rotation,
    scaling,
    translation,
)

__all__ = [
    "GeometryError",
    "Path",
    "Region",
    "apply",
    "arc_of",
    "bar",
    "capsule",
    "chords",
    "compose",
    "difference",
    "disc",
    "faceted",
    "identity",
    "intersection",
    "invert",
    "max_excess",
    "mirror_x",
    "mirror_y",
    "offset",
    "opening",
    "polygon",
    "rectangle",
    "rotation",
    "scaling",
    "slot",
    "swept",
    "translation",
    "union",
    "within",
]
