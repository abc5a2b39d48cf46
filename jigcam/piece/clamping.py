"""Whether a clamping still finds what it refers to, when earlier joints have taken wood from the board.

A *surface* is a patch of the board's sides that carries a zero, a fence or the board itself, known by places just
below it. Board frame: x, y of the outside face, depth from it. mm
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jigcam.findings import Finding
from jigcam.geometry import apply, invert
from jigcam.piece.place import board_words, other
from jigcam.wood.band import sides
from jigcam.wood.practice import PRACTICE

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.making.setup import Setup
    from jigcam.piece.body import Body
    from jigcam.wood import End

FloatArray = npt.NDArray[np.float64]

SKIN = 0.05
"""Below a surface, mm: what is gone there is gone at the surface."""
NEAR_END = 100.0
"""Of an edge or a face below an end that is up, held by the fence of the vise, mm."""
CORNER = 2.0
"""Of the corner itself, along each side, mm."""
COUNT = 12
"""Places along each side of a patch."""
LONG = 4
"""So many times as many along the length of a board."""


@dataclass(frozen=True, eq=False)
class Surface:
    """What a clamping refers to. name: in words. points: (k, 3) x, y, depth."""

    name: str
    points: FloatArray

    def lost(self, bodies: Sequence[Body]) -> bool:
        """Whether cuts have taken so much of it that it no longer serves."""
        gone = np.zeros(len(self.points), bool)
        near = [body for body in bodies if self._comes_near(body)]
        for depth in np.unique(self.points[:, 2]) if near else ():
            rows = np.flatnonzero(self.points[:, 2] == depth)
            for body in near:
                section = body.section(float(depth))
                if not section.is_empty:
                    gone[rows] |= section.contains(self.points[rows, :2])
        return bool(gone.mean() >= PRACTICE.lost)

    def _comes_near(self, body: Body) -> bool:
        """Whether a body's box meets that of its points."""
        if body.box is None:
            return False
        low, high = self.points.min(axis=0), self.points.max(axis=0)
        box = np.array(body.box).reshape(2, 3)
        return bool((box[0] <= high).all() and (box[1] >= low).all())


def reference_findings(setup: Setup, joint: str, board: Board, earlier: Sequence[Body]) -> Iterator[Finding]:
    """A caution for each earlier joint that has taken what a setup refers to, as it then has to. earlier: bodies of the
    same board."""
    surfaces = surfaces_of(setup, board)
    for name in dict.fromkeys(body.taken.joint for body in earlier):
        bodies = [body for body in earlier if body.taken.joint == name and body.box is not None]
        lost = [each.name for each in surfaces if each.lost(bodies)]
        if lost:
            taken = "them" if len(lost) > 1 else "it"
            where = f"{board_words(board, setup.hand)}: {name} and {joint}"
            says = (
                f"no order of the work suits all joints of this board: for {joint}, {_how(setup)} "
                f"{' and '.join(lost)}, and {name}, which has to come before, has taken {taken} away; mark the place "
                f"of {joint} on the board before {name} is cut, or move one of them"
            )
            yield Finding("caution", "reference-gone", where, says)


def surfaces_of(setup: Setup, board: Board) -> tuple[Surface, ...]:
    """What a setup refers to."""
    if setup.clamping == "template":
        return tuple(_side(side, setup.face, board) for side in setup.against)
    return _upright(setup, board) if setup.clamping == "upright" else _flat(setup, board)


def _flat(setup: Setup, board: Board) -> tuple[Surface, ...]:
    """The edge and the end that carry zero, their corner, the face that is up, and the one on which the board lies."""
    x, y = (float(v) for v in apply(invert(setup.placement), np.zeros((1, 2)))[0])
    return lying(x if setup.face == "outside" else board.length - x, y, setup.face, board)


