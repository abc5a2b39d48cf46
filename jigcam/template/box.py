"""Upright boxes in the face frame: the bookkeeping of where a sheet has to reach."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from jigcam.geometry import Region, rectangle


class Box(NamedTuple):
    """x0 ≤ x ≤ x1, y0 ≤ y ≤ y1; mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def about(cls, boxes: Iterable[tuple[float, float, float, float]]) -> Box:
        """The least box round all of them, of which there is at least one."""
        low_x, low_y, high_x, high_y = zip(*boxes, strict=True)
        return cls(min(low_x), min(low_y), max(high_x), max(high_y))

    @property
    def size(self) -> tuple[float, float]:
        """Along x and y."""
        return self.x1 - self.x0, self.y1 - self.y0

    @property
    def region(self) -> Region:
        """As a region."""
        return rectangle(*self)

    def grown(self, by: float) -> Box:
        """Larger by that much on every side."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def including(self, other: Box) -> Box:
        """The least box round both."""
        return Box(min(self.x0, other.x0), min(self.y0, other.y0), max(self.x1, other.x1), max(self.y1, other.y1))

    def within(self, other: Box) -> Box:
        """What both have in common; its low sides may lie beyond its high ones, where that is nothing."""
        return Box(max(self.x0, other.x0), max(self.y0, other.y0), min(self.x1, other.x1), min(self.y1, other.y1))

    def moved(self, dx: float, dy: float) -> Box:
        """Somewhere else."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)

    def margin_in(self, outer: Box) -> float:
        """The least distance from a side of this box to the same side of `outer`."""
        return min(self.x0 - outer.x0, self.y0 - outer.y0, outer.x1 - self.x1, outer.y1 - self.y1)
