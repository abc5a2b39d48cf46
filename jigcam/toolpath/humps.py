"""Humps: where a path climbs over a tab and comes down again, laid over the heights of a pass.

A *profile* is a list of (station, height): straight between them. A hump rises and falls within the tab's foot, at
`SLOPE`, so that what is left is the tab and nothing beside it. A bit that may not go down that steeply comes down along
its ramp behind the tab, goes back to the tab on the floor, and on: the profile turns back there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol

import numpy as np

from jigcam.geometry import Path
from jigcam.toolpath.loops import station
from jigcam.values import dataclass

SLOPE = math.radians(45)
"""Slope of both flanks of a hump (common practice, no source)."""
NARROWEST = 0.5
"""mm of flat top that a hump has at least, on a tab that is too narrow for its flanks."""
Profile = list[tuple[float, float]]


class TabPlace(Protocol):
    """A tab: the middle of its foot on the outline, the foot's width along it and its height above the bottom, mm."""

    @property
    def x(self) -> float: ...
    @property
    def y(self) -> float: ...
    @property
    def width(self) -> float: ...
    @property
    def height(self) -> float: ...


@dataclass(frozen=True, slots=True)
class Hump:
    """From station `start` to `end` the bit is above its pass, at height `top` (z) in the middle.

    lowest: z of the deepest pass, at which the hump is as long as the foot. ramp: slope at which the bit may come down
    into wood, rad, or None where `SLOPE` will do.
    """

    start: float
    end: float
    top: float
    lowest: float
    ramp: float | None = None

    @property
    def profile(self) -> Profile:
        """Up from the lowest height that a path can have, over, and down again."""
        rise = self.top - self.lowest
        flank = min(rise / math.tan(SLOPE), 0.5 * (self.end - self.start - NARROWEST))
        up = [(self.start, self.lowest), (self.start + flank, self.top)]
        if self.ramp is None:
            return [*up, (self.end - flank, self.top), (self.end, self.lowest)]
        # A square end: the way back on the floor takes off what the ramp leaves.
        return [*up, (self.end, self.top), (self.end + rise / math.tan(self.ramp), self.lowest)]

    @property
    def stretch(self) -> tuple[float, float]:
        """From the first station that it changes to the last; may run past the end of the loop."""
        profile = self.profile
        return profile[0][0], profile[-1][0]


def humps_over(tabs: Sequence[TabPlace], loop: Path, bottom: float, lowest: float, ramp: float | None) -> list[Hump]:
    """The humps of a bit's centre path for tabs on the wall beside it.

    bottom: z of the underside of the stock; lowest: of the deepest pass; ramp: see `Hump`.
    """
    out = []
    for tab in tabs:
        middle, half = station(loop, (tab.x, tab.y)), 0.5 * tab.width
        out.append(Hump(middle - half, middle + half, bottom + tab.height, lowest, ramp))
    return out


def raised(profile: Profile, humps: Sequence[Hump], first: float, round_length: float) -> Profile:
    """A profile lifted over all humps; its stations count from station `first` of a loop `round_length` long.

    Behind a hump with a ramp, where the profile is level, it goes back to the hump's end and forward again.
    """
    low = min(z for _, z in profile)
    end = profile[-1][0]
    layers, turns = [profile], []
    for hump in humps:
        if hump.top <= low:
            continue
        shape = [(s - first, z) for s, z in hump.profile]
        shift = math.ceil(-shape[-1][0] / round_length) * round_length
        while shape[0][0] + shift <= end:
            layers.append([(s + shift, z) for s, z in shape])
            if hump.ramp is not None:
                turns.append(hump.end - first + shift)
            shift += round_length
    return _turned_back(_upper(layers, end), profile, turns) if len(layers) > 1 else profile


def _turned_back(top: Profile, profile: Profile, turns: Sequence[float]) -> Profile:
    """The lifted profile with a way back on the floor to each of the stations `turns` and forward again."""
    stations, heights = np.array(profile).T
    out, pending = [], sorted(turns)
    for s, z in top:
        out.append((s, z))
        while pending and pending[0] < s - NARROWEST and z <= np.interp(s, stations, heights) + 1e-9:
            back = pending.pop(0)
            if abs(np.interp(back, stations, heights) - z) < 1e-9:
                out += [(max(back, 0.0), z), (s, z)]
    return out


def _upper(layers: Sequence[Profile], end: float) -> Profile:
    """The highest of several profiles at each station from 0 to `end`."""
    tables = [np.array(layer) for layer in layers]
    stations = np.unique(np.clip(np.concatenate([table[:, 0] for table in tables]), 0.0, end))
    heights = _heights(tables, stations)
    crossings = [stations]
    for i in range(len(tables)):
        for j in range(i):
            both = np.isfinite(heights[i]) & np.isfinite(heights[j])
            gap = np.where(both, heights[i], 0.0) - np.where(both, heights[j], 0.0)
            turn = (gap[:-1] * gap[1:] < 0.0) & both[:-1] & both[1:]
            t = gap[:-1][turn] / (gap[:-1][turn] - gap[1:][turn])
            crossings.append(stations[:-1][turn] + t * np.diff(stations)[turn])
    stations = np.unique(np.concatenate(crossings))
    top = _heights(tables, stations).max(axis=0)
    return list(zip(stations.tolist(), top.tolist(), strict=True))


def _heights(tables: Sequence[np.ndarray], stations: np.ndarray) -> np.ndarray:
    """Height of each profile at each station, −inf beyond its ends."""
    return np.array([np.interp(stations, t[:, 0], t[:, 1], left=-np.inf, right=-np.inf) for t in tables])