def lying(x: float, y: float, face: str, board: Board) -> tuple[Surface, ...]:
    """What a board that lies with that face up refers to, its zero near x, y of the board frame."""
    end, edge = ("left" if x < board.length / 2.0 else "right"), ("lower" if y < board.width / 2.0 else "upper")
    all_x, all_y, all_d = (0.0, board.length), (0.0, board.width), (0.0, board.thickness)
    up, down = (0.0, board.thickness) if face == "outside" else (board.thickness, 0.0)
    corner = _block(_from(x, CORNER, board.length), _from(y, CORNER, board.width), all_d)
    return (
        Surface(f"the {edge} edge", _patch(all_x, y, all_d, board)),
        Surface(f"the {end} end", _patch(x, all_y, all_d, board)),
        Surface(f"the corner of the {end} end and the {edge} edge", corner),
        Surface(f"the {face} face, where z is zero", _patch(all_x, all_y, up, board)),
        Surface(f"the {other(face)} face, on which it lies", _patch(all_x, all_y, down, board)),
    )


def _upright(setup: Setup, board: Board) -> tuple[Surface, ...]:
    """The end that is up, the edge at the operator's left, and the outside face below that end."""
    return standing(setup.end or "left", board)


def standing(end: End, board: Board) -> tuple[Surface, ...]:
    """What a board that stands with that end up refers to."""
    x, y, edge = (0.0, 0.0, "lower") if end == "left" else (board.length, board.width, "upper")
    held, all_y, all_d = _from(x, NEAR_END, board.length), (0.0, board.width), (0.0, board.thickness)
    corner = _block(_from(x, CORNER, board.length), _from(y, CORNER, board.width), all_d)
    return (
        Surface(f"the end grain of the {end} end, where z is zero", _patch(x, all_y, all_d, board)),
        Surface(f"the {edge} edge", _patch(held, y, all_d, board)),
        Surface(f"the corner of the {end} end and the {edge} edge", corner),
        Surface("the outside face below that end", _patch(held, all_y, 0.0, board)),
    )


def _side(side: int, face: str, board: Board) -> Surface:
    """A side that a template bears against, in the order of `band.EDGES` as seen on the face."""
    name = sides(face)[side]
    all_d = (0.0, board.thickness)
    if side >= 2:
        return Surface(f"the {name}", _patch((0.0, board.length), 0.0 if side == 2 else board.width, all_d, board))
    return Surface(
        f"the {name}", _patch(0.0 if name.startswith("left") else board.length, (0.0, board.width), all_d, board)
    )


Span = float | tuple[float, float]


def _patch(x: Span, y: Span, d: Span, board: Board) -> FloatArray:
    """Places of a rectangle on a side of the board: one of the three is where that side lies, the others are spans."""
    sizes = (board.length, board.width, board.thickness)
    counts = (COUNT * LONG, COUNT, COUNT // 2)
    axes = [_places(s, size, count) for s, size, count in zip((x, y, d), sizes, counts, strict=True)]
    return _grid(axes)


def _block(x: tuple[float, float], y: tuple[float, float], d: tuple[float, float]) -> FloatArray:
    return _grid([_middles(x, 3), _middles(y, 3), _middles(d, COUNT)])


def _places(span: Span, size: float, count: int) -> FloatArray:
    if isinstance(span, tuple):
        return _middles(span, count)
    return np.array([min(max(span, SKIN), size - SKIN)])


def _middles(span: tuple[float, float], count: int) -> FloatArray:
    low, high = span
    places: FloatArray = low + (np.arange(count) + 0.5) / count * (high - low)
    return places


def _grid(axes: Sequence[FloatArray]) -> FloatArray:
    return np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)


def _from(start: float, far: float, size: float) -> tuple[float, float]:
    """From a side inward."""
    far = min(far, size)
    return (0.0, far) if start < size / 2.0 else (size - far, size)


def _how(setup: Setup) -> str:
    if setup.clamping == "template":
        return "its template bears against"
    if setup.clamping == "upright":
        return f"standing with the {setup.end} end up, the board refers to"
    return f"lying with the {setup.face} face up, the board refers to"
