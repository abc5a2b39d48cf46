"""Where the one sheet of a groove is laid for its other places: along its row, on the mirrored board, the other face.

The sheet is milled for the first of a row as drawn. For the others it moves from line to line, or against a spacer as
long as the step. Where the groove is mirrored along the grain, for the opposite hand or seen from the other face, it is
turned over; mirrored twice it lies as it was milled.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import hypot
from typing import TYPE_CHECKING

from jigcam.template.turning import MIRRORED, laying_line
from jigcam.wood.band import at_hand, sides, toward

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.joints.groove.groove import Groove
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice
    from jigcam.wood import Hand


def face_lines(groove: Groove) -> tuple[str, ...]:
    """What is engraved of the faces of a sheet for a groove in both faces of its board."""
    here, behind = groove.faces
    if not groove.opposite_hand:
        return f"this face up: {here} face", f"turn over: {behind} face"
    return (
        f"this face up: as drawn {here}, opposite {behind}",
        f"turn over: as drawn {behind}, opposite {here}",
    )


def turned_over(finding: Finding, groove: Groove) -> Finding:
    """What is said of turning the sheet over, where it serves the other face of the board."""
    if not groove.both_faces:
        return finding
    here, behind = groove.faces
    says = (
        f"for the {behind} face turn the sheet over like the page of a book, left for right, and screw its strips to "
        f"the other face through the same holes; the face that was milled up is up for the {here} face"
    )
    if groove.opposite_hand:
        says += ", and for the opposite hand it is the other way round"
    return replace(finding, says=says)


@dataclass(frozen=True)
class Laying:
    """The sheet on one face of the board of one hand. before: how it lay before; None: it is laid the first time."""

    groove: Groove
    plan: TemplatePlan
    face: str
    hand: Hand
    voice: Voice
    before: Laying | None = None

    @property
    def count(self) -> int:
        """Of the row."""
        return len(self.groove.row)

    @property
    def turned(self) -> bool:
        """Whether the face that was milled up is down."""
        return (self.hand == "opposite") != (self.face != self.groove.face)

    @property
    def onto(self) -> str:
        """The board that it is laid on."""
        return "the mirrored board" if self.hand == "opposite" else self.groove.board.name

    @property
    def board(self) -> str:
        """The face that it is laid on."""
        return f"the {self.face} face of {self.onto}"

    def side(self, side: int) -> str:
        """The name of the side of this board on which the sheet's own side lies."""
        return sides(self.face)[MIRRORED[side] if self.turned else side]

    def side_at_hand(self, side: int) -> str:
        """The same, with the hand at which it is."""
        return at_hand(self.side(side), self.face)

    def first(self) -> Iterator[str]:
        """How it is laid for the first of the row, a sentence each."""
        if self.before is None:
            yield laying_line(self.plan, self.voice)
            return
        marked = "engraved" if self.plan.marker else "marked"
        yield f"Lay {self.onto} with the {self.face} face up, the lower edge toward you again."
        if self.turned == self.before.turned:
            yield f"The sheet stays as it was, the {marked} face {'down' if self.turned else 'up'}."
        elif self.turned:
            yield (
                "Turn the sheet over like the page of a book, left for right: its left edge comes to the right, the "
                f"edge toward the board's {self.side(2)} stays there, and the {marked} face is down."
            )
        else:
            yield f"Turn the sheet over again, left for right: the {marked} face is up."
        for what, strip in (("fence", self.plan.fence), ("stop block", self.plan.stop)):
            if strip is not None:
                yield (
                    f"The {what} lies under the sheet, on the face that is down, by the same holes: it bears against "
                    f"the {self.side_at_hand(strip.side)} of this board."
                )
        for index in self.plan.indexes:
            distance = self.voice.rule(index.distance)
            yield f"The line for it on this board is {distance} from its {self.side_at_hand(index.side)}."

    def others(self) -> Iterator[str]:
        """How it is moved on along the row, a sentence each."""
        if self.count == 1:
            return
        along = [index for index in self.plan.indexes if any(self._step(n, index.side) for n in range(self.count))]
        yield "Move the sheet on without turning it, and cut each groove as the first, at the same settings."
        for number in range(1, self.count):
            by = [
                f"its line on one drawn {self.voice.rule(index.distance + self._step(number, index.side))} from the "
                f"{self.side_at_hand(index.side)}"
                for index in along
            ]
            yield f"Groove {number + 1} of {self.count}: {' and '.join(by)}."
        yield from self._spacer()

    def _step(self, number: int, side: int) -> float:
        """How far the sheet is moved away from a side at the low end of its axis, mm; see `template.sheet.Index`."""
        return self.plan.steps[number][side // 2]

    def _spacer(self) -> Iterator[str]:
        dx, dy = self.plan.steps[1]
        if abs(dx) > 0.0 and abs(dy) > 0.0:
            return
        away = (-dx if self.turned else dx, dy)
        size = hypot(dx, dy)
        behind = toward(-away[0] / size, -away[1] / size, self.face)
        if self.before is not None:
            yield f"Or by the same spacer, the block against the sheet's edge toward the {behind}."
            return
        yield (
            f"Or by a spacer of {self.voice.rule(size)}: before the sheet is moved, clamp a block to the board against "
            f"the sheet's edge toward the {behind}; move the sheet on and lay the spacer between block and sheet; then "
            "bring the block up to the sheet again. An error of the spacer adds up: look at the last by its line. The "
            "same spacer for all boards keeps their grooves alike."
        )
