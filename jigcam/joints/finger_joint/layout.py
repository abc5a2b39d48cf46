"""Where the fingers of a finger joint are along the common width of its boards: distances s from the lower edge, mm."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from jigcam.joints.finger_joint.entry import Part
from jigcam.values import dataclass
from jigcam.wood.practice import SLACK

OTHER: dict[Part, Part] = {"a": "b", "b": "a"}


@dataclass(frozen=True, slots=True)
class Interval:
    """A finger of one board, which is a slot of the other, as drawn. number: from the lower edge, from 1."""

    number: int
    owner: Part
    low: float
    high: float

    @property
    def width(self) -> float:
        """As drawn."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class Slot:
    """What is cut out of one board. low, high: its cheeks; open_low, open_high: whether it runs off the edge there."""

    number: int
    low: float
    high: float
    open_low: bool
    open_high: bool

    @property
    def width(self) -> float:
        """Between cheeks, or from a cheek to the edge."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class FingerLayout:
    """All fingers, from the lower edge up."""

    intervals: tuple[Interval, ...]

    @property
    def width(self) -> float:
        """Of the boards."""
        return self.intervals[-1].high

    def fingers(self, part: Part) -> tuple[Interval, ...]:
        """Those of one board, as drawn."""
        return tuple(each for each in self.intervals if each.owner == part)

    def slots(self, part: Part, more: float) -> tuple[Slot, ...]:
        """The slots of one board, each cheek set back by `more` from where it is drawn; the edges stay."""
        last = len(self.intervals)
        found = []
        for each in self.fingers(OTHER[part]):
            first, final = each.number == 1, each.number == last
            low, high = each.low - (0.0 if first else more), each.high + (0.0 if final else more)
            found.append(Slot(each.number, low, high, first, final))
        return tuple(found)

    @property
    def cheeks(self) -> tuple[tuple[Interval, Interval], ...]:
        """Each finger with the next one up: they touch at the end of the first."""
        return tuple(pairwise(self.intervals))


def finger_layout(width: float, first: Part, *, count: int | None, finger: float | None) -> FingerLayout:
    """Fingers over a width, mm: `count` equal ones, or of the width `finger` with the rest in the uppermost."""
    edges: Iterable[float]
    if count is not None:
        edges = [width * k / count for k in range(count + 1)]
    else:
        assert finger is not None, "an entry says one of them"
        whole = math.floor(width / finger + SLACK)
        edges = [finger * k for k in range(whole + 1)]
        edges = [*edges, width] if width - edges[-1] > SLACK else [*edges[:-1], width]
    places = list(edges)
    owners: tuple[Part, Part] = (first, OTHER[first])
    return FingerLayout(
        tuple(Interval(k + 1, owners[k % 2], low, high) for k, (low, high) in enumerate(pairwise(places)))
    )
