"""A board as the files of all its joints cut it, and the wood that they leave between two joints, measured.

It is cut from the texts, not from the drawing: what was drawn only says where to measure. Where a joint is made with a
template, what stands for its file is the ground that a bushing lets the router reach in the template as milled.
Frame: the face frame of the outside face (z out of it, so depth is −z), mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jigcam.findings import Finding
from jigcam.gcode import read
from jigcam.making.told import Told
from jigcam.piece.piece import CutBoard, Piece
from jigcam.piece.place import board_words, place_words
from jigcam.piece.rules import where_of
from jigcam.proof.assembly import Cutting, PlacedFile, begins_toward
from jigcam.tolerances import TOLERANCES

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.making.made_joint import MadeJoint
    from jigcam.making.plan import Outcome, RiddenCut
    from jigcam.making.setup import Setup
    from jigcam.piece.between import Between, Web
    from jigcam.units import Voice

FloatArray = npt.NDArray[np.float64]

SEARCH = 1.0
"""How far from its drawn place the wall of a cut is looked for, mm."""
SHARE = 0.45
"""And never further than this share of the wood between, so that one wall is not taken for the other."""
GRID = (48, 24, 4)
"""Places along, across and through a board at which it is asked whether wood is cut that no joint takes."""
SURE = 0.1
"""Places nearer than this to a drawn cut count as of it, mm."""
AROUND = 2.0 * SURE
"""Places further than this outside the bounds of a drawn cut are not asked about, mm."""
CLOSE = 0.1
"""Between places at which a third cut is looked for in a web, mm."""
LEAST = 0.05
"""Walls drawn thinner are no walls to be measured, mm."""
LESS = 2.0 * TOLERANCES.gouge + 0.002
"""Both cuts may reach this far beyond their drawings together, and the last digits of two files, mm."""


@dataclass(frozen=True)
class RiddenGround:
    """What a router led by a template takes from a board."""

    cut: RiddenCut

    def gone(self, points: FloatArray) -> npt.NDArray[np.bool_]:
        """(k,) whether the wood at points (k, 3) is cut away."""
        cut = self.cut
        placed = points @ to_face(cut.face, cut.board)[:, :3].T + to_face(cut.face, cut.board)[:, 3]
        deep = (placed[:, 2] > -cut.depth) & (placed[:, 2] <= 0.0)
        gone = np.zeros(len(points), bool)
        if deep.any():
            gone[deep] = cut.region.contains(placed[deep, :2])
        return gone


@dataclass(frozen=True)
class MadeTexts:
    """A joint with the texts of its files, by name, and what they come to together."""

    made: MadeJoint
    texts: Mapping[str, str]
    outcome: Outcome

    def cuttings(self, board: CutBoard) -> Iterator[Cutting]:
        """All that cuts that board."""
        for file in self.made.files:
            setup, machine = file.setup, self.made.plan.kit.the_machine
            if setup.clamping != "template" and (setup.board, setup.hand) == (board.board.name, board.hand):
                matrix = to_file(setup, board.board)
                yield PlacedFile.of(read(self.texts[file.file]), machine, file.tools, matrix)
        for cut in self.outcome.ridden:
            if (cut.board.name, cut.hand) == (board.board.name, board.hand):
                yield RiddenGround(cut)


def as_cut(piece: Piece, joints: Sequence[MadeTexts]) -> tuple[Told, ...]:
    """What the texts leave between the joints, where it is less than drawn, and where they cut what no joint takes.

    joints: those whose files are known.
    """
    found: list[Told] = []
    for board in piece.boards:
        by_joint = {each.made.name: tuple(each.cuttings(board)) for each in joints}
        found += _strays(board, by_joint, piece.voice)
        cuttings = [cutting for some in by_joint.values() for cutting in some]
        pairs = [pair for pair in piece.pairs if _measured(pair, board)]
        for pair in pairs if cuttings else ():
            web = whole_web(pair, board)
            if web is None:
                continue
            left = left_between(cuttings, web)
            row = int(left.argmin())
            if left[row] < web.size - LESS:
                says = _words(pair, float(left[row]), web, row, piece.voice)
                finding = Finding("stop", "thinner-as-cut", where_of(pair), says)
                found.append(Told((pair.a.taken.joint, pair.b.taken.joint), board.hand, finding))
    return tuple(found)


def _strays(board: CutBoard, by_joint: Mapping[str, Sequence[Cutting]], voice: Voice) -> Iterator[Told]:
    """A stop for each joint whose files cut wood, on a grid through the board, that none of its joints takes."""
    points = untouched(board)
    for name, cuttings in by_joint.items():
        gone = np.zeros(len(points), bool)
        for cutting in cuttings:
            gone |= cutting.gone(points)
        if gone.any():
            x, y, z = points[gone][0]
            says = (
                f"the files of {name} cut wood that no joint takes, "
                f"{place_words((float(x), float(y)), board.board, voice)}, {voice.length(float(-z))} below the outside "
                "face: they are placed elsewhere on the board than drawn"
            )
            where = f"{board_words(board.board, board.hand)}: {name}"
            yield Told((name,), board.hand, Finding("stop", "stray-cut", where, says))


def untouched(board: CutBoard) -> FloatArray:
    """(k, 3) the places of a grid through a board at which no joint, as drawn, takes wood; frame of this module."""
    size = (board.board.length, board.board.width, board.board.thickness)
    axes = [(np.arange(count) + 0.5) / count * length for count, length in zip(GRID, size, strict=True)]
    plan = np.stack(np.meshgrid(axes[0], axes[1], indexing="ij"), axis=-1).reshape(-1, 2)
    kept = []
    for depth in axes[2]:
        free = np.ones(len(plan), bool)
        for body in board.bodies:
            for near in (depth - SURE, depth, depth + SURE):
                # Not cut off at the board's sides: what lies beyond them is further from the places than `SURE`.
                section = body.taken.section(float(near))
                if section.is_empty:
                    continue
                x0, y0, x1, y1 = section.bounds
                low, high = (x0 - AROUND, y0 - AROUND), (x1 + AROUND, y1 + AROUND)
                rows = np.flatnonzero(free & ((plan > low) & (plan < high)).all(axis=1))
                if len(rows):
                    free[rows] = section.signed_distance(plan[rows]) < -SURE
        kept.append(np.column_stack([plan[free], np.full(int(free.sum()), -depth)]))
    return np.concatenate(kept)


def whole_web(pair: Between, board: CutBoard) -> Web | None:
    """The web of a pair, at the places where no third cut is drawn in it; None where there is no such place."""
    web = pair.web
    if web is None:
        return None
    whole = np.ones(len(web.from_a), bool)
    ways = (web.to_b - web.from_a) / np.linalg.norm(web.to_b - web.from_a, axis=1)[:, None]
    steps = np.arange(CLOSE, min(SEARCH, web.size), CLOSE)
    along = [web.from_a + step * ways for step in steps] + [web.to_b - step * ways for step in steps]
    for body in board.bodies:
        if body is pair.a or body is pair.b or body.box is None:
            continue
        for points in along:
            for depth in np.unique(points[:, 2]):
                section = body.section(float(depth))
                rows = np.flatnonzero(points[:, 2] == depth)
                if not section.is_empty:
                    whole[rows] &= ~section.contains(points[rows, :2])
    return replace(web, from_a=web.from_a[whole], to_b=web.to_b[whole]) if whole.any() else None


def left_between(cuttings: Sequence[Cutting], web: Web) -> FloatArray:
    """(k,) the wood that cuttings leave at each place of a web, mm."""
    down = np.array([1.0, 1.0, -1.0])
    a, b = web.from_a * down, web.to_b * down
    span = np.linalg.norm(b - a, axis=1)
    ways = (b - a) / span[:, None]
    within = min(SEARCH, SHARE * web.size)
    beyond_a = begins_toward(cuttings, a, ways, within)
    beyond_b = begins_toward(cuttings, b, -ways, within)
    left: FloatArray = span - beyond_a - beyond_b
    return left


def to_face(face: str, board: Board) -> FloatArray:
    """3×4: from the board to a face frame of it, or to the frame of an end as it is seen, z included."""
    if face == "left end":
        return np.array([[0.0, 1.0, 0.0, 0.0], [0.0, 0.0, -1.0, 0.0], [-1.0, 0.0, 0.0, 0.0]])
    if face == "right end":
        return np.array([[0.0, -1.0, 0.0, board.width], [0.0, 0.0, -1.0, 0.0], [1.0, 0.0, 0.0, -board.length]])
    if face == "outside":
        return np.eye(3, 4)
    return np.array([[-1.0, 0.0, 0.0, board.length], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, -1.0, -board.thickness]])


def to_file(setup: Setup, board: Board) -> FloatArray:
    """3×4: from the board to the frame of a setup's files."""
    if setup.clamping == "upright":
        # Board y, depth from the outside face, height over the end grain.
        frame = np.zeros((3, 4))
        frame[0, 1], frame[1, 2] = 1.0, -1.0
        frame[2, 0], frame[2, 3] = (-1.0, 0.0) if setup.end == "left" else (1.0, -board.length)
    else:
        frame = to_face(setup.face, board)
    plane = np.eye(3, 4)
    plane[:2, [0, 1, 3]] = np.asarray(setup.placement, float)
    return np.asarray(plane @ np.vstack([frame, [0.0, 0.0, 0.0, 1.0]]))


def _measured(pair: Between, board: CutBoard) -> bool:
    its = (pair.a.taken.board.name, pair.a.taken.hand) == (board.board.name, board.hand)
    return its and pair.web is not None and pair.web.size > LEAST


def _words(pair: Between, left: float, web: Web, row: int, voice: Voice) -> str:
    a, b = pair.a.taken, pair.b.taken
    x, y = 0.5 * (web.from_a[row, :2] + web.to_b[row, :2])
    return (
        f"as the files cut it, {voice.exact(left)} of wood stays between {a.joint} and {b.joint}, "
        f"{place_words((float(x), float(y)), a.board, voice)}, and {voice.exact(web.size)} is drawn: one of them is "
        "cut elsewhere than drawn"
    )
