"""The pictures and the cut list of a job's piece: from its boards in space to what is drawn and listed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from contextlib import suppress
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jigcam.errors import Refused
from jigcam.joints import design
from jigcam.piece.board_shape import BoardShape, board_shape
from jigcam.piece.body import Body, body_of
from jigcam.piece.cut_list import CutList, cut_list
from jigcam.piece.order_words import told_steps
from jigcam.piece.picture import PicturedBoard, piece_drawing, piece_view
from jigcam.piece.pulled_apart import Joining, pulled_apart
from jigcam.piece.room import rooms_of
from jigcam.piece.standing import StandingBoard, seen_from, standing

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing, View
    from jigcam.job import Board, Job
    from jigcam.making.work_order import WorkOrder
    from jigcam.piece.assembly import AssemblyStep, PartAssembly
    from jigcam.piece.space import Assembled, Contact, Copy, Placed
    from jigcam.wood import Hand, Taken
    from jigcam.wood.seasons import Seasons

FloatArray = npt.NDArray[np.float64]
Bodies = Mapping[tuple[str, "Hand"], Sequence[Body]]
"""What joints take, by the name of the board and its hand."""
LONG = 3.0
"""A place where boards meet that is so many times longer than wide has a way at each of its ends."""


def bodies_of(taken: Iterable[Taken]) -> dict[tuple[str, Hand], list[Body]]:
    """What joints take of the boards, in the order of the job."""
    found: dict[tuple[str, Hand], list[Body]] = {}
    for each in taken:
        body = body_of(each)
        if body.box is not None:
            found.setdefault((each.board.name, each.hand), []).append(body)
    return found


def taken_as_drawn(job: Job) -> list[Taken]:
    """What the joints of a job take as drawn, without any tool; of joints that cannot be drawn nothing."""
    taken: list[Taken] = []
    for entry in job.joints:
        with suppress(Refused):  # `make` says why
            taken += design(entry, job).taken()
    return taken


def piece_cuts(job: Job, assembled: Assembled, order: WorkOrder, seasons: Seasons | None = None) -> CutList:
    """The cut list. order: of the work on all its boards. seasons: by which boards that float get room; None: they get
    none."""
    work = {name: order.on(name) for name in job.boards}
    counts = Counter(each.copy.board.name for each in assembled.placed)
    opposite = Counter(each.copy.board.name for each in assembled.placed if each.copy.opposite)
    rooms = rooms_of(job, assembled, seasons) if seasons else None
    return cut_list(job.boards.values(), counts, work, job.allowance, job.voice, opposite, rooms)


def piece_drawings(job: Job, bodies: Bodies, parts: Sequence[PartAssembly]) -> dict[str, Drawing]:
    """The piece put together and pulled apart, by the stems of their files; nothing where no board meets another.

    Boards that lock each other stay together in the second one.
    """
    shapes: dict[tuple[str, bool], BoardShape] = {}
    scenes = [_Scene(part, bodies, shapes) for part in parts if len(part.placed) > 1]
    several, size = len(scenes) > 1, "wide, deep, high"
    facts = [("boards", str(sum(len(scene.part.placed) for scene in scenes)))]
    facts += [(scene.who if several else size, job.voice.size(*scene.size)) for scene in scenes]
    made = {}
    for stem, words in (("together", "put together"), ("apart", "pulled apart")):
        captions = [f"{words}{f': {scene.who}' if several else ''}, {scene.seen}" for scene in scenes]
        apart = stem == "apart"
        views = [scene.view(words, apart=apart) for scene, words in zip(scenes, captions, strict=True)]
        if views:
            made[stem] = piece_drawing(f"{job.title}: {words}", views, job.voice, () if apart else facts)
    return made


def step_views(job: Job, bodies: Bodies, part: PartAssembly) -> list[View]:
    """What has to be done to put a part together, step by step: the boards so far, those that go in before they do, and
    the ways in. The caption says it. Steps that are alike share a picture."""
    scene = _Scene(part, bodies, {})
    return [scene.step(f"{number}. {line}", steps) for number, (line, steps) in enumerate(told_steps(part), start=2)]


class _Scene:
    """Boards that hang together, as they stand in space."""

    def __init__(self, part: PartAssembly, bodies: Bodies, shapes: dict[tuple[str, bool], BoardShape]) -> None:
        self.part = part
        self.number = {each.copy: number for number, each in enumerate(part.placed)}
        housed = [(self.number[each.a], self.number[each.b]) for each in part.contacts]
        boards = [_standing(each) for each in part.placed]
        late = {self.number[each.b] for each in part.contacts if each.meeting.late}
        self.turn = standing(boards, housed, late)
        self.seen = seen_from(self.turn, boards, late)
        self.shapes = [_shape(each.copy, part, bodies, shapes) for each in part.placed]
        self.corners = [self._in_space(each, _corners(each.copy.board)) for each in part.placed]
        self.who = f"{part.placed[0].copy.name} and {len(part.placed) - 1} more"

    @property
    def size(self) -> tuple[float, float, float]:
        """Width, depth and height as it stands, mm."""
        points = np.vstack(self.corners)
        wide, deep, high = points.max(axis=0) - points.min(axis=0)
        return float(wide), float(deep), float(high)

    def view(self, caption: str, *, apart: bool) -> View:
        """The picture of it put together, or pulled apart."""
        if not apart:
            return piece_view(caption, self._boards(np.zeros((len(self.shapes), 3))))
        joinings = [
            Joining(
                frozenset(self.number[copy] for copy in step.moves),
                frozenset(self.number[copy] for copy in step.onto),
                self.turn @ step.direction,
            )
            for step in self.part.steps
        ]
        meets = [meet for contact in self.part.contacts for meet in self._meets(contact)]
        pulled = pulled_apart(self.corners, joinings, meets)
        return piece_view(caption, self._boards(pulled.moved), pulled.ways)

    def step(self, caption: str, steps: Sequence[AssemblyStep]) -> View:
        """The picture of boards on their way in; only these have names."""
        moves = {self.number[copy] for step in steps for copy in step.moves}
        there = moves | {self.number[copy] for step in steps for copy in step.onto}
        joining = Joining(frozenset(moves), frozenset(there - moves), self.turn @ steps[0].direction)
        meets = [meet for contact in self.part.contacts for meet in self._meets(contact)]
        pulled = pulled_apart(self.corners, [joining], [each for each in meets if {*each[:2]} <= there])
        return piece_view(caption, self._boards(pulled.moved, there), pulled.ways, {*self._names(moves)})

    def _names(self, numbers: Iterable[int]) -> Iterator[str]:
        return (self.part.placed[number].copy.name for number in numbers)

    def _boards(self, moved: FloatArray, only: Set[int] | None = None) -> list[PicturedBoard]:
        return [
            PicturedBoard(
                each.copy.name,
                shape.moved(self.turn @ each.motion.turn, self.turn @ each.motion.shift + by, number),
            )
            for number, (each, shape, by) in enumerate(zip(self.part.placed, self.shapes, moved, strict=True))
            if only is None or number in only
        ]

    def _in_space(self, placed: Placed, points: FloatArray) -> FloatArray:
        """Points of a board's body frame in space."""
        there: FloatArray = placed.motion(points) @ self.turn.T
        return there

    def _meets(self, contact: Contact) -> Iterator[tuple[int, int, FloatArray]]:
        """Where two boards meet: the middle of what their boxes share, in the frame of the first, or both its ends."""
        a, b = self.number[contact.a], self.number[contact.b]
        first, second = self.part.placed[a], self.part.placed[b]
        here = _corners(first.copy.board)
        there = first.motion.inverse()(second.motion(_corners(second.copy.board)))
        low = np.maximum(here.min(axis=0), there.min(axis=0))
        high = np.minimum(here.max(axis=0), there.max(axis=0))
        size = np.maximum(high - low, 0.0)
        middle, axis, next_size = (low + high) / 2.0, int(size.argmax()), float(np.sort(size)[1])
        aside = np.eye(3)[axis] * 0.5 * (size[axis] - next_size)
        places = [middle] if size[axis] < LONG * next_size else [middle - aside, middle + aside]
        for place in places:
            yield a, b, self._in_space(first, place[None])[0]


def _cut_of(board: Board, bodies: Bodies, contacts: Sequence[Contact]) -> Sequence[Body]:
    """What joints take of a board; of one that is like another, by those of that one's joints that it has too."""
    own = bodies.get((board.name, "as drawn")) or bodies.get((board.name, "opposite"), ())
    if board.like is None:
        return own
    meets = {each.meeting.joint for each in contacts if board.name in (each.a.board.name, each.b.board.name)}
    return [*(body for body in bodies.get((board.like, "as drawn"), ()) if body.taken.joint in meets), *own]


def _shape(copy: Copy, part: PartAssembly, bodies: Bodies, shapes: dict[tuple[str, bool], BoardShape]) -> BoardShape:
    """The board of a copy with its joints; that of the opposite hand is the mirror image."""
    board = copy.board
    key = (board.name, copy.opposite)
    if key not in shapes:
        if (board.name, False) not in shapes:
            shapes[board.name, False] = board_shape(board, _cut_of(board, bodies, part.contacts))
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
