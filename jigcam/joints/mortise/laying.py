"""Where the template for mortises is laid: for the others of the row, and for the mate, with the face that is up."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, pi
from typing import TYPE_CHECKING

from jigcam.template.turning import MIRRORED
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice

SAME_ANGLE = 1e-6
"""rad; directions that differ by less are one."""


def turned_over(it: Mortise) -> bool:
    """Whether the sheet lies on the mate with its other face up: where the mate's angle is the opposite of the first's.

    A mortise looks alike from both of its ends, so half a turn changes nothing.
    """
    first, mate = it.rows[0], it.rows[-1]
    return not _alike(mate.angle, first.angle) and _alike(mate.angle, -first.angle)


def face_lines(it: Mortise) -> tuple[str, ...]:
    """What is engraved of the faces: which of them is up for which board."""
    names = tuple(dict.fromkeys(row.board.name for row in it.rows))
    if not turned_over(it):
        return (f"this face up: {', '.join(names)}",)
    return f"this face up: {it.rows[0].board.name}", f"turn over: {it.rows[-1].board.name}"


def next_lines(row: Row, plan: TemplatePlan, voice: Voice, *, turned: bool = False) -> Iterator[str]:
    """How the sheet is laid for the second mortise of a row and the next ones, a sentence each."""
    for number in range(1, row.count):
        x, y = row.centres[number]
        yield (
            f"Mortise {number + 1}, its middle {voice.rule(x)} from the {row.edges[0]} and {voice.rule(y)} from the "
            f"{row.edges[2]}: {'; '.join(_by(row, number, plan, voice, turned=turned))}."
        )


def mate_lines(it: Mortise, plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How the sheet is laid for the mate: which face is up, what it is laid by, the depth; a sentence each."""
    mate, first = it.rows[1], it.first
    turned = turned_over(it)
    marked = "engraved" if plan.marker else "marked"
    if turned:
        yield f"Turn the sheet over like the page of a book, left for right: the {marked} face is down."
    else:
        yield f"The {marked} face is up, as for {first.board.name}."
    if abs(mate.depth - first.depth) > SLACK:
        below = voice.rule(plan.stack.sheet + mate.depth)
        yield f"It is {voice.rule(mate.depth)} deep: at the last pass the bit stands {below} below the base."
    x, y = mate.at
    which = "The first, its" if mate.count > 1 else "Its"
    yield (
        f"{which} middle is {voice.rule(x)} from the {mate.edges[0]} and {voice.rule(y)} from the {mate.edges[2]}, at "
        f"{voice.angle(mate.angle)}: {'; '.join(_by(mate, 0, plan, voice, turned=turned))}."
    )
    yield from next_lines(mate, plan, voice, turned=turned)


def _by(row: Row, number: int, plan: TemplatePlan, voice: Voice, *, turned: bool) -> Iterator[str]:
    """What the sheet is laid by: strips that still bear as they are, strips that are taken off, lines, centreline."""
    names = row.edges
    known = 0
    strips = [(what, strip.side) for what, strip in (("fence", plan.fence), ("stop block", plan.stop)) if strip]
    straight = _alike(row.angle, -_plan_angle(plan) if turned else _plan_angle(plan))
    for what, side in strips:
        there = MIRRORED[side] if turned else side
        off = _gap(row, number, there) - _plan_gap(plan, side)
        if straight and abs(off) < 0.01:
            moved = ", moved to the other face of the sheet through the same holes," if turned else ""
            yield f"the {what}{moved} against the {names[there]}"
            known += 1
        elif straight and off > 0.0:
            yield (f"a spacer of {voice.rule(off)} between the {what} and the {names[there]}, or the {what} taken off")
        else:
            yield f"take the {what} off"
    for index in plan.indexes:
        there = MIRRORED[index.side] if turned else index.side
        if straight:
            distance = index.distance + _gap(row, number, there) - _plan_gap(plan, index.side)
            if distance >= 0.0:
                yield f"its index line on one drawn {voice.rule(distance)} from the {names[there]}"
                known += 1
    if known < 2:
        yield "the sheet's centreline and its sights on the lines drawn through that middle, then clamped"


def _gap(row: Row, number: int, side: int) -> float:
    """From a mortise's centre to a side of the board, mm."""
    (x, y), (length, width) = row.centres[number], row.size
    return (x, length - x, y, width - y)[side]


def _plan_gap(plan: TemplatePlan, side: int) -> float:
    """The same of the mortise that the sheet was laid out for."""
    (x0, y0), (x1, y1) = plan.cut.centreline.start, plan.cut.centreline.end
    x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    return (x, plan.cut.board.length - x, y, plan.cut.board.width - y)[side]


def _plan_angle(plan: TemplatePlan) -> float:
    (x0, y0), (x1, y1) = plan.cut.centreline.start, plan.cut.centreline.end
    return atan2(y1 - y0, x1 - x0)


def _alike(a: float, b: float) -> bool:
    """Whether two directions are one, or opposite."""
    turn = (a - b) % pi
    return min(turn, pi - turn) < SAME_ANGLE
