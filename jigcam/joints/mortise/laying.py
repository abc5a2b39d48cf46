"""Where the template for mortises is laid: for the others of the row, and for the mate, with the face that is up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import atan2, pi
from typing import TYPE_CHECKING

from jigcam.joints.mortise.words import direction_words
from jigcam.template.turning import MIRRORED
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice

NEAR = 0.01
"""mm; a strip that would bear so near to its side bears against it."""
LONGEST_SPACER = 150.0
"""mm; further off a strip under the sheet leads it no more, and is taken off (common practice, no source)."""
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


def lead(row: Row) -> int:
    """The mortise of a row for which the sheet is laid out: the one furthest from the ends, then from the edges.

    Strips bear from outside, so a sheet made for it goes nearer to a side with a spacer, but never further off.
    """

    def free(number: int) -> tuple[float, float]:
        (x, y), (length, width) = row.centres[number], row.size
        return round(min(x, length - x), 3), round(min(y, width - y), 3)

    return max(range(row.count), key=lambda number: (*free(number), -number))


def next_lines(row: Row, plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How the sheet is laid for the other mortises of the row that it was laid out for, a sentence each."""
    numbers = [number for number in range(row.count) if number != lead(row)]
    return _places(row, numbers, plan, voice, turned=False)


def end_lines(row: Row, plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How a board is held so that the sheet lies on its end, and what carries the sheet, a sentence each."""
    strip = voice.rule(plan.stack.sheet)
    bears = {row.edges[each.side] for each in (plan.fence, plan.stop) if each}
    yield (
        f"Stand the board in the bench vise with its {row.end} end up, square, the outside face toward you, between "
        "two straight blocks as wide as the board, flush with its edges, and at least as thick: the end alone is too "
        "narrow to carry sheet and router."
    )
    for name in ("outside face", "inside face"):
        level = f"lower than the end by a strip's thickness, {strip}" if name in bears else "flush with the end"
        yield f"The block at the {name} is {level}."
    yield "Screw or clamp the sheet to both blocks, clear of the router's base: it must not rock."


def mate_lines(it: Mortise, plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How the sheet is laid for the mate: which face is up, what it is laid by, the depth; a sentence each."""
    mate, first = it.rows[1], it.first
    turned = turned_over(it)
    marked = "engraved" if plan.marker else "marked"
    if mate.end:
        yield from end_lines(mate, plan, voice)
    if turned:
        yield f"Turn the sheet over like the page of a book, left for right: the {marked} face is down."
    else:
        yield f"The {marked} face is up, as for {first.board.name}."
    if abs(mate.depth - first.depth) > SLACK:
        below = voice.rule(plan.stack.sheet + mate.depth)
        yield f"It is {voice.rule(mate.depth)} deep: at the last pass the bit stands {below} below the base."
    yield from _places(mate, range(mate.count), plan, voice, turned=turned)


def _places(row: Row, numbers: Iterable[int], plan: TemplatePlan, voice: Voice, *, turned: bool) -> Iterator[str]:
    """Where the sheet lies for some mortises of a row, a sentence each."""
    for number in numbers:
        x, y = row.centres[number]
        which = f"Mortise {number + 1}, its" if row.count > 1 else "Its"
        by = "; ".join(_by(row, number, plan, voice, turned=turned))
        yield (
            f"{which} middle {voice.rule(x)} from the {row.edges[0]} and {voice.rule(y)} from the {row.edges[2]}, "
            f"{direction_words(row, voice)}: {by}."
        )


def _by(row: Row, number: int, plan: TemplatePlan, voice: Voice, *, turned: bool) -> Iterator[str]:
    """What the sheet is laid by: strips that bear there, with a spacer or without, lines, or the centreline alone."""
    known = 0
    strips = [(what, strip.side) for what, strip in (("fence", plan.fence), ("stop block", plan.stop)) if strip]
    straight = _alike(row.angle, -_plan_angle(plan) if turned else _plan_angle(plan))
    for what, side in strips:
        there = MIRRORED[side] if turned else side
        room = _plan_gap(plan, side) - _gap(row, number, there)
        if not straight or room < -NEAR or room > LONGEST_SPACER:
            yield f"take the {what} off"
            continue
        moved = f"the {what}, moved to the other face of the sheet through the same holes," if turned else f"the {what}"
        spacer = "" if room < NEAR else f", with a spacer of {voice.rule(room)} between"
        yield f"{moved} against the {row.edges[there]}{spacer}"
        known += 1
    for index in plan.indexes:
        there = MIRRORED[index.side] if turned else index.side
        distance = index.distance + _gap(row, number, there) - _plan_gap(plan, index.side)
        if straight and distance >= 0.0:
            yield f"the index line on one drawn {voice.rule(distance)} from the {row.edges[there]}"
            known += 1
    if known < 2:
        yield "the sheet's centreline and its sights on lines drawn through that middle, and clamped"


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
