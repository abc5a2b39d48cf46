"""Setups and steps: one shape of plan for every kind of joint.

A *setup* is a board or a sheet as clamped: which way it lies, its stock, where the file's zero is, and what is done to
it. A *step* is what one bit does there: the waste that may go and that must go, the lines it engraves, and its moves. A
*file* of G-code holds one step after another, as many as the machine takes in one file. Programs and the drawings that
the proof compares them with are derived from setups alone (`programs`, `target`). Lengths in mm, in the file's frame.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any, Literal

import numpy as np

from jigcam.geometry import Path, apply
from jigcam.toolpath.program import Clamping, Operation
from jigcam.toolpath.track import Cutter
from jigcam.wood import End, Hand, Solid

Backer = Literal["behind", "left", "right"]
"""Where waste wood backs a standing board, as the person at the machine sees it: behind it, or at an edge."""
Placement = tuple[tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True, slots=True)
class Waste:
    """Wood that a step takes, in the frame of the file.

    name: what it is. A later step of the same name finishes it: in a file that holds both, its drawing stands for both.
    may: all that may go; must: what has to go, all of it where None. upright: whether the section is the same at all
    heights between two levels.
    """

    name: str
    may: Solid
    must: Solid | None = None
    upright: bool = True


@dataclass(frozen=True, slots=True)
class Engraving:
    """Lines `width` wide and `depth` deep along paths, in the frame of the file."""

    paths: tuple[Path, ...]
    width: float
    depth: float


@dataclass(frozen=True, slots=True)
class Step:
    """What one bit does in a setup, in moves of the file's frame.

    file: stem of the file's name, if this step ends it. spoil: how far below the stock it may cut. comments: for the
    head of the file that holds it.
    """

    cutter: Cutter
    file: str
    operations: tuple[Operation, ...]
    wastes: tuple[Waste, ...] = ()
    engravings: tuple[Engraving, ...] = ()
    spoil: float = 0.0
    comments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Setup:
    """A board or a sheet as clamped, and what is done to it.

    name: of its programs. board: the one that is cut, or that the template is for. stock: its size along the file's x,
    y and z; sized: whether the blank of a template is sawn to just that size. zero: in words. placement: 2×3, from the
    board's frame (face frame; upright: board y and depth from the outside face) to the file's. corner: the stock's
    lowest x and y in the file's frame. title: of its part of the setup sheet; hold: how it lies and is held, a
    sentence each. comments: for the head of its files. facts: what the manifest says of its files beside what it says
    of every file. face: that is up, or toward the operator where the board stands; under a template the one that is
    routed. end: that is up where the board stands. against: sides of the board, in the order of `wood.band.EDGES`,
    that a template bears against. opened: what a clamping before took from the face that is down here. backer:
    where waste wood is clamped against a standing board; None for nowhere. free: how far behind a standing board
    nothing may stand, as the bit goes down there, mm.
    """

    name: str
    board: str
    clamping: Clamping
    stock: tuple[float, float, float]
    zero: str
    placement: Placement
    clear_height: float
    steps: tuple[Step, ...]
    title: str
    hold: tuple[str, ...]
    corner: tuple[float, float] = (0.0, 0.0)
    hand: Hand = "as drawn"
    comments: tuple[str, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)
    face: Literal["outside", "inside"] = "outside"
    end: End | None = None
    against: tuple[int, ...] = ()
    opened: tuple[Waste, ...] = ()
    sized: bool = False
    backer: Backer | None = None
    free: float = 0.0

    @property
    def cutters(self) -> tuple[Cutter, ...]:
        """Each bit as it is run, once, in order of use."""
        return tuple(dict.fromkeys(step.cutter for step in self.steps))

    @property
    def side(self) -> str:
        """The side of the board that is cut, or that the template is for, as a maker calls it."""
        return f"{self.end} end" if self.end else f"{self.face} face"

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Where the stock lies in the file's frame: x0, y0, x1, y1."""
        x, y = self.corner
        return x, y, x + self.stock[0], y + self.stock[1]

    def by_bit(self) -> tuple[tuple[Step, ...], ...]:
        """The steps in runs of the same bit, in order."""
        return tuple(tuple(run) for _, run in groupby(self.steps, key=lambda step: step.cutter.bit))


def wastes_of(steps: Sequence[Step]) -> tuple[Waste, ...]:
    """What the steps of one file take, each waste as its last step has it."""
    return tuple({waste.name: waste for step in steps for waste in step.wastes}.values())


def moves_of(steps: Iterable[Step]) -> tuple[Operation, ...]:
    """The operations of steps, in order."""
    return tuple(each for step in steps for each in step.operations)


def corner_of(placement: Placement, length: float, width: float) -> tuple[float, float]:
    """The lowest x and y in the file's frame of a box of `length` by `width` at the origin of the board's frame, mm."""
    corners = apply(np.asarray(placement, dtype=float), np.array([[0.0, 0.0], [length, width]]))
    x, y = corners.min(axis=0)
    return float(x), float(y)
