"""Numbers and outlines as the page reads them: rounded to what a file can say, without noise, the same every run."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from jigcam.geometry import Region

FINE = 5
"""Decimals of a millimetre: one more than files in mm have; five decimals of an inch are 0.00025 mm."""
TURNS = 8
"""Decimals of an angle, rad, and of a bulge: on a radius of a metre 1e-5 mm."""


def plain(value: float, places: int = FINE) -> float | int:
    """A number without float noise, whole ones as such, never -0."""
    rounded = round(float(value), places)
    return int(rounded) if rounded == int(rounded) else rounded


def column(values: Iterable[float] | np.ndarray, places: int = FINE) -> list[float | int]:
    """Numbers, each as `plain`."""
    return [plain(value, places) for value in np.asarray(values, float).tolist()]


def runs(values: np.ndarray) -> list[list[int | float]]:
    """What seldom changes, as pairs of the place from which it holds and the value."""
    if not len(values):
        return []
    fresh = np.flatnonzero(np.append(True, values[1:] != values[:-1]))
    return [[int(place), plain(values[place])] for place in fresh]


def loops_of(region: Region) -> list[list[float | int]]:
    """The loops of a region: x, y, bulge of each vertex one after the other; the last runs on to the first."""
    found: list[list[float | int]] = []
    for loop in region.loops:
        rows = loop.segments()
        flat: list[float | int] = []
        for x, y, _, _, bulge in rows.tolist():
            flat += [plain(x), plain(y), plain(bulge, TURNS)]
        found.append(flat)
    return found
