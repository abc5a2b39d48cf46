"""The feeds of a file, each by what it does: as its moves have them, and so as its text has them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import dist, hypot
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.kit import Machine
    from jigcam.toolpath import Move, Operation
    from jigcam.toolpath.feeds import Feeds
    from jigcam.units import Voice

SAME = 0.05
"""mm/min; feeds this near to each other are one: a file has them to a tenth at the finest."""
UPRIGHT = 1e-6
"""mm; a move that goes less than this aside is straight up or down."""
ALONG = "along the cut"
SLOWER = "into the wood and in small turns"
LITTLE = "through air or little wood"
DOWN_CUTTING, DOWN_IN_AIR, DOWN = "straight down in wood", "straight down in air", "straight down"
UP = "straight up"
ORDER = (ALONG, SLOWER, LITTLE, DOWN_CUTTING, DOWN_IN_AIR, DOWN, UP)
"""In which they are told."""


def feed_words(operations: Iterable[Operation], feeds: Feeds, machine: Machine, voice: Voice) -> str:
    """All feeds of the operations of a bit that is run at `feeds`, each with what it does."""
    found: dict[str, list[float]] = {}
    for move, what in _told(operations, feeds, machine):
        found.setdefault(what, []).append(move.feed)
    told: list[str] = []
    for what in (each for each in ORDER if each in found):
        low, high = (voice.feed(each(found[what])).partition(" ") for each in (min, max))
        span = high[0] if low == high else f"{low[0]} to {high[0]}"
        told.append(f"{span} {what}" if told else f"{span} {high[2]} {what}")
    return ", ".join(told)


def _told(operations: Iterable[Operation], feeds: Feeds, machine: Machine) -> Iterator[tuple[Move, str]]:
    """Each move at a feed, with what it does."""
    for operation in operations:
        for before, move in pairwise(operation.moves):
            if move.kind != "rapid" and dist(before.point, move.point) > UPRIGHT:
                yield move, _what(before, move, feeds, machine)


def _what(before: Move, move: Move, feeds: Feeds, machine: Machine) -> str:
    fall = before.z - move.z
    if move.kind == "line" and hypot(move.x - before.x, move.y - before.y) < UPRIGHT:
        if fall < 0.0:
            return UP
        if feeds.plunge >= machine.max_feed[2] - SAME:
            return DOWN
        return DOWN_CUTTING if move.feed <= feeds.plunge + SAME else DOWN_IN_AIR
    if abs(move.feed - feeds.feed) <= SAME:
        return ALONG
    return LITTLE if move.feed > feeds.feed else SLOWER
