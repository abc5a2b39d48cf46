"""Where the template for mortises is laid: for the others of the row, and for the mate, with the face that is up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import pi
from typing import TYPE_CHECKING

from jigcam.geometry import compose, mirror_y, rotation, translation
from jigcam.joints.mortise.words import direction_words
from jigcam.making.laid_again import Use
from jigcam.template.laying import Site, as_move, bears_on, half_turned, is_straight, is_turned, laid_by, upright
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.template import TemplatePlan
    from jigcam.template.laying import Move
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


def lead(row: Row) -> int:
    """The mortise of a row for which the sheet is laid out: the one furthest from the ends, then from the edges.

    Strips bear from outside, so a sheet made for it goes nearer to a side with a spacer, but never further off.
    """

    def free(number: int) -> tuple[float, float]:
        (x, y), (length, width) = row.centres[number], row.size
        return round(min(x, length - x), 3), round(min(y, width - y), 3)

    return max(range(row.count), key=lambda number: (*free(number), -number))


def next_lines(it: Mortise, plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How the sheet is laid for the other mortises of the row that it was laid out for, a sentence each."""
    numbers = [number for number in range(it.first.count) if number != lead(it.first)]
    return _places(it, it.first, numbers, plan, voice, turned=False)


def end_lines(row: Row, plan: TemplatePlan, moves: Iterable[Move], voice: Voice) -> Iterator[str]:
    """How a board is held so that the sheet lies on its end, and what carries the sheet, a sentence each.

    moves: from where the sheet lies for its opening as drawn to where it is laid here.
    """
    strip = voice.rule(plan.stack.sheet)
    bears = frozenset[str]().union(*(bears_on(plan, move, site_of(row)) for move in moves))
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
        moves = [as_move(move_to(first, lead(first), mate, n, turned=turned)) for n in range(mate.count)]
        yield from end_lines(mate, plan, moves, voice)
    if turned:
        yield f"Turn the sheet over like the page of a book, left for right: the {marked} face is down."
    else:
        yield f"The {marked} face is up, as for {first.board.name}."
    yield from depth_lines(it, plan, voice)
    yield from _places(it, mate, range(mate.count), plan, voice, turned=turned)


def site_of(row: Row) -> Site:
    """What a sheet for mortises is laid on."""
    return Site(row.board.name, row.where, row.size, row.edges, row.end)


def move_to(
    first: Row, home: int, row: Row, number: int, *, turned: bool, about: bool = False
) -> npt.NDArray[np.float64]:
    """From where the sheet lies for mortise `home` of the first row to where it lies for one of a row, 2×3, as seen.

    turned: the sheet lies with its other face up. A mortise looks alike after half a turn about its middle, so the
    sheet is turned as little as may be; about: by half a turn more.
    """
    x, y = first.centres[home]
    matrix = compose(translation(-x, -y), rotation(-first.angle))
    if turned:
        matrix = compose(matrix, mirror_y(0.0))
    centre = row.centres[number]
    matrix = upright(compose(compose(matrix, rotation(row.angle)), translation(*centre)), centre)
    return half_turned(matrix, centre) if about else matrix


def depth_lines(it: Mortise, plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """What is set anew for the mate, where it is as deep as the first no more."""
    mate = it.rows[-1]
    if abs(mate.depth - it.first.depth) > SLACK:
        below = voice.rule(plan.stack.sheet + mate.depth)
        yield f"It is {voice.rule(mate.depth)} deep: at the last pass the bit stands {below} below the base."


def again_on_sheet(it: Mortise) -> tuple[Use, ...]:
    """Where a shared sheet, laid out for its first mortise, is laid again: the rest of its row, and the mate's row."""
    seen = it.seen
    return tuple(
        Use(it.name, _called(row, number, mate=place > 0), site_of(row), _moves(seen, place, number), (place, number))
        for place, row in enumerate(seen.rows)
        for number in range(row.count)
        if place or number
    )


def _called(row: Row, number: int, *, mate: bool) -> str:
    if row.count == 1:
        return "the mate" if mate else "the mortise"
    return f"mortise {number + 1} of {row.count}{' in the mate' if mate else ''}"


def _moves(it: Mortise, place: int, number: int) -> tuple[Move, ...]:
    """All that bring the opening there: a mortise looks alike turned by half a turn, and over along its length.

    Those come first that keep its strips in use, then those that leave the face up that is up for a sheet of its own.
    On its own board the sheet is only moved on.
    """
    turned = place > 0 and turned_over(it)
    row = it.rows[place]
    ways = [(turned, False), (turned, True), (not turned, False), (not turned, True)] if place else [(False, False)]
    moves = [as_move(move_to(it.first, 0, row, number, turned=over, about=about)) for over, about in ways]
    return tuple(sorted(moves, key=lambda move: (not is_straight(move), is_turned(move) != turned)))


def _places(
    it: Mortise, row: Row, numbers: Iterable[int], plan: TemplatePlan, voice: Voice, *, turned: bool
) -> Iterator[str]:
    """Where the sheet lies for some mortises of a row, a sentence each."""
    for number in numbers:
        move = as_move(move_to(it.first, lead(it.first), row, number, turned=turned))
        parts, known = laid_by(plan, move, site_of(row), voice)
        if known < 2:
            parts.append("the sheet's centreline and its sights on lines drawn through that middle, and clamped")
        which = f"Mortise {number + 1}, its" if row.count > 1 else "Its"
        yield f"{which} {middle_words(row, number, voice)}: {'; '.join(parts)}."


def middle_words(row: Row, number: int, voice: Voice) -> str:
    """Where the middle of a mortise is, and which way it lies."""
    x, y = row.centres[number]
    return (
        f"middle {voice.rule(x)} from the {row.edges[0]} and {voice.rule(y)} from the {row.edges[2]}, "
        f"{direction_words(row, voice)}"
    )


def _alike(a: float, b: float) -> bool:
    """Whether two directions are one, or opposite."""
    turn = (a - b) % pi
    return min(turn, pi - turn) < SAME_ANGLE
