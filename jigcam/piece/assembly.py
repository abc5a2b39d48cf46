"""How a piece goes together: the order of its boards in space, part by part, or which of them lock each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from jigcam.piece.blocking import Blocking, Hold
from jigcam.piece.boxes import BoardBox, Boxes
from jigcam.piece.order import Order, assembly_order

if TYPE_CHECKING:
    from jigcam.piece.space import Assembled, Contact, Copy, Placed
    from jigcam.wood.meeting import Motion

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class AssemblyStep:
    """Boards that move together onto others that are together already.

    direction: (3,) unit vector in which they go in, in the world of their part. far: from where they are clear of the
    boards that they are joined to, mm.
    """

    moves: tuple[Copy, ...]
    onto: tuple[Copy, ...]
    direction: FloatArray
    far: float

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {
            "moves": [copy.name for copy in self.moves],
            "onto": [copy.name for copy in self.onto],
            "direction": [round(float(each), 6) + 0.0 for each in self.direction],
        }


@dataclass(frozen=True, eq=False)
class PartAssembly:
    """One part of a piece: boards that hang together by their joints. contacts: between these."""

    placed: tuple[Placed, ...]
    contacts: tuple[Contact, ...]
    holds: tuple[Hold, ...]

    @classmethod
    def of(cls, placed: Sequence[Placed], assembled: Assembled) -> PartAssembly:
        """A part of a piece in space."""
        number = {each.copy: place for place, each in enumerate(placed)}
        contacts = tuple(each for each in assembled.contacts if each.a in number and each.b in number)
        holds = tuple(
            Hold(number[each.a], number[each.b], _apart(each, assembled), each.meeting.joint, each.meeting.late)
            for each in contacts
        )
        return cls(tuple(placed), contacts, holds)

    @cached_property
    def boxes(self) -> Boxes:
        """Its boards without their joints, in its world."""
        return Boxes([box_of(each) for each in self.placed])

    @cached_property
    def blocking(self) -> Blocking:
        """Which board holds which."""
        return Blocking.of(self.boxes, self.holds)

    @cached_property
    def order(self) -> Order:
        """By number of the boards."""
        return assembly_order(self.blocking)

    @property
    def steps(self) -> tuple[AssemblyStep, ...]:
        """In order."""
        return tuple(
            AssemblyStep(self.copies(step.moves), self.copies(step.onto), step.direction, step.far)
            for step in self.order.steps
        )

    @property
    def locked(self) -> tuple[tuple[int, ...], ...]:
        """Boards, by number, of which none can go in last."""
        return self.order.locked

    def motion_of(self, copy: Copy) -> Motion:
        """From the body frame of one of its boards to its world."""
        return next(each.motion for each in self.placed if each.copy == copy)

    def copies(self, numbers: Sequence[int]) -> tuple[Copy, ...]:
        """The boards of these numbers."""
        return tuple(self.placed[number].copy for number in numbers)

    def opens(self, numbers: Sequence[int], apart: Mapping[int, FloatArray]) -> bool:
        """Whether boards that lock each other go together where some holds, by number, leave other ways off, (k, 3)."""
        holds = [replace(hold, apart=apart.get(number, hold.apart)) for number, hold in enumerate(self.holds)]
        left = assembly_order(Blocking.of(self.boxes, holds)).locked
        return not any(set(numbers) & set(each) for each in left)


def assembly_of(assembled: Assembled) -> tuple[PartAssembly, ...]:
    """Part by part; boards that meet no others are parts of their own, without steps."""
    return tuple(PartAssembly.of(placed, assembled) for placed in assembled.parts)


def _apart(contact: Contact, assembled: Assembled) -> FloatArray:
    return assembled.apart(contact) if contact.meeting.apart else np.zeros((0, 3))


def box_of(placed: Placed) -> BoardBox:
    """A board as a box in its world."""
    board = placed.copy.board
    sizes = np.array([board.length, board.width, board.thickness])
    middle = placed.motion(np.array([1.0, 1.0, -1.0]) * sizes / 2.0)
    return BoardBox(middle, placed.motion.turned(np.diag(sizes / 2.0)))
