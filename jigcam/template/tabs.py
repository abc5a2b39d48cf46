"""Tabs that hold the finished sheet in its blank until it is sawn free."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from jigcam.geometry import Region, bar
from jigcam.template.box import Box
from jigcam.values import dataclass

TOP = 3.0
"""Length of a tab's flat top in the middle of the kerf, mm."""
HEIGHT = 3.0
"""Height of a tab above the bottom of the sheet, mm; at most half the sheet."""
LONG = 120.0
"""A side at least this long gets two tabs, mm."""


@dataclass(frozen=True, slots=True)
class Tab:
    """A bridge left on the outline. x, y: its middle, on the outline; width: of its foot; height: above the bottom, mm.

    The cutter rises and falls within the foot, at 45°, and rounds it off in the kerf by its own radius at both ends.

    angle: of the outline there, rad.
    """

    x: float
    y: float
    width: float
    height: float
    angle: float

    def region(self, reach: float) -> Region:
        """Where it stands, `reach` mm to either side of the outline."""
        dx, dy = cos(self.angle) * self.width / 2.0, sin(self.angle) * self.width / 2.0
        return bar((self.x - dx, self.y - dy), (self.x + dx, self.y + dy), 2.0 * reach)


def outline_tabs(sheet: Box, thickness: float, cutter: float) -> tuple[Tab, ...]:
    """Four to eight tabs on the straight sides of a rectangular sheet, away from its corners; cutter: diameter, mm."""
    height = min(HEIGHT, thickness / 2.0)
    return tuple(_tabs(sheet, height, TOP + 2.0 * height + cutter))


def _tabs(sheet: Box, height: float, width: float) -> Iterator[Tab]:
    x0, y0, x1, y1 = sheet
    for (ax, ay), (bx, by), angle in (
        ((x0, y0), (x1, y0), 0.0),
        ((x1, y0), (x1, y1), pi / 2.0),
        ((x1, y1), (x0, y1), 0.0),
        ((x0, y1), (x0, y0), pi / 2.0),
    ):
        length = abs(bx - ax) + abs(by - ay)
        for k in (0.25, 0.75) if length >= LONG else (0.5,):
            yield Tab(ax + k * (bx - ax), ay + k * (by - ay), width, height, angle)
