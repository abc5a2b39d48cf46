"""The solid that a turning tool sweeps: cutter, neck, shank and collet nut as radii over the height above the tip."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Protocol

import numpy as np

FINE = 2e-4
"""Error of the straight pieces that stand for a curved profile, mm."""
SAMPLES = 200
"""Heights of a profile that are looked at before it is looked at more closely where it bends."""
FINEST = 1e-9
"""Heights nearer than this are not parted any more, mm."""
SAME = 1e-6
"""Heights this near to a jump of the profile are at it, mm: a bit as long as the cut is deep still cuts at the face."""


class Profile(Protocol):
    """What the proof has to know of a bit; the kit's bits are such."""

    @property
    def name(self) -> str: ...
    @property
    def diameter(self) -> float: ...
    @property
    def cutting_length(self) -> float: ...
    @property
    def overall_length(self) -> float: ...
    @property
    def flutes(self) -> int: ...
    @property
    def plunges(self) -> bool: ...

    @property
    def undercuts(self) -> bool: ...

    @property
    def material(self) -> str | None: ...

    def radius_at(self, height: np.ndarray) -> np.ndarray: ...


class Envelope:
    """Radii of a bit, and of the nut above it, over heights above the tip.

    nut: (diameter, height of its lower end above the tip), or None. The profile is held as straight pieces between
    `heights` within `FINE`, with a step where it jumps; below the tip the radius is −inf, above the bit that of its
    top.
    """

    def __init__(self, bit: Profile, nut: tuple[float, float] | None = None) -> None:
        self.bit = bit
        self.nut = nut
        self.heights, self.radii = _pieces(bit.radius_at, bit.cutting_length, bit.overall_length)
        if nut is not None:
            # Right up to the nut the bit is what it is, also where its profile jumps just there.
            below = self.heights < nut[1] - SAME
            jump = np.flatnonzero(np.abs(self.heights - nut[1]) <= SAME)
            at = self.radii[jump[0]] if len(jump) else np.interp(nut[1], self.heights, self.radii)
            self.heights = np.concatenate([self.heights[below], [nut[1], nut[1]]])
            self.radii = np.concatenate([self.radii[below], [at, max(nut[0] / 2.0, at)]])

    @cached_property
    def straight_to(self) -> float:
        """Height up to which the radius is that of the tip."""
        same = np.abs(self.radii - self.radii[0]) <= FINE
        return float(self.heights[-1] if same.all() else self.heights[max(int(np.argmin(same)) - 1, 0)])

    @cached_property
    def corners(self) -> tuple[float, ...]:
        """Heights at which the slope of the profile changes, from 0."""
        return tuple(float(h) for h in np.unique(self.heights))

    @cached_property
    def _jumps(self) -> tuple[tuple[float, float], ...]:
        """Heights at which the profile has two radii, and the wider of them."""
        at = self.heights[:-1][np.diff(self.heights) == 0.0].tolist()
        return tuple((jump, float(self.radii[self.heights == jump].max())) for jump in at)

    @property
    def widest(self) -> float:
        """Greatest radius of the cutter, mm."""
        return float(self.radii[self.heights <= self.bit.cutting_length].max())

    @property
    def largest(self) -> float:
        """Greatest radius of all, mm."""
        return float(self.radii.max())

    def widens_to(self, height: float) -> bool:
        """Whether nothing up to a height above the tip is narrower than what is below it."""
        radii = np.append(self.radii[self.heights < height], self.radius(np.array([height])))
        return bool((np.diff(radii) >= -FINE).all())

    def radius(self, height: np.ndarray) -> np.ndarray:
        """(k,) radius at heights above the tip; −inf below it. At a jump, the wider of the two."""
        height = np.asarray(height, float)
        radius = np.interp(height, self.heights, self.radii)
        for jump, wider in self._jumps:
            at = np.abs(height - jump) <= SAME
            if at.any():
                radius = np.where(at, wider, radius)
        return np.where(height < 0.0, -np.inf, radius)

    def extremes(self, low: np.ndarray, high: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(k,) least and greatest radius over heights from low to high (both (k,), 0 ≤ low ≤ high)."""
        ends = self.radius(low), self.radius(high)
        least, most = np.minimum(*ends), np.maximum(*ends)
        for height, radius in zip(self.heights, self.radii, strict=True):
            within = (low <= height) & (height <= high)
            least = np.where(within, np.minimum(least, radius), least)
            most = np.where(within, np.maximum(most, radius), most)
        return least, most

    def change(self, low: np.ndarray, high: np.ndarray) -> np.ndarray:
        """(k,) total rise and fall of the radius over heights from low to high, jumps apart."""
        steps = np.abs(np.diff(self.radii)) * (np.diff(self.heights) > 0.0)
        total = np.concatenate([[0.0], np.cumsum(steps)])
        change: np.ndarray = np.interp(high, self.heights, total) - np.interp(low, self.heights, total)
        return change

    def widest_up_to(self, height: np.ndarray) -> np.ndarray:
        """(k,) greatest radius from the tip up to each height; −inf below the tip."""
        height = np.asarray(height, float)
        return np.where(height < 0.0, -np.inf, self.extremes(np.zeros(len(height)), np.maximum(height, 0.0))[1])


def _pieces(
    radius_at: Callable[[np.ndarray], np.ndarray], cutting: float, overall: float
) -> tuple[np.ndarray, np.ndarray]:
    """Heights and radii of straight pieces along a profile, with jumps as two radii at one height."""
    tiny = 1e-7
    top = max(overall, cutting + 1.0)
    parts = []
    for low, high, ends in ((0.0, cutting - tiny, (0.0, cutting)), (cutting + tiny, overall - tiny, (cutting, top))):
        heights, radii = _sampled(radius_at, low, max(high, low + tiny))
        keep = _simplified(heights, radii)
        heights = heights[keep].copy()
        heights[0], heights[-1] = ends
        parts.append((heights, radii[keep]))
    return np.concatenate([h for h, _ in parts]), np.concatenate([r for _, r in parts])


def _sampled(radius_at: Callable[[np.ndarray], np.ndarray], low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    """Heights, close together where the profile bends, and radii there: halved until the middles lie on the chords."""

    def radii_of(heights: np.ndarray) -> np.ndarray:
        radii: np.ndarray = np.nan_to_num(np.asarray(radius_at(heights), float), neginf=0.0)
        return radii

    heights = np.linspace(low, high, SAMPLES)
    radii = radii_of(heights)
    while True:
        middle = (heights[1:] + heights[:-1]) / 2.0
        there = radii_of(middle)
        bent = (np.abs(there - (radii[1:] + radii[:-1]) / 2.0) > FINE / 4.0) & (np.diff(heights) > FINEST)
        if not bent.any():
            return heights, radii
        place = np.flatnonzero(bent) + 1
        heights, radii = np.insert(heights, place, middle[bent]), np.insert(radii, place, there[bent])


def _simplified(heights: np.ndarray, radii: np.ndarray) -> np.ndarray:
    """Indices of the samples to keep, so that straight lines between them pass within `FINE` of all."""
    keep = [0, len(heights) - 1]
    todo = [(0, len(heights) - 1)]
    while todo:
        first, last = todo.pop()
        if last - first < 2:
            continue
        inner = slice(first + 1, last)
        line = np.interp(heights[inner], heights[[first, last]], radii[[first, last]])
        gap = np.abs(radii[inner] - line)
        worst = int(gap.argmax())
        if gap[worst] > FINE:
            middle = first + 1 + worst
            keep.append(middle)
            todo += [(first, middle), (middle, last)]
    return np.array(sorted(keep))
