"""The pictures and the cut list of a job's piece: from its boards in space to what is drawn and listed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import numpy.typing as npt

from jigcam.piece.board_shape import BoardShape, board_shape
from jigcam.piece.body import Body
from jigcam.piece.cut_list import CutList, cut_list
from jigcam.piece.order_of_work import WorkOrder, clampings_of, work_order
from jigcam.piece.picture import PicturedBoard, piece_drawing, piece_view
from jigcam.piece.pulled_apart import Joining, pulled_apart
from jigcam.piece.standing import StandingBoard, standing

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing, View
    from jigcam.job import Board, Job
    from jigcam.making.setup import Setup
    from jigcam.piece.space import Assembled, Contact, Copy, Placed
    from jigcam.wood import Hand, Taken

FloatArray = npt.NDArray[np.float64]
Bodies = Mapping[tuple[str, "Hand"], Sequence[Body]]
"""What joints take, by the name of the board and its hand."""
STRAIGHT = 1.0 - 1e-6
"""The cosine of two ways that are one."""
LONG = 3.0
"""A place where boards meet that is so many times longer than wide has a way at each of its ends."""


class AssemblyMove(NamedTuple):
    """A step of assembly: copies that move together onto others, along a unit vector of the world."""

    moves: Sequence[Copy]
    onto: Sequence[Copy]
    direction: FloatArray


def bodies_of(taken: Iterable[Taken]) -> dict[tuple[str, Hand], list[Body]]:
    """What joints take of the boards, in the order of the job."""
    found: dict[tuple[str, Hand], list[Body]] = {}
    for each in taken:
        body = Body(each)
        if body.box is not None:
            found.setdefault((each.board.name, each.hand), []).append(body)
    return found


def piece_cuts(job: Job, bodies: Bodies, copies: Iterable[Copy], setups: Sequence[Setup] = ()) -> CutList:
    """The cut list. copies: the boards of the piece; one that is none of them counts once. setups: as planned, if they
    are known."""
    work: dict[str, WorkOrder] = {}
    for board in job.boards.values():
        own = bodies.get((board.name, "as drawn")) or bodies.get((board.name, "opposite"), ())
        its = [setup for setup in setups if setup.board == board.name and setup.hand == "as drawn"]
        work[board.name] = work_order(clampings_of(board, own, job, its))
    counts = Counter(copy.board.name for copy in copies)
    return cut_list(job.boards.values(), counts, work, job.allowance, job.voice)


def piece_drawings(
    job: Job, bodies: Bodies, assembled: Assembled, steps: Sequence[AssemblyMove] = ()
) -> dict[str, Drawing]:
    """The piece put together and pulled apart, by the stems of their files; boards that meet no other are left out.

    steps: the order in which it goes together; without one, boards are pulled off one after the other as they meet.
    """
    groups = [part for part in assembled.parts if len(part) > 1]
    shapes: dict[tuple[str, bool], BoardShape] = {}
    scenes = [_Scene(group, assembled, bodies, shapes, steps) for group in groups]
    facts = [("boards", str(sum(map(len, groups))))]
    several = len(scenes) > 1
    size = "wide, deep, high"
    facts += [(scene.who if several else size, job.voice.size(*scene.size)) for scene in scenes]
    made = {}
    for stem, words in (("piece", "put together"), ("piece-apart", "pulled apart")):
        captions = [f"{words}: {scene.who}" if several else words for scene in scenes]
        views = [scene.view(words, apart=stem == "piece-apart") for scene, words in zip(scenes, captions, strict=True)]
        if views:
            own = facts if stem == "piece" else ()
            made[stem] = piece_drawing(f"{job.title}: {words}", views, job.voice, own)
    return made


class _Scene:
    """Boards that hang together, as they stand in space."""

    def __init__(
        self,
        group: Sequence[Placed],
        assembled: Assembled,
        bodies: Bodies,
        shapes: dict[tuple[str, bool], BoardShape],
        steps: Sequence[AssemblyMove],
    ) -> None:
        self.group, self.assembled = group, assembled
        self.number = {each.copy: number for number, each in enumerate(group)}
        self.contacts = [each for each in assembled.contacts if each.a in self.number]
        housed = [(self.number[each.a], self.number[each.b]) for each in self.contacts]
        self.turn = standing([_standing(each) for each in group], housed)
        self.shapes = [_shape(each.copy, bodies, shapes) for each in group]
        self.corners = [self._points(each, _corners(each.copy.board)) for each in group]
        self.joinings = [*self._joinings(steps)] or [*self._one_by_one()]
        first = group[0].copy.name
        self.who = first if len(group) == 1 else f"{first} and {len(group) - 1} more"

    @property
    def size(self) -> tuple[float, float, float]:
        """Width, depth and height as it stands, mm."""
        points = np.vstack(self.corners)
        wide, deep, high = points.max(axis=0) - points.min(axis=0)
        return float(wide), float(deep), float(high)

    def view(self, caption: str, *, apart: bool) -> View:
        """The picture of it put together, or pulled apart."""
        if not apart:
            return piece_view(caption, self._boards(np.zeros((len(self.group), 3))))
        meets = [meet for contact in self.contacts for meet in self._meets(contact)]
        pulled = pulled_apart(self.corners, self.joinings, meets)
        return piece_view(caption, self._boards(pulled.moved), pulled.ways)

    def _boards(self, moved: FloatArray) -> list[PicturedBoard]:
        return [
            PicturedBoard(
                each.copy.name,
                shape.moved(self.turn @ each.motion.turn, self.turn @ each.motion.shift + by, number),
            )
            for number, (each, shape, by) in enumerate(zip(self.group, self.shapes, moved, strict=True))
        ]

    def _points(self, placed: Placed, points: FloatArray) -> FloatArray:
        """Points of a board's body frame in space."""
        there: FloatArray = placed.motion(points) @ self.turn.T
        return there

    def _meets(self, contact: Contact) -> Iterator[tuple[int, int, FloatArray]]:
        """Where two boards meet: the middle of what their boxes share, in the frame of the first, or both its ends."""
        a, b = self.number[contact.a], self.number[contact.b]
        into = self.group[a].motion.inverse()
        here = _corners(self.group[a].copy.board)
        there = into(self.group[b].motion(_corners(self.group[b].copy.board)))
        low = np.maximum(here.min(axis=0), there.min(axis=0))
        high = np.minimum(here.max(axis=0), there.max(axis=0))
        size = np.maximum(high - low, 0.0)
        axis = int(size.argmax())
        middle = (low + high) / 2.0
        if size[axis] < LONG * np.sort(size)[1]:
            places = [middle]
        else:
            aside = np.eye(3)[axis] * (0.5 * size[axis] - 0.5 * np.sort(size)[1])
            places = [middle - aside, middle + aside]
        for place in places:
            yield a, b, self._points(self.group[a], place[None])[0]

    def _joinings(self, steps: Sequence[AssemblyMove]) -> Iterator[Joining]:
        for step in steps:
            moves, onto = (
                frozenset(self.number[copy] for copy in some if copy in self.number) for some in (step.moves, step.onto)
            )
            if moves and onto:
                yield Joining(moves, onto, self.turn @ np.asarray(step.direction, float))

    def _one_by_one(self) -> Iterator[Joining]:
        """From the first board on: first those that meet it, then those that meet these, and of them first one that has
        a way on which it comes to all that it meets."""
        there = [0]
        while len(there) < len(self.group):
            bound = [found for first in there for found in self._bound(first, there)]
            if not bound:
                return
            number, way = next((each for each in bound if self._is_free(*each, there)), bound[0])
            yield Joining(frozenset({number}), frozenset(there), self.turn @ -way)
            there.append(number)

    def _bound(self, first: int, there: Sequence[int]) -> Iterator[tuple[int, FloatArray]]:
        """Boards that meet one, and are not there yet, with each way on which they come off it."""
        for contact in self.contacts:
            a, b = self.number[contact.a], self.number[contact.b]
            for one, other, sign in ((a, b, 1.0), (b, a, -1.0)):
                if one == first and other not in there:
                    yield from ((other, sign * way) for way in self.assembled.apart(contact))

    def _is_free(self, number: int, way: FloatArray, there: Sequence[int]) -> bool:
        """Whether a board comes off all of those on one of the ways that each joint leaves."""
        return all(
            any(float(way @ each) > STRAIGHT for each in (sign * self.assembled.apart(contact)))
            for contact in self.contacts
            for one, other, sign in (
                (self.number[contact.a], self.number[contact.b], 1.0),
                (self.number[contact.b], self.number[contact.a], -1.0),
            )
            if other == number and one in there
        )


def _shape(copy: Copy, bodies: Bodies, shapes: dict[tuple[str, bool], BoardShape]) -> BoardShape:
    """The board of a copy with its joints; that of the opposite hand is the mirror image."""
    board = copy.board
    key = (board.name, copy.opposite)
    if key not in shapes:
        if (board.name, False) not in shapes:
            shapes[board.name, False] = board_shape(board, bodies.get((board.name, "as drawn"), ()))
        if copy.opposite:
            shapes[key] = shapes[board.name, False].mirrored(board.length)
    return shapes[key]


def _corners(board: Board) -> FloatArray:
    """(8, 3), body frame."""
    return np.array(
        [(x, y, z) for x in (0.0, board.length) for y in (0.0, board.width) for z in (-board.thickness, 0.0)]
    )


def _standing(placed: Placed) -> StandingBoard:
    turn, copy = placed.motion.turn, placed.copy
    middle = placed.motion(_corners(copy.board)).mean(axis=0)
    return StandingBoard(copy.board.name, max(copy.number, 1), middle, turn[:, 0], turn[:, 1], turn[:, 2])
