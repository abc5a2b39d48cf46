"""The virtual cut against the drawing: at every height that matters, what is cut too much and what is left.

Words: a *bite* is wood cut that had to stay, measured to where it was allowed, sideways or up, whichever is less;
*left* is wood that had to go, measured to the swept ground, sideways or up; *for the chisel* is what no path of the
bits used could have reached without a bite.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

import numpy as np

from jigcam.proof.bitten import Bites
from jigcam.proof.heights import heights_of
from jigcam.proof.reach import Reach
from jigcam.proof.report import LayerResult, Place
from jigcam.proof.standing import left_in, missing
from jigcam.proof.sweeps import Work
from jigcam.proof.target import Target
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass


@dataclass
class Comparison:
    """gouges: the worst bite of each motion that bites more than is allowed, worst first; gouge: the greatest of all.
    left: the thickest faults, by layer; chisel: corners, each once."""

    gouge: float = 0.0
    gouges: list[Place] = field(default_factory=list)
    left: float = 0.0
    lefts: list[Place] = field(default_factory=list)
    chisel: list[Place] = field(default_factory=list)
    marks: list[Place] = field(default_factory=list)
    layers: list[LayerResult] = field(default_factory=list)


def compare(target: Target, works: Mapping[int, Work], motions: int) -> Comparison:
    """Compares what all works sweep with the target. motions: how many the text has."""
    result = Comparison()
    bites, bits = Bites(target, motions), list(works.values())
    heights = {layer: heights_of(layer, bits) for layer in target.layers}
    bitten = {layer: bites.layer(layer, heights[layer], bits) for layer in target.layers}
    reach, cleared = Reach(target, bits), None
    for layer in reversed(target.layers):
        standing = left_in(reach, layer, heights[layer], cleared)
        cleared = standing.cleared
        left, chisel = (max((p.size for p in places), default=0.0) for places in (standing.faults, standing.corners))
        result.layers.insert(0, LayerResult(layer.low, layer.high, bitten[layer], left, chisel))
        faults = sorted(standing.faults, key=lambda place: -place.size)[:1]
        result.lefts = [place for place in faults if place.size > TOLERANCES.left] + result.lefts
        result.chisel += [place for place in standing.corners if not _known(place, result.chisel)]
    result.gouge = max((layer.gouge for layer in result.layers), default=0.0)
    result.left = max((layer.left for layer in result.layers), default=0.0)
    result.gouges = bites.worst()
    result.marks = [place for mark in target.marks for place in missing(mark, bits)]
    return result


def _known(place: Place, others: list[Place]) -> bool:
    return any(np.hypot(place.x - o.x, place.y - o.y) < 0.5 * (place.size + o.size) for o in others)
