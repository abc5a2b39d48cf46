"""How a piece goes together: the order of its boards in space, part by part, or which of them lock each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from jigcam.piece.blocking import Blocking, Hold, mask_of
from jigcam.piece.boxes import Box, Boxes
from jigcam.piece.order import Order, assembly_order

if TYPE_CHECKING:
    from jigcam.piece.space import Assembled, Contact, Copy, Placed

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
            Hold(number[each.a], number[each.b], assembled.apart(each).reshape(-1, 3), each.meeting.joint)
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

    def copies(self, numbers: Sequence[int]) -> tuple[Copy, ...]:
        """The boards of these numbers."""
        return tuple(self.placed[number].copy for number in numbers)

    def opens(self, numbers: Sequence[int], holds: Sequence[Hold]) -> bool:
        """Whether boards that lock each other go together with their joints so changed, with all of the part."""
        blocking = Blocking.of(self.boxes, holds)
        return not blocking.locked(mask_of(numbers)) and assembly_order(blocking).locked == ()

    def freed(self, joint: str, apart: Sequence[FloatArray | None]) -> tuple[Hold, ...]:
        """What the boards hold with other ways off in each place of a joint: one (k, 3) for each hold; None: as it is."""
        return tuple(
            hold if other is None or hold.joint != joint else replace(hold, apart=other)
            for hold, other in zip(self.holds, apart, strict=True)
        )


def assembly_of(assembled: Assembled) -> tuple[PartAssembly, ...]:
    """Part by part; boards that meet no others are parts of their own, without steps."""
    return tuple(PartAssembly.of(placed, assembled) for placed in assembled.parts)


def box_of(placed: Placed) -> Box:
    """A board as a box in its world."""
    board = placed.copy.board
    sizes = np.array([board.length, board.width, board.thickness])
    middle = placed.motion(np.array([1.0, 1.0, -1.0]) * sizes / 2.0)
    return Box(middle, placed.motion.turned(np.diag(sizes / 2.0)))
