"""Machines, bits and programs to write, ready made and at random."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st

from jigcam.kit import Bit, Machine
from jigcam.toolpath import Move, Operation, Program

CLEAR = 5.0


def a_bit(name: str = "straight 1/4", diameter: float = 6.35) -> Bit:
    """A straight bit."""
    return Bit(
        name=name, kind="straight", diameter=diameter, cutting_length=25.4, overall_length=63.5, shank=6.35, flutes=2
    )


def a_machine(**changes: Any) -> Machine:
    """A small machine with all that it can have, but for the fields given."""
    fields: dict[str, Any] = {
        "travel": (400.0, 400.0, 80.0),
        "max_feed": (3000.0, 3000.0, 1500.0),
        "acceleration": (250.0, 250.0, 200.0),
        "spindle": (8000.0, 24000.0),
        "power": 800.0,
        "arcs": True,
        "tool_change": "file-per-bit",
        "output_units": "mm",
    }
    return Machine(**fields | changes)


def a_program(
    *operations: Operation,
    name: str = "tilted shelf",
    comments: tuple[str, ...] = (),
    zero: str = "lower left corner, top",
    clear: float = CLEAR,
) -> Program:
    """A template program of those operations."""
    return Program(
        name=name,
        clamping="template",
        stock=(300.0, 200.0, 12.7),
        zero=zero,
        placement=((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        operations=operations,
        clear_height=clear,
        comments=comments,
    )


def an_operation(
    moves: Sequence[Move], *, name: str = "pocket", bit: Bit | None = None, rpm: float = 18000.0, note: str = ""
) -> Operation:
    """An operation of those moves."""
    return Operation(name=name, bit=bit or a_bit(), rpm=rpm, moves=tuple(moves), note=note)


SQUARE: tuple[Move, ...] = (
    Move("rapid", 10.0, 10.0, CLEAR),
    Move("line", 10.0, 10.0, -2.0, 300.0),
    Move("line", 30.0, 10.0, -2.0, 900.0),
    Move("line", 30.0, 30.0, -2.0, 900.0),
    Move("line", 10.0, 30.0, -2.0, 900.0),
    Move("line", 10.0, 10.0, -2.0, 900.0),
    Move("rapid", 10.0, 10.0, CLEAR),
)

_PLACES = st.floats(-300, 300)
_DEPTHS = st.floats(-20, 4)
_FEEDS = st.floats(10, 3000)


@st.composite
def arc_moves(draw: st.DrawFn, start: tuple[float, float]) -> Move:
    """An arc from `start`, of any radius and up to half a turn."""
    radius = draw(st.floats(1e-3, 4000)) if draw(st.booleans()) else draw(st.floats(0.5, 50))
    towards = draw(st.floats(-math.pi, math.pi))
    sweep = math.pi if draw(st.booleans()) else draw(st.floats(1e-6, math.pi))
    ccw = draw(st.booleans())
    cx, cy = start[0] + radius * math.cos(towards), start[1] + radius * math.sin(towards)
    last = towards + math.pi + (sweep if ccw else -sweep)
    x, y = cx + radius * math.cos(last), cy + radius * math.sin(last)
    return Move("arc", x, y, draw(_DEPTHS), draw(_FEEDS), cx, cy, ccw)


@st.composite
def operations(draw: st.DrawFn, *, arcs: bool = True, bits: Sequence[Bit] = (a_bit(),)) -> Operation:
    """A run of moves: a rapid to the place at the clear height, lines and arcs that may climb and dive, a lift."""
    x, y = draw(_PLACES), draw(_PLACES)
    moves = [Move("rapid", x, y, CLEAR)]
    for _ in range(draw(st.integers(0, 6))):
        if arcs and draw(st.booleans()):
            moves.append(draw(arc_moves((x, y))))
        else:
            moves.append(Move("line", draw(_PLACES), draw(_PLACES), draw(_DEPTHS), draw(_FEEDS)))
        x, y = moves[-1].x, moves[-1].y
    moves.append(Move("rapid", x, y, CLEAR))
    return an_operation(moves, bit=draw(st.sampled_from(list(bits))), rpm=draw(st.sampled_from([0.0, 8000.0, 18000.5])))


@st.composite
def programs(draw: st.DrawFn, *, arcs: bool = True, bits: Sequence[Bit] = (a_bit(),)) -> Program:
    """One to three operations."""
    return a_program(*draw(st.lists(operations(arcs=arcs, bits=bits), min_size=1, max_size=3)))
