"""In which order the clampings of a job follow each other, so that each still finds what its board is laid by.

A cut that takes wood from a surface which another clamping bears on comes after it: grooves before the tails that take
the corners away. A board that goes in last, as a back does, has its rabbet cut after what else its boards have. The
clampings of one sheet stay together and in their own order, but where another sheet has to come between; what lies in
one clamping of a board follows at once. All else is as the job has it. Where it goes round in a circle, what then
spoils what is named.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from jigcam.making.work_order import Clamping, WorkOrder
from jigcam.piece.clamping import Surface, lying, standing, surfaces_of
from jigcam.piece.work_sequence import Relations, sequence

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.making.setup import Setup
    from jigcam.piece.body import Body
    from jigcam.piece.space import Assembled
    from jigcam.wood import Hand, Taken


@dataclass(frozen=True, eq=False)
class _Part:
    """What a clamping does to one board of one hand. bears_on: what that is laid by; drawn: as any kit lays it, where
    the plan of this one is known."""

    board: str
    hand: Hand
    bodies: tuple[Body, ...]
    bears_on: tuple[Surface, ...]
    drawn: tuple[Surface, ...] = ()


@dataclass(eq=False)
class _Node:
    """A clamping while its place is looked for. first: which of the job's cuts it begins with."""

    clamping: Clamping
    first: int
    on_machine: bool
    setups: tuple[Setup, ...] = ()
    parts: list[_Part] = field(default_factory=list)

    def spoils(self, other: _Node, *, drawn: bool = False) -> bool:
        """Whether what it takes leaves too little of what the other one bears on."""
        return any(
            surface.lost(own.bodies)
            for own in self.parts
            for its in other.parts
            if (own.board, own.hand) == (its.board, its.hand)
            for surface in (its.drawn if drawn else its.bears_on)
        )

    def stays(self, other: _Node) -> bool:
        """Whether the board lies for this one as it lies for the other."""
        if not (self.on_machine and other.on_machine) or self.clamping.sheet == other.clamping.sheet:
            return False
        if (self.clamping.board, self.clamping.side) != (other.clamping.board, other.clamping.side):
            return False
        if not self.setups or not other.setups:
            return not self.setups and not other.setups
        mine, its = ({each.hand: each for each in node.setups} for node in (self, other))
        return set(mine) <= set(its) and all(_lies_alike(mine[hand], its[hand]) for hand in mine)


def work_order(
    job: Job,
    bodies: Sequence[Body],
    setups: Mapping[str, Sequence[Setup]] | None = None,
    assembled: Assembled | None = None,
) -> WorkOrder:
    """The order of all clampings. bodies: what the joints take, in the order of the job.

    setups: as planned, by joint, where they are known; else a board bears as the kind's own plans lay it. assembled:
    tells which joints a board that is like another has too, and which boards go in last.
    """
    nodes = _nodes(job, bodies, setups or {}, assembled)
    sheets: dict[str, list[int]] = {}
    for number, node in enumerate(nodes):
        sheets.setdefault(node.clamping.sheet, []).append(number)
    last = {each.meeting.joint for each in assembled.contacts if each.meeting.late} if assembled else frozenset()
    relations = _relations(nodes, last)
    order = sequence([*sheets.values()], relations, lambda one, before: nodes[one].stays(nodes[before]))
    done = [nodes[number].clamping for number in order]
    for place, (before, number) in enumerate(pairwise(order), start=1):
        # As drawn it is only likely that the board lies in the same way.
        if nodes[number].setups and nodes[number].stays(nodes[before]):
            done[place] = replace(done[place], stays=nodes[before].clamping.sheet)
    places = {number: place for place, number in enumerate(order)}
    against = [
        (done[places[one]], done[places[other]])
        for one in order
        for other in sorted(relations.hard[one], key=places.__getitem__)
        if places[one] < places[other]
    ]
    return WorkOrder(tuple(done), tuple(against))


