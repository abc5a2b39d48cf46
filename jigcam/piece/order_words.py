"""The order of assembly in words: what goes into what, which side of it first, from where, and where clamps press."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from jigcam.piece.ways import from_side, joints_listed, listed, side_words

if TYPE_CHECKING:
    from jigcam.piece.assembly import AssemblyStep, PartAssembly
    from jigcam.piece.space import Contact, Placed

FloatArray = npt.NDArray[np.float64]

PRESSED: Final = 0.99
"""A joint is drawn together along the way in where this goes into it with at least this cosine: there a clamp helps."""


@dataclass(frozen=True, eq=False)
class StepWords:
    """What a step says. onto: the sides on which a face that leads comes to lie; "" where none does. like: steps that
    say the same of boards that stand alike are told as one."""

    step: AssemblyStep
    joints: tuple[str, ...]
    met: tuple[str, ...]
    lead: str
    source: str
    facing: str
    onto: str = ""

    @classmethod
    def of(cls, step: AssemblyStep, part: PartAssembly) -> StepWords:
        """Of a step of a part."""
        meets = [*meeting_in(step, part)]
        placed = {each.copy: each for each in part.placed}
        stays = [contact.a if contact.b in step.moves else contact.b for contact in meets]
        first = placed[step.moves[0]]
        # Seen from the board that has the cut, where that one stays; else by the side that leads.
        holder = next((placed[c.a] for c in meets if c.a in step.onto), placed[stays[0]])
        leads = side_words(step.direction, first)
        return cls(
            step,
            tuple(dict.fromkeys(contact.meeting.joint for contact in meets)),
            tuple(dict.fromkeys(copy.name for copy in stays)),
            f"{_of(first, step)} {leads}{'' if leads.endswith('face') else ' first'}",
            from_side(step.direction, holder),
            _facing(first, step, holder),
            _onto([placed[each] for each in dict.fromkeys(stays)], step) if leads.endswith("face") else "",
        )

    @property
    def like(self) -> tuple[object, ...]:
        """What tells it from others."""
        way = tuple(np.round(self.step.direction, 6))
        return (len(self.step.moves) == 1, self.joints, self.met, self.lead, self.source, self.facing, way)


def meeting_in(step: AssemblyStep, part: PartAssembly) -> Iterator[Contact]:
    """The contacts that a step brings together."""
    for contact in part.contacts:
        if (contact.a in step.moves and contact.b in step.onto) or (contact.b in step.moves and contact.a in step.onto):
            yield contact


def order_lines(part: PartAssembly) -> list[str]:
    """One line a step, steps that are alike in one; none for a board that meets no other."""
    if not part.steps:
        return []
    return [ready_line(part), *(line for line, _ in told_steps(part))]


def ready_line(part: PartAssembly) -> str:
    """Where a part of several boards begins."""
    return f"{listed([copy.name for copy in part.steps[0].onto])} lies ready"


def told_steps(part: PartAssembly) -> list[tuple[str, tuple[AssemblyStep, ...]]]:
    """What is said of each step, or of several that are alike, and these steps."""
    words = [StepWords.of(step, part) for step in part.steps]
    groups = [[*group] for _, group in groupby(words, key=lambda each: each.like)]
    return [(_line(group), tuple(each.step for each in group)) for group in groups]


def _line(group: Sequence[StepWords]) -> str:
    one = group[0]
    names = [copy.name for each in group for copy in each.step.moves]
    together = ", one after the other" if len(group) > 1 else ", together" if len(names) > 1 else ""
    if one.onto:
        return f"{listed(names)}{together}: {one.lead} onto {one.onto} ({joints_listed(one.joints)}), {one.facing}"
    return (
        f"{listed(names)}{together}: {one.lead}, into {listed(one.met)} ({joints_listed(one.joints)}), {one.source}, "
        f"{one.facing}"
    )


def _onto(stays: Sequence[Placed], step: AssemblyStep) -> str:
    """Which sides of the boards that stay a face comes to lie on, each side with its boards."""
    sides: dict[str, list[str]] = {}
    for each in stays:
        sides.setdefault(side_words(-step.direction, each), []).append(each.copy.name)
    return listed([f"the {side} of {listed(names)}" for side, names in sides.items()])


def _of(first: Placed, step: AssemblyStep) -> str:
    """Whose side it is: of the one board that moves, or of the first of several."""
    return "its" if len(step.moves) == 1 else f"{first.copy.name}'s"


def _facing(first: Placed, step: AssemblyStep, holder: Placed) -> str:
    """How the board that moves is turned about its way in: where one more of its sides looks, seen from the other."""
    side, out = "outside face", first.motion.turned([0.0, 0.0, 1.0])
    if abs(float(out @ step.direction)) > PRESSED:
        side, out = "lower edge", first.motion.turned([0.0, -1.0, 0.0])
    return f"{_of(first, step)} {side} toward the {side_words(out, holder)} of {holder.copy.name}"


def clamp_lines(part: PartAssembly, floating: Set[str] = frozenset()) -> list[str]:
    """Where clamps press once joints are glued: along the ways in that draw a joint together, not those that slide, and
    not where a board is laid in from outside. floating: joints without glue, on which nothing presses."""
    pressed: dict[tuple[float, ...], list[AssemblyStep]] = {}
    for step in part.steps:
        glued = [each for each in meeting_in(step, part) if each.meeting.joint not in floating]
        if any(not contact.meeting.late and _drawn(contact, step, part) for contact in glued):
            line = step.direction if tuple(np.round(step.direction, 6)) > (0.0, 0.0, 0.0) else -step.direction
            pressed.setdefault(tuple(np.round(line, 4) + 0.0), []).append(step)
    return [_clamped(part, np.array(line), steps) for line, steps in pressed.items()]


def _clamped(part: PartAssembly, way: FloatArray, steps: Sequence[AssemblyStep]) -> str:
    """From one side to the other along a line: on the faces of the boards that have the cuts, where there are such."""
    boards = [each for each in part.placed if any(each.copy in (*step.moves, *step.onto) for step in steps)]
    spans = {each.copy: _span(each.motion(_corners(each)) @ way) for each in boards}
    middle = (min(low for low, _ in spans.values()) + max(high for _, high in spans.values())) / 2.0
    cut = {c.a for step in steps for c in meeting_in(step, part) if _drawn(c, step, part)}
    faces = [e for e in boards if e.copy in cut and abs(float(e.motion.turned([0.0, 0.0, 1.0]) @ way)) > PRESSED]
    near = [each for each in faces if sum(spans[each.copy]) / 2.0 < middle] or boards
    far = [each for each in faces if sum(spans[each.copy]) / 2.0 > middle] or boards
    a = min(near, key=lambda each: float(spans[each.copy][0]))
    b = max(far, key=lambda each: float(spans[each.copy][1]))
    return f"clamps press from the {side_words(-way, a)} of {a.copy.name} to the {side_words(way, b)} of {b.copy.name}"


def _drawn(contact: Contact, step: AssemblyStep, part: PartAssembly) -> bool:
    """Whether a step presses a joint together: it goes straight into the face or end that has the cut."""
    free = contact.meeting.free
    if free is None:
        return True
    a = next(each for each in part.placed if each.copy == contact.a)
    return abs(float(a.motion.turned(free[0]) @ step.direction)) < 1.0 - PRESSED


def _corners(placed: Placed) -> FloatArray:
    board = placed.copy.board
    return np.array(
        [(x, y, z) for x in (0.0, board.length) for y in (0.0, board.width) for z in (-board.thickness, 0.0)]
    )


def _span(values: FloatArray) -> tuple[float, float]:
    return float(values.min()), float(values.max())
