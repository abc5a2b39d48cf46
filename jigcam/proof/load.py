"""How hard the bit works: engagement, chip load, removal rate, power, rim speed; the worst of each, with its line.

Chip load f = F/(n·z), removal rate Q = F·width·depth, rim speed v = π·D·n are textbook formulas. Width and depth come
from the wood that each stretch of the path really removes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from jigcam.findings import Finding
from jigcam.kit import Machine
from jigcam.proof import engagement
from jigcam.proof.engagement import WORK, Load, most_chip
from jigcam.proof.removal import Cleaned
from jigcam.proof.sweeps import Work
from jigcam.proof.wording import Wording

RUBS = 0.01
"""Chip load under which the edge rubs instead of cutting, mm; common practice puts the onset at 0.03, no source."""
OVERLOADED = 3.0
"""Times the greatest chip load at which a bit breaks rather than wears."""
RIM = 55.0
"""Rim speed at which cutters are limited, m/s (common practice, no source)."""
SIDED = 0.75
"""A stroke with more than this share of its wood on one side of the bit has a direction; a slot has none."""
WINDOW = 2.0
"""Loads are averages over this many radii of path."""
EQUAL = 1e-6
"""Loads that differ by no more than this share are equal, as rounding parts them; the first of them is named."""


@dataclass(frozen=True)
class Loads:
    """The worst of each kind, and the share of climb milling (the wood right of a clockwise bit).

    Full slots climb on one side and do not on the other: only what is taken on one side counts; 0.5 where nothing is.
    """

    worst: dict[str, Load]
    climb_share: float

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {**{k: v.as_dict() for k, v in self.worst.items()}, "climb_share": round(self.climb_share, 3)}


def loads_of(taken: Cleaned, motions: np.ndarray, works: Mapping[int, Work], machine: Machine) -> Loads:
    """The loads of all strokes that remove wood."""
    travel = taken.travel
    cutting = np.flatnonzero(taken.volume > 0.0)
    if not len(cutting):
        return Loads({}, 0.5)
    row = travel.motion
    feed, rpm = motions["feed"][row], motions["rpm"][row]
    tools = np.array(sorted(works))
    slot = np.searchsorted(tools, taken.tool)
    diameter = np.array([2.0 * works[t].envelope.widest for t in tools])[slot]
    flutes = np.array([works[t].envelope.bit.flutes for t in tools])[slot]
    length = np.hypot(travel.strokes.length, travel.z1 - travel.z0)
    area = _averaged(taken.volume, length, taken.tool, WINDOW * diameter / 2.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        chip = feed / (rpm * flutes)
        width = np.where(taken.depth > 0.0, np.minimum(area / taken.depth, diameter), 0.0)
    # Each stretch at its own feed: a quick step at the end of a slow slot does not remove the slot at that pace.
    paced = np.where(taken.volume > 0.0, taken.volume * feed, 0.0)
    rate = _averaged(paced, length, taken.tool, WINDOW * diameter / 2.0)
    kinds = {
        "width_mm": (width, "mm"),
        "depth_mm": (taken.depth, "mm"),
        "chip_load_mm": (chip, "mm"),
        "removal_mm3_min": (rate, "mm3/min"),
        "power_w": (rate / 60.0 * WORK, "W"),
        "rim_speed_m_s": (np.pi * diameter / 1000.0 * rpm / 60.0, "m/s"),
    }
    strain = engagement.strain(
        [works[t].envelope for t in tools], slot, machine, engagement.Chips(area, taken.depth, chip, rate, rpm)
    )
    kinds |= {"engagement": (strain.share, "of the most"), "bend_mm": (strain.bend, "mm")}
    worst = {}
    for name, (values, unit) in kinds.items():
        at = cutting[np.argmax(values[cutting] >= (1.0 - EQUAL) * values[cutting].max())]
        worst[name] = Load(float(values[at]), unit, int(motions["line"][row[at]]))
    thin = cutting[np.argmax(chip[cutting] <= (1.0 + EQUAL) * chip[cutting].min())]
    worst["least_chip_load_mm"] = Load(float(chip[thin]), "mm", int(motions["line"][row[thin]]))
    along = cutting[travel.strokes.length[cutting] > 0.0]
    return Loads(worst, _climb_share(taken.volume[along], taken.right[along]))


def _climb_share(volume: np.ndarray, right: np.ndarray) -> float:
    """Of the strokes that cut on one side, by volume."""
    sided = np.maximum(right, volume - right) > SIDED * volume
    return float(right[sided].sum() / volume[sided].sum()) if sided.any() else 0.5


def findings_of(loads: Loads, machine: Machine, works: Mapping[int, Work], wording: Wording) -> Iterator[Finding]:
    """What is too much, or too little, for bit or spindle."""
    if not loads.worst:
        return
    widest = max(2.0 * work.envelope.widest for work in works.values())
    most = float(most_chip(widest))
    chip, least = loads.worst["chip_load_mm"], loads.worst["least_chip_load_mm"]
    says = f"a chip load of {wording.length(chip.value)} per tooth; up to {wording.length(most, 2)} is usual for "
    says += wording.length(widest, 1)
    if chip.value > OVERLOADED * most:
        yield Finding("stop", "chip-load", f"line {chip.line}", says)
    elif chip.value > most:
        yield Finding("caution", "chip-load", f"line {chip.line}", says)
    if least.value < RUBS:
        says = f"a chip load of {wording.length(least.value, 4)} per tooth: the edge rubs and burns"
        yield Finding("caution", "chip-load", f"line {least.line}", says)
    power = loads.worst["power_w"]
    if power.value > machine.power / 2.0:
        says = f"about {wording.power(power.value)} at the bit; the spindle has {wording.power(machine.power)}"
        yield Finding("stop" if power.value > machine.power else "caution", "power", f"line {power.line}", says)
    yield from engagement.findings_of(loads.worst["engagement"], loads.worst["bend_mm"], wording)
    rim = loads.worst["rim_speed_m_s"]
    if rim.value > RIM:
        says = f"{wording.speed(rim.value)} at the rim; {wording.speed(RIM)} is usual at most"
        yield Finding("caution", "rim-speed", f"line {rim.line}", says)


def _averaged(volume: np.ndarray, length: np.ndarray, tool: np.ndarray, window: np.ndarray) -> np.ndarray:
    """(n,) volume, or whatever comes with it, per length over the stretch of path that ends with each stroke and is at
    least `window` long."""
    way = np.concatenate([[0.0], np.cumsum(length)])
    total = np.concatenate([[0.0], np.cumsum(volume)])
    last = np.arange(1, len(way))
    back = np.minimum(np.searchsorted(way, way[last] - window, side="right") - 1, last - 1)
    # A stretch does not run back past a change of tool.
    change = np.concatenate([[True], tool[1:] != tool[:-1]])
    since = np.maximum.accumulate(np.where(change, np.arange(len(tool)), 0))
    back = np.maximum(back, since)
    mean: np.ndarray = (total[last] - total[back]) / np.maximum(way[last] - way[back], 1e-9)
    return mean