def _nodes(
    job: Job, bodies: Sequence[Body], setups: Mapping[str, Sequence[Setup]], assembled: Assembled | None
) -> list[_Node]:
    """The clampings as the job has them, those of a sheet in the order of its plan."""
    groups: dict[tuple[str, str, str], list[tuple[int, Body]]] = {}
    for number, body in enumerate(bodies):
        if body.box is not None:
            entry = job.joint(body.taken.joint)
            sheet = entry.template if entry.template in job.sheets else entry.name
            groups.setdefault((sheet or entry.name, body.taken.board.name, side_of(body.taken)), []).append(
                (number, body)
            )
    likes = _likes(job, assembled)
    made = []
    for (sheet, name, side), found in groups.items():
        joints = tuple(dict.fromkeys(body.taken.joint for _, body in found))
        kind = " ".join(job.joint(joints[0]).kind.rsplit("-", 1))
        its = [*{id(setup): setup for joint in joints for setup in setups.get(joint, ())}.values()]
        own = tuple(setup for setup in its if any(_cuts(setup, body.taken) for _, body in found))
        likewise = [board for board, meets in likes.get(name, {}).items() if meets & set(joints)]
        clamping = Clamping(sheet, joints, kind, name, (name, *likewise), side)
        node = _Node(clamping, found[0][0], all(job.joint(joint).way == "direct" for joint in joints), own)
        hands = dict.fromkeys(body.taken.hand for _, body in found)
        for board in clamping.boards:
            for hand in hands if board == name else [hand for hand in hands if hand == "as drawn"]:
                some = tuple(body for _, body in found if body.taken.hand == hand)
                if board != name:
                    some = tuple(body for body in some if body.taken.joint in likes[name][board])
                node.parts.append(_part(job.board(name), board, some, its))
        made.append(node)
    places = {entry.name: place for place, entry in enumerate(job.joints)}
    firsts: dict[str, int] = {}
    for node in made:
        sheet = node.clamping.sheet
        firsts[sheet] = min(firsts.get(sheet, len(places)), *(places[joint] for joint in node.clamping.joints))
    plans = {id(setup): place for some in setups.values() for place, setup in enumerate(some)}

    def as_it_is(node: _Node) -> tuple[int, int, int]:
        planned = min((plans[id(setup)] for setup in node.setups), default=len(plans))
        return firsts[node.clamping.sheet], planned, node.first

    return sorted(made, key=as_it_is)


def _likes(job: Job, assembled: Assembled | None) -> dict[str, dict[str, set[str]]]:
    """By the name of a board the boards that are like it, with the joints that they have."""
    found: dict[str, dict[str, set[str]]] = {}
    for board in job.boards.values():
        if board.like is not None:
            contacts = assembled.contacts if assembled else ()
            its = {each.meeting.joint for each in contacts if board.name in (each.a.board.name, each.b.board.name)}
            found.setdefault(board.like, {})[board.name] = its
    return found


def _part(board: Board, name: str, bodies: tuple[Body, ...], setups: Sequence[Setup]) -> _Part:
    taken = bodies[0].taken
    own = [setup for setup in setups if setup.hand == taken.hand and _cuts(setup, taken)]
    drawn = _as_drawn(board, taken)
    if not own:
        return _Part(name, taken.hand, bodies, drawn)
    return _Part(name, taken.hand, bodies, tuple(s for setup in own for s in surfaces_of(setup, board)), drawn)


def _relations(nodes: Sequence[_Node], last: Collection[str]) -> Relations:
    """What has to come before what, and what had better. last: joints of boards that go in last."""
    hard: list[set[int]] = [set() for _ in nodes]
    soft: list[set[int]] = [set() for _ in nodes]
    late = [set(node.clamping.joints) <= set(last) for node in nodes]
    for one, node in enumerate(nodes):
        for other, its in enumerate(nodes):
            if one == other:
                continue
            mine, there = node.clamping, its.clamping
            if mine.sheet == there.sheet:
                # A mate is marked from what is cut before it, and a shared sheet lies on a board once.
                if other < one and (mine.board == there.board or {*mine.joints} & {*there.joints}):
                    hard[one].add(other)
            elif {*mine.boards} & {*there.boards}:
                if node.spoils(its):
                    hard[one].add(other)
                if (late[one] and not late[other]) or node.spoils(its, drawn=True):
                    soft[one].add(other)
    return Relations(tuple(map(frozenset, hard)), tuple(map(frozenset, soft)))


def side_of(taken: Taken) -> str:
    """The side of its board from which a cut is made, as a maker calls it."""
    return f"{taken.end} end" if taken.end else f"{taken.face} face"


def _cuts(setup: Setup, taken: Taken) -> bool:
    """Whether a setup is one of those that cut this."""
    if setup.board != taken.board.name or setup.hand != taken.hand:
        return False
    return setup.end == taken.end if setup.end else bool(taken.end) or setup.face == taken.face


def _lies_alike(one: Setup, other: Setup) -> bool:
    """Whether a board is clamped and zeroed alike."""
    names = ("clamping", "face", "end", "stock", "zero")
    same = all(getattr(one, name) == getattr(other, name) for name in names)
    return same and bool(np.allclose(one.placement, other.placement, atol=1e-6))


def _as_drawn(board: Board, taken: Taken) -> tuple[Surface, ...]:
    """Standing for an end; for a face lying, its zero at the lower corner of the end from which the cut is drawn."""
    if taken.end:
        return standing(taken.end, board)
    from_left = (taken.face == "outside") == (taken.hand == "as drawn")
    return lying(0.0 if from_left else board.length, 0.0, taken.face, board)
