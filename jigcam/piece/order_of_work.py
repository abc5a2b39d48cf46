"""In which order the clampings of a board follow each other, so that each still finds what the board is laid by.

A cut that takes wood from a surface which another clamping bears on comes after it: grooves before the tails that take
the corners away. Where that goes round in a circle, the job's own order stands, and what then spoils what is named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from jigcam.piece.clamping import Surface, lying, standing, surfaces_of
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.making.setup import Setup
    from jigcam.piece.body import Body
    from jigcam.wood import Taken


@dataclass(frozen=True, eq=False)
class Clamping:
    """One clamping of a board. joints: what is cut in it, by name; kind: of these; side: "inside face", "left end".

    bodies: the wood that is taken; bears_on: what it is laid by.
    """

    joints: tuple[str, ...]
    kind: str
    side: str
    bodies: tuple[Body, ...]
    bears_on: tuple[Surface, ...]

    @property
    def words(self) -> str:
        """What is done, in a line: "trays (groove), inside face"."""
        return f"{' and '.join(self.joints)} ({self.kind}), {self.side}"

    def spoils(self, other: Clamping) -> bool:
        """Whether what it takes leaves too little of what the other one bears on."""
        return any(surface.lost(self.bodies) for surface in other.bears_on)


@dataclass(frozen=True)
class WorkOrder:
    """The clampings of a board in the order in which they are done. against: pairs of which the first is done
    before the second and takes what that one bears on, as no order has none of them."""

    clampings: tuple[Clamping, ...]
    against: tuple[tuple[Clamping, Clamping], ...] = ()


def work_order(clampings: Sequence[Clamping]) -> WorkOrder:
    """The clampings, those first that later ones would spoil; for the rest as they come."""
    after = {place: set(_spoilt_by(place, clampings)) for place in range(len(clampings))}
    rest, done, against = list(range(len(clampings))), [], []
    while rest:
        # Those that spoil nothing of what is still to do.
        free = [place for place in rest if not any(place in after[other] for other in rest if other != place)]
        place = free[0] if free else rest[0]
        if not free:
            against += [(clampings[place], clampings[other]) for other in rest if place in after[other]]
        rest.remove(place)
        done.append(clampings[place])
    return WorkOrder(tuple(done), tuple(against))


def clampings_of(
    board: Board, bodies: Sequence[Body], job: Job, setups: Mapping[str, Sequence[Setup]] | None = None
) -> tuple[Clamping, ...]:
    """How a board is clamped for all that its joints take (bodies, in the order of the job), a side at a time.

    setups: as planned, by joint, where they are known; else it bears as the kind's own plans lay it.
    """
    groups: dict[tuple[str, str], list[Body]] = {}
    for body in bodies:
        if body.box is not None:
            sheet = job.joint(body.taken.joint).template or body.taken.joint
            groups.setdefault((sheet, _side(body)), []).append(body)
    made = []
    for (_, side), found in groups.items():
        joints = tuple(dict.fromkeys(body.taken.joint for body in found))
        kind = " ".join(job.joint(joints[0]).kind.rsplit("-", 1))
        its = [setup for joint in joints for setup in (setups or {}).get(joint, ())]
        made.append(Clamping(joints, kind, side, tuple(found), _bears_on(board, found[0].taken, its)))
    return tuple(made)


def _spoilt_by(place: int, clampings: Sequence[Clamping]) -> Iterator[int]:
    """The places of those that spoil one."""
    for other, each in enumerate(clampings):
        if other != place and each.spoils(clampings[place]):
            yield other


def _side(body: Body) -> str:
    return f"{body.taken.end} end" if body.taken.end else f"{body.taken.face} face"


def _bears_on(board: Board, taken: Taken, setups: Sequence[Setup]) -> tuple[Surface, ...]:
    """By the setups that cut this side, or else: standing for an end, and for a face lying, its zero at the lower
    corner of the end from which the cut is drawn."""
    own = [
        setup
        for setup in setups
        if setup.board == taken.board.name
        and setup.hand == taken.hand
        and (setup.end == taken.end if setup.end else taken.end or setup.face == taken.face)
    ]
    if own:
        return tuple(surface for setup in own for surface in surfaces_of(setup, board))
    if taken.end:
        return standing(taken.end, board)
    from_left = (taken.face == "outside") == (taken.hand == "as drawn")
    return lying(0.0 if from_left else board.length, 0.0, taken.face, board)
