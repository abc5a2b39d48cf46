"""How two boards meet in a joint: the exact motion that carries one board's frame to the other's.

*Body frame* of a board: that of its outside face, x along the grain to the right, y up, z out of the face: the board
fills 0 … length, 0 … width, −thickness … 0. mm. A board for the opposite hand is another body, its cuts mirrored, and
never a mirrored motion.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from jigcam.job import Board, Face
    from jigcam.wood.taken import End

FloatArray = npt.NDArray[np.float64]
Vector = tuple[float, float, float]
Size = Literal["length", "width"]

FAR = 1e5
"""As good as endless, mm."""


@dataclass(frozen=True, eq=False)
class Motion:
    """A rigid motion p → turn @ p + shift. turn: (3, 3), a rotation; shift: (3,), mm."""

    turn: FloatArray
    shift: FloatArray

    @classmethod
    def none(cls) -> Motion:
        """That moves nothing."""
        return cls(np.eye(3), np.zeros(3))

    @classmethod
    def onto(
        cls, point: npt.ArrayLike, axes: tuple[npt.ArrayLike, npt.ArrayLike, npt.ArrayLike], to: npt.ArrayLike
    ) -> Motion:
        """That carries a point to another and x, y, z to three axes (unit vectors, right-handed)."""
        turn = np.column_stack([np.asarray(axis, dtype=float) for axis in axes])
        return cls(turn, np.asarray(to, dtype=float) - turn @ np.asarray(point, dtype=float))

    def __call__(self, points: npt.ArrayLike) -> FloatArray:
        """Points (n, 3), or one (3,), carried along."""
        moved: FloatArray = np.asarray(points, dtype=float) @ self.turn.T + self.shift
        return moved

    def turned(self, vectors: npt.ArrayLike) -> FloatArray:
        """Vectors (n, 3), or one (3,), turned along."""
        found: FloatArray = np.asarray(vectors, dtype=float) @ self.turn.T
        return found

    def then(self, other: Motion) -> Motion:
        """This one first, and then the other."""
        return Motion(other.turn @ self.turn, other.turn @ self.shift + other.shift)

    def inverse(self) -> Motion:
        """Back."""
        return Motion(self.turn.T, -self.turn.T @ self.shift)

    def moved(self, by: npt.ArrayLike) -> Motion:
        """This one, and then a shift by (3,), mm."""
        return Motion(self.turn, self.shift + np.asarray(by, dtype=float))


@dataclass(frozen=True, eq=False)
class Meeting:
    """One place where one joint holds board `b` in board `a`.

    joint: its name in the job. a, b: names of boards; a_opposite: whether a is the one for the opposite hand; None: of
    either. a_at, b_at: what meets, as a maker calls it ("right end", "groove 2"): of one copy of a board it can be used
    once. motion: from b's body frame to a's, at the middle of the clearance.

    apart: directions (unit vectors in a's frame) in which b comes off a, and all between them. free: a line along which
    the joint leaves b's place open: direction in a's frame, least and most shift from `motion`, mm; None: it holds b.
    enters: how deep b goes into a, along the first of `apart`, mm; stands_off: how far b may stay out along it and
    still be held, mm: a shelf need not touch the bottom of its groove. play: that the joint has, mm. turned: the motion
    with b the other way up, where the joint holds it as well. fits: a size of b that follows from this meeting alone,
    and what it comes to, mm. others: the same place with another end or edge of b in it, where the job does not say
    which. corner: whether ends meet in a corner, so that two of either board close into a ring. swaps: what
    the boards of a corner may change with each other to go together the other way, as a maker calls it; "" where
    nothing. late: b lies in a on the outside, as a back does: it goes in last where it can, and no clamp draws it home.
    exact: b lies in the cut as it is drawn, and is not notched where that ends. beyond: how far the cut runs on before
    and after b at `motion`, along `free`, mm, negative where b stands out of it; None at an end where it stops.
    """

    joint: str
    a: str
    b: str
    a_at: str
    b_at: str
    motion: Motion
    apart: tuple[Vector, ...]
    a_opposite: bool | None = None
    free: tuple[Vector, float, float] | None = None
    stands_off: float = 0.0
    enters: float = 0.0
    play: float = 0.0
    turned: Motion | None = None
    fits: tuple[Size, float] | None = None
    others: tuple[Meeting, ...] = field(default=(), repr=False)
    corner: bool = False
    swaps: str = ""
    late: bool = False
    exact: bool = False
    beyond: tuple[float | None, float | None] = (None, None)

    @property
    def leaves(self) -> float:
        """How far b may be shifted in a, mm."""
        return 0.0 if self.free is None else self.free[2] - self.free[1]


def vector(values: npt.ArrayLike) -> Vector:
    """Three numbers as a direction."""
    x, y, z = np.asarray(values, dtype=float).tolist()
    return x, y, z


def face_frame(board: Board, face: Face) -> Motion:
    """From the frame of a face to the body frame: seen from the inside, the left end is on the right."""
    if face == "outside":
        return Motion.none()
    return Motion(np.diag([-1.0, 1.0, -1.0]), np.array([board.length, 0.0, -board.thickness]))


def end_point(board: Board, end: End, x: float, y: float) -> FloatArray:
    """A point of an end in the body frame. x: from the lower edge; y: depth from the outside face."""
    return np.array([board.length if end == "right" else 0.0, x, -y])


def end_normal(end: End) -> FloatArray:
    """Out of an end, body frame."""
    return np.array([1.0 if end == "right" else -1.0, 0.0, 0.0])


def corner(a: Board, a_end: End, b: Board, *, proud: float = 0.0) -> Motion:
    """From b's body frame to a's where their ends meet in a corner: lower edges flush, outside faces outside.

    a's right end meets b's left end, and its left end a right one; b's end is flush with a's outside face. proud: how
    far b's outside face lies beyond a's end, mm. Source: the conventions of the project.
    """
    if a_end == "right":
        axes = (0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)
        return Motion.onto((0.0, 0.0, 0.0), axes, (a.length + proud, 0.0, 0.0))
    return Motion.onto((b.length, 0.0, 0.0), ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)), (-proud, 0.0, 0.0))


OFF_CORNER: Vector = (0.0, 0.0, -1.0)
"""The way in which b comes off a in a dovetailed corner, a's frame: inward, as the tails drop out of their sockets."""


def entering(
    a: Board,
    face: Face,
    start: npt.ArrayLike,
    along: npt.ArrayLike,
    depth: float,
    b: Board,
    part: str,
    station: float,
    *,
    up: bool,
) -> tuple[Motion, Motion]:
    """From b's body frame to a's where an end or edge of b stands in a straight cut; and the same with b turned over.

    start, along: a point and the direction of the cut's centreline, face frame (2,). depth: of b's end below the face.
    part: "left", "right" (ends), "lower", "upper" (edges). station: along the centreline, of the first of b's sides.
    up: whether b's lower edge (of an edge that enters: its left end) comes first along the centreline.
    """
    frame = face_frame(a, face)
    u = frame.turned([*np.asarray(along, dtype=float), 0.0])
    n = frame.turned([0.0, 0.0, 1.0])
    foot = frame([*(np.asarray(start, dtype=float) + station * np.asarray(along, dtype=float)), -depth])
    return _standing(b, part, foot, u, n, up), _standing(b, part, foot, u, n, not up)


def _standing(b: Board, part: str, foot: FloatArray, u: FloatArray, n: FloatArray, up: bool) -> Motion:
    way = u if up else -u
    middle = -b.thickness / 2.0
    if part in ("left", "right"):
        out = n if part == "left" else -n
        point = (0.0 if part == "left" else b.length, 0.0 if up else b.width, middle)
        return Motion.onto(point, (out, way, np.cross(out, way)), foot)
    out = n if part == "lower" else -n
    point = (0.0 if up else b.length, 0.0 if part == "lower" else b.width, middle)
    return Motion.onto(point, (way, out, np.cross(way, out)), foot)
