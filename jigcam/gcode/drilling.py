"""Drilling as a canned cycle, G81 or G83 (NISTIR 6556 section 3.5.16), found in the plain moves that make a hole.

A hole is read from moves only where the cycle stands for exactly those: straight down at one feed and out at rapid
rate, or in pecks of one size with the returns that the standard gives. Everything else stays plain, so text with cycles
and text without are the same moves.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from jigcam.gcode.cycles import PECK_BACKOFF
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.gcode.numbers import Digits
    from jigcam.toolpath import Move


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole as a cycle has it. x, y, bottom, r, peck and out in ticks of the text; peck is 0 in G81.

    r: the plane above the stock down to which it goes at rapid rate. out: the height to which it comes out, `r` or
    that of the tool before the run of cycles. feed: mm/min. moves: how many moves it stands for.
    """

    x: int
    y: int
    r: int
    bottom: int
    peck: int
    out: int
    feed: float
    moves: int

    @property
    def code(self) -> Literal["G81", "G83"]:
        """Down in one, or in pecks."""
        return "G83" if self.peck else "G81"

    def words(self, before: Hole | None, digits: Digits) -> list[str]:
        """X, Y, Z, R and Q, as far as they differ from those of the hole before in the same run of the same cycle."""
        news = {"X": self.x, "Y": self.y, "Z": self.bottom, "R": self.r}
        news |= {"Q": self.peck} if self.peck else {}
        if before is None or before.code != self.code:
            said = news
        else:
            olds = {"X": before.x, "Y": before.y, "Z": before.bottom, "R": before.r, "Q": before.peck}
            said = {letter: new for letter, new in news.items() if new != olds[letter]}
            if not said.keys() & set("XYZ"):
                said = {"X": self.x, **said}  # the same hole again: a cycle needs one of them
        return [f"{letter}{digits.length(value)}" for letter, value in said.items()]


def hole_at(moves: Sequence[Move], first: int, at: tuple[int, int, int], digits: Digits, *, over: bool) -> Hole | None:
    """The hole that the moves from index `first` on make, from where the tool is, in ticks; None if they make none.

    over: whether it may begin with a level rapid to its place, as a cycle that follows another does. Raises InputError
    for a coordinate that is no number.
    """
    x, y, z = at
    ticks = _Ticks(moves, digits)
    place = first
    if over and ticks.rapid(place) and ticks.end(place)[2] == z:
        x, y, _ = ticks.end(place)
        place += 1
    r = z
    if ticks.rapid(place) and ticks.upright(place, x, y) and ticks.end(place)[2] < z:
        r = ticks.end(place)[2]
        place += 1
    if not ticks.plunge(place, x, y, r):
        return None
    feed, back_off = moves[place].feed, digits.ticks(PECK_BACKOFF)
    peck = r - ticks.end(place)[2]
    pecks, begun, level = 1, r, r - peck
    while (
        level == r - pecks * peck
        and ticks.rapid_to(place + 1, (x, y, r))
        and ticks.rapid_to(place + 2, (x, y, level + back_off))
        and ticks.plunge(place + 3, x, y, level + back_off)
        and moves[place + 3].feed == feed
    ):
        place += 3
        pecks, begun, level = pecks + 1, level, ticks.end(place)[2]
    # The last bite has to be the smaller by a digit: were it even, rounding would decide whether one more peck follows.
    if pecks > 1 and begun - level >= peck:
        return None
    if not (ticks.rapid(place + 1) and ticks.upright(place + 1, x, y) and ticks.end(place + 1)[2] > level):
        return None
    return Hole(x, y, r, level, peck if pecks > 1 else 0, ticks.end(place + 1)[2], feed, place + 2 - first)


class _Ticks:
    """Questions about moves by number, ends rounded as the text has them; none past the last is anything."""

    def __init__(self, moves: Sequence[Move], digits: Digits) -> None:
        self._moves = moves
        self._digits = digits

    def end(self, number: int) -> tuple[int, int, int]:
        x, y, z = map(self._digits.ticks, self._moves[number].point)
        return x, y, z

    def rapid(self, number: int) -> bool:
        return number < len(self._moves) and self._moves[number].kind == "rapid"

    def rapid_to(self, number: int, end: tuple[int, int, int]) -> bool:
        return self.rapid(number) and self.end(number) == end

    def upright(self, number: int, x: int, y: int) -> bool:
        return self.end(number)[:2] == (x, y)

    def plunge(self, number: int, x: int, y: int, z: int) -> bool:
        """Straight down from there at a feed."""
        if number >= len(self._moves) or self._moves[number].kind != "line":
            return False
        return self.upright(number, x, y) and self.end(number)[2] < z
