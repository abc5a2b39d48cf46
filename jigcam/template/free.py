"""Which parts of a sheet are still free for marks: a coarse raster on which texts find their places."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Region
from jigcam.template.box import Box

CELL = 1.0
"""Size of a cell of the raster, mm."""


class FreeSpace:
    """The free cells of a sheet. Everything that is taken keeps `clear` mm to everything else that asks."""

    def __init__(self, sheet: Box, clear: float) -> None:
        self._sheet = sheet
        self._clear = clear
        columns, rows = (max(1, int(extent / CELL)) for extent in sheet.size)
        self._taken = np.zeros((rows, columns), dtype=bool)
        self._x = sheet.x0 + CELL * (np.arange(columns) + 0.5)
        self._y = sheet.y0 + CELL * (np.arange(rows) + 0.5)

    def take_region(self, region: Region) -> None:
        """A region is taken: all cells whose centre is in it or within a cell of its edge."""
        x0, y0, x1, y1 = region.bounds
        i, j = self._window(Box(x0, y0, x1, y1).grown(CELL))
        columns, rows = np.meshgrid(self._x[j], self._y[i])
        points = np.column_stack([columns.ravel(), rows.ravel()])
        if len(points):
            self._taken[i, j] |= (region.signed_distance(points) > -CELL).reshape(columns.shape)

    def take_box(self, box: Box) -> None:
        """A box is taken."""
        i, j = self._window(box)
        self._taken[i, j] = True

    def take_line(self, points: npt.ArrayLike) -> None:
        """A chain of straight lines is taken."""
        chain = np.asarray(points, dtype=float)
        for p, q in pairwise(chain):
            count = max(2, int(2.0 * np.hypot(*(q - p)) / CELL) + 1)
            xs, ys = (p + np.linspace(0.0, 1.0, count)[:, None] * (q - p)).T
            i = np.clip(((ys - self._sheet.y0) / CELL).astype(int), 0, len(self._y) - 1)
            j = np.clip(((xs - self._sheet.x0) / CELL).astype(int), 0, len(self._x) - 1)
            self._taken[i, j] = True

    def place(self, width: float, height: float, near: tuple[float, float]) -> Box | None:
        """The free box of that size with its middle nearest to a point, or None; it is not taken yet."""
        reach = int(np.ceil(self._clear / CELL)) + 1
        rows, columns = (int(np.ceil(extent / CELL)) + 2 * reach for extent in (height, width))
        if rows > len(self._y) or columns > len(self._x):
            return None
        total = np.zeros((len(self._y) + 1, len(self._x) + 1), dtype=np.int64)
        total[1:, 1:] = self._taken.cumsum(0).cumsum(1)
        inside = total[rows:, columns:] - total[:-rows, columns:] - total[rows:, :-columns] + total[:-rows, :-columns]
        free_rows, free_columns = np.nonzero(inside == 0)
        if not len(free_rows):
            return None
        x = self._sheet.x0 + CELL * (free_columns + columns / 2.0)
        y = self._sheet.y0 + CELL * (free_rows + rows / 2.0)
        best = int(np.argmin(np.round(np.hypot(x - near[0], y - near[1]), 6)))
        cx, cy = float(x[best]), float(y[best])
        return Box(cx - width / 2.0, cy - height / 2.0, cx + width / 2.0, cy + height / 2.0)

    def _window(self, box: Box) -> tuple[slice, slice]:
        """Rows and columns of the cells that a box touches."""

        def span(low: float, high: float, origin: float, count: int) -> slice:
            first, beyond = int(np.floor((low - origin) / CELL)), int(np.ceil((high - origin) / CELL))
            return slice(min(max(first, 0), count), min(max(beyond, 0), count))

        return (
            span(box.y0, box.y1, self._sheet.y0, len(self._y)),
            span(box.x0, box.x1, self._sheet.x0, len(self._x)),
        )
