"""The joints of a piece together on their boards, as drawn: every pair that comes near, and the order of clamping."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import TYPE_CHECKING

from jigcam.making.told import Told, once
from jigcam.making.work_order import WorkOrder
from jigcam.piece.between import Between
from jigcam.piece.body import Body, body_of
from jigcam.piece.clamping import reference_findings
from jigcam.piece.end_zone import EndZone, end_zones
from jigcam.piece.order_of_work import side_of
from jigcam.piece.rules import between_findings
from jigcam.wood.practice import PRACTICE

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.job import Board
    from jigcam.making.setup import Setup
    from jigcam.units import Voice
    from jigcam.wood import Hand, Taken

NEAR = 2.0 * PRACTICE.web
"""Cuts further apart than this have nothing to do with each other, mm."""


@dataclass(frozen=True)
class PieceJoint:
    """A joint of the piece. setups: as planned with a kit; none where it is only drawn."""

    name: str
    taken: tuple[Taken, ...]
    setups: tuple[Setup, ...] = ()

    @cached_property
    def bodies(self) -> tuple[Body, ...]:
        """What it takes, in its own order."""
        return tuple(map(body_of, self.taken))


@dataclass(frozen=True)
class CutBoard:
    """A board of one hand with all that the joints take from it, in the order of the job."""

    board: Board
    hand: Hand
    bodies: tuple[Body, ...]

    @cached_property
    def zones(self) -> tuple[EndZone, ...]:
        """Of its end joints."""
        return end_zones(self.bodies)


@dataclass(frozen=True)
class Piece:
    """The joints of a job together. only: names of some, where nothing else is asked for than what concerns
    them. order: of the work."""

    joints: tuple[PieceJoint, ...]
    voice: Voice
    only: frozenset[str] | None = None
    order: WorkOrder = field(default_factory=WorkOrder)

    @cached_property
    def boards(self) -> tuple[CutBoard, ...]:
        """Every board with several cuts, for each hand; with `only` those that this one cuts."""
        bodies: dict[tuple[str, Hand], list[Body]] = {}
        for joint in self.joints:
            for body in joint.bodies:
                if body.box is not None:
                    bodies.setdefault((body.taken.board.name, body.taken.hand), []).append(body)
        boards = [CutBoard(found[0].taken.board, hand, tuple(found)) for (_, hand), found in bodies.items()]
        return tuple(board for board in boards if self._concern(board.bodies))

    @cached_property
    def pairs(self) -> tuple[Between, ...]:
        """Cuts of two joints that come near each other, beside those that run into an end joint; boxes first."""
        return tuple(pair for board in self.boards for pair in self._pairs(board))

    @cached_property
    def as_drawn(self) -> tuple[Told, ...]:
        """What there is to say of the joints together, each thing once: it is not said again of the mirrored board."""
        return once(self._told())

    def setups_on(self, board: CutBoard) -> Iterator[tuple[int, PieceJoint, Setup]]:
        """The setups that work on a board, in the order of the job, with the place of their clamping in that of the
        work."""
        for joint in self.joints:
            for setup in joint.setups:
                if setup.board == board.board.name and setup.hand == board.hand:
                    yield self.order.place(joint.name, setup.board, setup.side), joint, setup

    def _concerns(self, names: Iterable[str]) -> bool:
        found = set(names)
        return len(found) > 1 and (self.only is None or bool(self.only & found))

    def _concern(self, bodies: Sequence[Body]) -> bool:
        """Whether bodies of several joints are to be looked at, or several of one that stand apart."""
        names = [body.taken.joint for body in bodies if body.taken.apart]
        rows = {name for name in names if names.count(name) > 1}
        return self._concerns(body.taken.joint for body in bodies) or bool(
            rows & (rows if self.only is None else self.only)
        )

    def _pairs(self, board: CutBoard) -> Iterator[Between]:
        for a, b in self._near(board):
            if not any(zone is not None for zone in (_zone(board, a, b), _zone(board, b, a))):
                yield Between(a, b)

    def _near(self, board: CutBoard) -> Iterator[tuple[Body, Body]]:
        for a, b in combinations(board.bodies, 2):
            if self._concern((a, b)) and a.box and b.box and a.box.apart(b.box) < NEAR:
                yield a, b

    def _told(self) -> Iterator[Told]:
        for pair in self.pairs:
            names = (pair.a.taken.joint, pair.b.taken.joint)
            yield from (Told(names, pair.a.taken.hand, each) for each in between_findings(pair, self.voice))
        for board in self.boards:
            yield from self._in_zones(board)
            yield from self._references(board)

    def _in_zones(self, board: CutBoard) -> Iterator[Told]:
        for body in board.bodies:
            zones = [z for z in board.zones if self._concerns((z.joint, body.taken.joint)) and _in(z, body)]
            for zone in zones:
                # What is the same at both ends of one joint is said once, of both.
                alike = [z for z in zones if z.joint == zone.joint and self._says(z, body) == self._says(zone, body)]
                if zone is alike[0]:
                    for each in zone.findings(body, self.voice, both=len(alike) > 1):
                        yield Told((body.taken.joint, zone.joint), board.hand, each)

    def _says(self, zone: EndZone, body: Body) -> tuple[Finding, ...]:
        return tuple(zone.findings(body, self.voice, both=True))

    def _references(self, board: CutBoard) -> Iterator[Told]:
        """What an order that goes round in a circle spoils."""
        place = {body: self._place(body.taken) for body in board.bodies}
        for number, joint, setup in self.setups_on(board):
            earlier = [body for body in board.bodies if place[body] < number]
            for name in dict.fromkeys(body.taken.joint for body in earlier):
                if self._concerns((name, joint.name)):
                    bodies = [body for body in earlier if body.taken.joint == name]
                    for each in reference_findings(setup, joint.name, board.board, bodies):
                        yield Told((name, joint.name), board.hand, each)

    def _place(self, taken: Taken) -> int:
        return self.order.place(taken.joint, taken.board.name, side_of(taken))


def _in(zone: EndZone, body: Body) -> bool:
    """Whether a cut that belongs to no end comes into a zone."""
    return body.taken.end is None and body.taken.joint != zone.joint and zone.holds(body)


def _zone(board: CutBoard, body: Body, of: Body) -> EndZone | None:
    """The zone of the end joint `of` belongs to, if the other cut comes into it."""
    for zone in board.zones:
        if (zone.joint, zone.end) == (of.taken.joint, of.taken.end) and _in(zone, body):
            return zone
    return None
