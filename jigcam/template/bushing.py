"""Bushing arithmetic: the sums between a cut, an opening, a bit and a guide bushing.

Words: *d* is the bit's cutting diameter, *B* the bushing's outside diameter, the *offset* o = (B − d)/2 lies between
the wall that the bushing rubs along and the wall that the bit cuts. An *opening* guides the bushing from outside (the
bushing runs within it); a *pattern* guides it from inside (the bushing runs around it). A wanted cut already includes
its clearance. All lengths are in mm.

Sources: the offset is printed in several woodworking magazines and follows from the two concentric circles; the rest
is derived from it. A size of an opening holds two offsets, one at each wall: adding one is the classic mistake.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, product
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from jigcam.kit import Bit, Bushing


def offset(bit: float, bushing: float) -> float:
    """o = (B − d)/2 in mm, between guided wall and cut wall. Negative where the bit is wider than the bushing."""
    return (bushing - bit) / 2.0


def opening_size(cut: float, bit: float, bushing: float) -> float:
    """A size (width or length, mm) of the opening for a wanted size of the cut: one offset at each wall, two in all.

    >>> opening_size(cut=18.0, bit=12.0, bushing=20.0)  # an offset of 4 at each wall: not 22
    26.0
    """
    return cut + 2.0 * offset(bit, bushing)


def cut_size(opening: float, bit: float, bushing: float) -> float:
    """The size (mm) that a bit cuts inside an opening of the given size. The inverse of `opening_size`."""
    return opening - 2.0 * offset(bit, bushing)


def pattern_size(part: float, bit: float, bushing: float) -> float:
    """The size (mm) of the pattern around which bushing and bit leave a part of the wanted size: two offsets less."""
    return part - 2.0 * offset(bit, bushing)


def part_size(pattern: float, bit: float, bushing: float) -> float:
    """The size (mm) of the part that is left around a pattern. The inverse of `pattern_size`."""
    return pattern + 2.0 * offset(bit, bushing)


def play(cut: float, bit: float) -> float:
    """The room W − d (mm) that the bushing has to slide across its opening; negative where the bit is too big."""
    return cut - bit


def corner_in_opening(radius: float, bit: float, bushing: float) -> float:
    """Radius (mm) left in an inside corner of the cut by an opening whose corner has `radius`: max(d/2, R − o).

    An opening's corner tighter than B/2 changes nothing: the bushing does not reach into it.

    >>> [corner_in_opening(radius, bit=6.0, bushing=16.0) for radius in (0.0, 8.0, 12.0)]
    [3.0, 3.0, 7.0]
    """
    return max(bit / 2.0, radius - offset(bit, bushing))


def corner_around_pattern(bit: float, bushing: float) -> float:
    """Radius (mm) that a sharp outside corner of a pattern leaves on the part: the offset."""
    return max(0.0, offset(bit, bushing))


def chip_room(bit: Bit, bushing: Bushing) -> float:
    """Room all round (mm) between the widest of cutter and shank and the bushing's inside; ≤ 0 does not pass."""
    return (bushing.inside - max(bit.diameter, bit.shank)) / 2.0


def true_difference(opening: float, measured: float) -> float:
    """B − d (mm) as it really is, from an opening measured at t whose test groove measures w: t − w."""
    return opening - measured


class Eccentricity(NamedTuple):
    """What an error between the axes of bushing and bit does to a groove, mm."""

    shift: float
    widening: float


def eccentricity(error: float) -> Eccentricity:
    """An error e shifts the groove by e while the router is held one way, and widens it by up to 2e if it turns."""
    return Eccentricity(abs(error), 2.0 * abs(error))


def recess_and_plug(bit: float, larger: float, smaller: float, tolerance: float = 0.005) -> bool:
    """Whether one bit with two bushings cuts a recess and the plug that fills it from one opening: B₁ − B₂ = 2d.

    The recess is cut with the larger bushing, opening − (B₁ − d); the plug is left inside the path of the smaller one,
    opening − (B₂ + d). Equal sizes give the rule. tolerance: mm on the difference.

    >>> recess_and_plug(bit=3.175, larger=15.875, smaller=9.525)
    True
    """
    return abs(larger - smaller - 2.0 * bit) <= tolerance


class InlayPair(NamedTuple):
    """One bit and two bushings that cut a recess and its plug from one opening."""

    bit: Bit
    recess: Bushing
    plug: Bushing


def inlay_pairs(bits: Iterable[Bit], bushings: Sequence[Bushing]) -> Iterator[InlayPair]:
    """Every straight bit with the two bushings of a set that serve recess and plug, and that it passes."""
    ranked = sorted(bushings, key=lambda b: b.outside)
    for bit in bits:
        if not bit.upright_walls:
            continue
        for smaller, larger in combinations(ranked, 2):
            if recess_and_plug(bit.diameter, larger.outside, smaller.outside) and chip_room(bit, smaller) > 0.0:
                yield InlayPair(bit, larger, smaller)


def pairs_by_difference(
    bits: Iterable[Bit], bushings: Iterable[Bushing], tolerance: float = 0.005
) -> list[tuple[tuple[Bit, Bushing], ...]]:
    """Groups of two or more pairs with one B − d (within `tolerance` mm), which can share one opening."""
    straight = [bit for bit in bits if bit.upright_walls]
    pairs = [(bit, bushing) for bit, bushing in product(straight, bushings) if chip_room(bit, bushing) > 0.0]
    pairs.sort(key=lambda pair: (offset(pair[0].diameter, pair[1].outside), pair[0].name, pair[1].name))
    groups: list[list[tuple[Bit, Bushing]]] = []
    for pair in pairs:
        first = groups[-1][0] if groups else None
        o = offset(pair[0].diameter, pair[1].outside)
        if first is not None and abs(o - offset(first[0].diameter, first[1].outside)) <= tolerance / 2.0:
            groups[-1].append(pair)
        else:
            groups.append([pair])
    return [tuple(group) for group in groups if len(group) > 1]
