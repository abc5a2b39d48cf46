"""A sequence of work in which what has to come first does: sheets whole if they can be, else as the job has them.

Clampings are numbers, in the order of the job; a *sheet* is those of them that one setup sheet says.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Relations:
    """By the number of each clamping those that have to come before it (hard), and those that had better (soft)."""

    hard: Sequence[Collection[int]]
    soft: Sequence[Collection[int]]

    def before(self, number: int, rest: Collection[int]) -> set[int]:
        """All of the rest that have to come before one, directly or by others of the rest."""
        found: set[int] = set()
        new = [number]
        while new:
            for other in self.hard[new.pop()]:
                if other in rest and other not in found:
                    found.add(other)
                    new.append(other)
        return found

    def sound(self, sheets: Sequence[Sequence[int]]) -> Relations:
        """Without the soft ones that the hard ones forbid as long as sheets stay whole: else all others would be kept
        waiting for them."""
        own = {number: sheet for sheet in sheets for number in sheet}
        every = range(len(self.hard))
        whole = Relations([{*self.hard[number], *own[number]} for number in every], self.soft)
        before = [whole.before(number, every) for number in every]
        soft = [[other for other in some if number not in before[other]] for number, some in enumerate(self.soft)]
        return Relations(self.hard, soft)


def sequence(sheets: Sequence[Sequence[int]], relations: Relations, stays: Callable[[int, int], bool]) -> list[int]:
    """All clampings of the sheets in order.

    stays: whether the first can follow the second without the board being clamped anew. Only where relations go round
    in a circle is one of the hard ones broken: then by what breaks the fewest.

    >>> sequence([[0], [1, 2], [3]], Relations([{3}, {}, {}, {}], [{}, {}, {}, {}]), lambda one, before: False)
    [1, 2, 3, 0]
    """
    relations = relations.sound(sheets)
    left = [list(sheet) for sheet in sheets]
    rest = {number for sheet in left for number in sheet}
    begun: set[int] = set()
    done: list[int] = []

    def rank(item: tuple[int, list[int]]) -> tuple[bool, int, bool, int]:
        place, some = item
        better = sum(other in rest and other not in some for number in some for other in relations.soft[number])
        return place not in begun, better, not (done and stays(some[0], done[-1])), place

    while rest:
        # Whole sheets; else as far as one goes; else, in a circle, one clamping.
        free = [(place, _free(sheet, rest, relations)) for place, sheet in enumerate(left) if sheet]
        whole = [(place, some) for place, some in free if len(some) == len(left[place])]
        some_of_them = whole or [(place, some) for place, some in free if some]
        if some_of_them:
            place, taken = min(some_of_them, key=rank)
        else:
            number = _least_harm(left, rest, relations)
            place, taken = next((place, [number]) for place, sheet in enumerate(left) if number in sheet)
        begun.add(place)
        done += taken
        rest -= set(taken)
        left[place] = [number for number in left[place] if number in rest]
    return done


def _free(sheet: Sequence[int], rest: Collection[int], relations: Relations) -> list[int]:
    """What of a sheet can be done now, in its order."""
    done: list[int] = []
    for number in sheet:
        if all(other not in rest or other in done for other in relations.hard[number]):
            done.append(number)
    return done


def _least_harm(left: Sequence[Sequence[int]], rest: Collection[int], relations: Relations) -> int:
    """Of those in a circle for which nothing outside it is waited for, the one before which the fewest have to come; of
    a sheet's own none before its turn."""
    waits = {number: relations.before(number, rest) for number in rest}
    circles = [number for number in rest if all(number in waits[other] for other in waits[number])]
    own = {number: set(sheet) for sheet in left for number in sheet}
    ready = [number for number in circles if not own[number] & set(relations.hard[number])]
    return min(ready, key=lambda number: (sum(other in rest for other in relations.hard[number]), number))
