"""Where the two boards of a corner meet, in the corner's own frame (s, u, v), for cutting them virtually and fitting.

s: from the common lower edge. u: from the end of the tail board inward, which is depth from the outside face of the pin
board. v: from the end of the pin board inward, which is depth from the outside face of the tail board. A *contact* is
a surface where they touch, known by places on it and the direction from the wood of the tail board to that of the pin
board. mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from jigcam.dovetails.choice import DovetailChoice
from jigcam.dovetails.corners import corner_reach
from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.judging import pin_name
from jigcam.dovetails.undercut_pins import OFF_FLOOR

Kind = Literal["flank", "baseline", "shoulder", "lap"]
FloatArray = npt.NDArray[np.float64]

MARGIN = 0.25
"""How far from edges and corners contacts are looked at, mm."""
WITHIN = 1.5
"""How far from the drawn place a wall is looked for, mm."""
PLACES = 5
"""Places along each direction of a contact."""
AXES = {"s": 0, "u": 1, "v": 2}


@dataclass(frozen=True, eq=False)
class MateContact:
    """One surface where the boards touch.

    name: as a maker says it. places: (n, 3) on the drawn tail board, corner frame. axis: 0, 1 or 2, along which the gap
    is measured; sense: +1 or −1, from the wood of the tail board to that of the pin board. across: what turns a gap
    along the axis into one square to the surface, the cosine of its lean. drawn: the gap that the drawing asks for, as
    it is left by the machine: less what is to be pared on both boards.
    """

    name: str
    kind: Kind
    places: FloatArray
    axis: int
    sense: float
    across: float
    drawn: float


def contacts(plan: DovetailChoice) -> tuple[MateContact, ...]:
    """All contacts of a corner: both flanks of each tail, the baseline under each pin, the shoulder over each tail.

    Corners that a bit leaves round are left out: what stands there is the chisel's.
    """
    return *_flanks(plan), *_baselines(plan), *_shoulders(plan), *_laps(plan)


def frame_of(cut: EndCut) -> FloatArray:
    """3×4: from the corner frame to the frame of the cut's solid, z included.

    That is (board y, depth from the outside face, height over the end grain) upright, the face frame where flat.
    """
    tails = cut.of_tails
    along, deep = (1, 2) if tails else (2, 1)  # u runs along the grain of the tail board, v along that of the pin board
    matrix = np.zeros((3, 4))
    if cut.setup == "upright":
        matrix[0, 0] = 1.0
        matrix[1, deep] = 1.0
        matrix[2, along] = -1.0
        matrix[1, 3] = cut.lap
        return matrix
    matrix[0, along] = -1.0 if cut.at_right else 1.0
    matrix[0, 3] = cut.board.length if cut.at_right else 0.0
    matrix[1, 0] = 1.0
    matrix[2, deep] = -1.0 if cut.face == "outside" else 1.0
    matrix[2, 3] = 0.0 if cut.face == "outside" else -cut.board.thickness
    return matrix


def _flanks(plan: DovetailChoice) -> Iterator[MateContact]:
    layout, stock = plan.layout, plan.joint.sizes
    corner = _round_at_lap(plan)
    us = _between(corner, layout.length - _round(plan, "tails") - stock.pare)
    vs = _inner(stock.pin_length - _round(plan, "pins") - stock.pare)
    pared = stock.pare * (1 if plan.joint.measured else 2)
    for number, tail in enumerate(layout.tails, start=1):
        for side, flank, sense in (("lower", tail.lower, -1.0), ("upper", tail.upper, 1.0)):
            places = np.array([(flank.at(u / layout.length), u, v) for u in us for v in vs])
            yield MateContact(
                f"tail {number}, {side} flank",
                "flank",
                places,
                AXES["s"],
                sense,
                math.cos(flank.lean(layout.length)),
                stock.clearance - pared,
            )


def _baselines(plan: DovetailChoice) -> Iterator[MateContact]:
    """The floor of each space against the inside face of the pin board.

    Steep flanks lean over it: it is looked at where no wood stands as far before it as it is looked for.
    """
    layout, stock = plan.layout, plan.joint.sizes
    vs = _inner(stock.pin_length)
    drawn = 0.0 if plan.joint.measured else 0.0 - stock.pare
    room = _round(plan, "tails")
    for number, pin in enumerate(layout.pins(stock.clearance)):
        beside = [
            0.0 if flank.edge else room + WITHIN * math.tan(abs(flank.lean(layout.length)))
            for flank in (pin.lower, pin.upper)
        ]
        low, high = pin.lower.base + beside[0], pin.upper.base - beside[1]
        across = _between(low, high)
        if len(across):
            places = np.array([(s, layout.length, v) for s in across for v in vs])
            name = f"baseline, {pin_name(number, layout)}"
            yield MateContact(name, "baseline", places, AXES["u"], -1.0, 1.0, drawn)


def _shoulders(plan: DovetailChoice) -> Iterator[MateContact]:
    """The bottom of each socket against the inside of the tail, or the floor of its rabbet."""
    layout, stock = plan.layout, plan.joint.sizes
    us = _between(_round_at_lap(plan), layout.length)
    room = _round(plan, "pins")
    for number, tail in enumerate(layout.tails, start=1):
        across = _between(tail.lower.base + room, tail.upper.base - room)
        if len(across):
            places = np.array([(s, u, stock.pin_length) for s in across for u in us])
            yield MateContact(f"shoulder, tail {number}", "shoulder", places, AXES["v"], 1.0, 1.0, 0.0 - stock.pare)


def _laps(plan: DovetailChoice) -> Iterator[MateContact]:
    """The end of each tail against the lap."""
    layout, stock = plan.layout, plan.joint.sizes
    if not stock.lap:
        return
    vs, room = _inner(stock.pin_length), _round_at_lap(plan)
    for number, tail in enumerate(layout.tails, start=1):
        across = _between(tail.lower.end + room, tail.upper.end - room)
        if len(across):
            places = np.array([(s, 0.0, v) for s in across for v in vs])
            yield MateContact(f"lap, tail {number}", "lap", places, AXES["u"], -1.0, 1.0, 0.0 - stock.pare)


def _round_at_lap(plan: DovetailChoice) -> float:
    """How far the corners at the lap reach that are left, or cut out; 0 where the sockets go through."""
    way = plan.pins
    if not plan.joint.sizes.lap or way is None or way.bit is None:
        return 0.0
    return corner_reach(way.bit.radius, relieved=plan.joint.entry.corners == "relieved")


def _round(plan: DovetailChoice, part: Literal["tails", "pins"]) -> float:
    """How far the corners reach that are left, or cut out, where a part lies flat; 0 upright."""
    way = plan.tails if part == "tails" else plan.pins
    if way is None or way.bit is None or way.setup != "flat":
        return 0.0
    if way.undercut:
        assert way.clearing is not None, "an undercut way has both bits"
        return max(way.bit.radius + OFF_FLOOR, corner_reach(way.clearing.radius, relieved=False))
    return corner_reach(way.bit.radius, relieved=plan.joint.entry.corners == "relieved")


def _inner(length: float) -> FloatArray:
    """Places from 0 to a length, a little within its ends."""
    return _between(0.0, length)


def _between(low: float, high: float) -> FloatArray:
    margin = MARGIN if high - low > 4.0 * MARGIN else 0.25 * (high - low)
    return np.linspace(low + margin, high - margin, PLACES) if high > low else np.empty(0)
