"""Feeds and speeds from bit, material and machine, with a reason for everything that was reduced.

The chip load (feed per tooth) comes from a table, is reduced for the depth and for a light machine, and is kept while
the speed of the spindle is lowered to stay within the machine's feed. Speeds are mm/min and rpm, lengths mm, angles
rad. Sources stand beside each number; P is common practice without a source, m is from memory, D is derived.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

from jigcam.kit import Bit, Machine, materials, woods
from jigcam.units import format_length

MaterialClass = Literal["hardwood", "softwood", "mdf"]


class ChipLoad(NamedTuple):
    """A row of the table: feed per tooth (lowest, highest) in mm for a cutter of `diameter`, by class of material."""

    diameter: float
    hardwood: tuple[float, float]
    softwood: tuple[float, float]
    mdf: tuple[float, float]


CHIP_LOADS = (
    ChipLoad(3.2, (0.08, 0.13), (0.10, 0.15), (0.10, 0.18)),
    ChipLoad(6.35, (0.23, 0.28), (0.28, 0.33), (0.33, 0.41)),
    ChipLoad(9.5, (0.38, 0.46), (0.43, 0.51), (0.51, 0.58)),
    ChipLoad(12.7, (0.48, 0.53), (0.53, 0.58), (0.64, 0.69)),
)
"""For routers of full power, at a depth of one diameter (P). Plywood is read as softwood."""
DEPTH_FACTORS = ((1.0, 1.0), (2.0, 0.75), (3.0, 0.5))
"""(depth in diameters, factor on the chip load): −25 % at two, −50 % at three (P)."""
LIGHT_CHIP = (0.03, 0.13)
"""Feed per tooth (mm) at which small machines work, whatever the bit (P)."""
RUBS = 0.03
"""Under this feed per tooth (mm) the edge rubs and burns (P)."""
SPEED_LIMITS = ((25.0, 24_000.0), (50.0, 18_000.0), (64.0, 16_000.0), (89.0, 12_000.0))
"""(cutter diameter in mm, highest rpm) (P); what is marked on the bit comes before it."""
RIM_SPEED = 55.0
"""Highest speed of the rim, m/s, that those limits amount to (P)."""
CUTTING_ENERGY: dict[MaterialClass, float] = {"hardwood": 0.06, "softwood": 0.03, "mdf": 0.045}
"""Work to remove a volume, J/mm³ (m)."""
POWER_SHARE = 0.8
"""Part of the spindle's power that a plan may use (P)."""
RAMP_ANGLES: dict[MaterialClass, float] = {
    "hardwood": math.radians(3),
    "softwood": math.radians(4),
    "mdf": math.radians(4.5),
}
"""Slope of a ramped entry: 3 to 5° (P)."""
PLUNGING_RAMP = math.radians(8)
"""Slope for a bit that cuts at its centre: well under that at which it goes down as fast as it may plunge (D)."""
PLUNGE_SHARE = 1.0 / 3.0
"""Feed straight down, of the feed along (P)."""
MOST_THINNING = 1.67
"""Thinner chips are made up for by no more than this: the factor at an engagement of a tenth of the diameter (P)."""


@dataclass(frozen=True, slots=True)
class Feeds:
    """How a bit is run in a material.

    rpm: of the spindle; dial: the mark to set it to, where it is set by hand. feed: mm/min along the path. plunge:
    mm/min straight down. ramp_angle: rad. depth_per_pass: mm, equal steps to the depth asked for. chip: feed per tooth
    that results, mm. reasons: whole sentences.
    """

    rpm: float
    dial: float | None
    feed: float
    plunge: float
    ramp_angle: float
    depth_per_pass: float
    chip: float
    reasons: tuple[str, ...]


def material_class(name: str | None) -> MaterialClass:
    """The row of the chip load table for a wood or a sheet good; hardwood, the most careful, for an unknown one."""
    sheet = materials().get(name) if name else None
    if sheet is not None:
        return sheet.cuts_like
    folded = (name or "").casefold()
    wood = next((wood for known, wood in woods().items() if known.casefold() == folded), None)
    return "softwood" if wood is not None and not wood.hard else "hardwood"


def thinning(engagement: float, diameter: float) -> float:
    """Factor on the feed that keeps the chip as thick as in a full cut: D/(2√(a(D − a))) for a < D/2, else 1 (D).

    engagement a: width of cut beside the path, mm, > 0.
    """
    if engagement >= 0.5 * diameter:
        return 1.0
    return diameter / (2.0 * math.sqrt(engagement * (diameter - engagement)))


def chip_load(diameter: float, kind: MaterialClass) -> float:
    """Middle of the table's range for that diameter, mm per tooth.

    In proportion between rows and below the first; the last row's value above it.
    """
    rows = [(row.diameter, sum(getattr(row, kind)) / 2.0) for row in CHIP_LOADS]
    return _interpolated([(0.0, 0.0), *rows], diameter)


def feed_text(feed: float, units: str) -> str:
    """A feed (mm/min) in people's words, as round as it is worth."""
    return f"{format_length(feed, units, 1 if units == 'in' else 0)} a minute"


def _interpolated(points: list[tuple[float, float]], x: float) -> float:
    """Straight between the points, constant beyond them."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def highest_rpm(bit: Bit) -> tuple[float, str]:
    """The highest speed for a bit, and what sets it: the mark on it, its diameter, or the speed of its rim."""
    if bit.max_rpm is not None:
        return bit.max_rpm, "marked on the bit"
    by_size = next((rpm for size, rpm in SPEED_LIMITS if bit.diameter <= size + 0.5), SPEED_LIMITS[-1][1])
    by_rim = RIM_SPEED * 60_000.0 / (math.pi * bit.diameter)
    if by_rim < by_size:
        return by_rim, f"its rim stays under {RIM_SPEED:g} m/s"
    return by_size, "usual for its diameter"


def choose(
    bit: Bit, material: str | None, machine: Machine, depth: float, *, units: str = "mm", at_once: bool = False
) -> Feeds:
    """Feeds for cutting `depth` mm deep with a bit in a material (a wood or a sheet good), full width.

    at_once: cut the whole depth in one pass (a dovetail bit does so in any case). units: of the lengths in the reasons.
    """
    kind = material_class(material)
    reasons: list[str] = []

    def length(mm: float) -> str:
        return format_length(mm, units)

    def tooth(mm: float) -> str:
        return f"{format_length(mm, units, 4 if units == 'in' else 2)} a tooth"

    size = _working_diameter(bit, depth)
    chip = chip_load(size, kind)
    reasons.append(f"{tooth(chip)} for {kind} and {length(size)} of cutter (common practice).")
    step = _depth_per_pass(bit, machine, depth, at_once, reasons, units)
    factor = _interpolated(list(DEPTH_FACTORS), step / size)
    if factor < 1.0:
        chip *= factor
        reasons.append(f"Reduced to {factor:.0%} for a pass {step / size:.1f} diameters deep.")
    if chip < RUBS:
        chip = RUBS
        reasons.append(f"Raised to {tooth(chip)}: under that the edge rubs and burns.")
    middle = sum(LIGHT_CHIP) / 2.0
    if machine.light and chip > middle:
        chip = middle
        reasons.append(f"Reduced to {tooth(chip)}: a light machine does not push harder.")

    most, why = highest_rpm(bit)
    top = machine.spindle[1]
    if most < top:
        top = most
        reasons.append(f"At most {most:.0f} rpm for this bit: {why}.")
    fastest = min(machine.max_feed[0], machine.max_feed[1])
    fitting = fastest / (chip * bit.flutes)
    if fitting < top:
        top = fitting
        reasons.append(f"Slower spindle, so that the machine's feed of {feed_text(fastest, units)} still makes chips.")
    rpm, dial = _speed(machine, top, reasons)
    feed = min(chip * bit.flutes * rpm, fastest)
    feed = _within_power(feed, step, size, kind, machine, reasons)
    feed = max(1.0, math.floor(feed / 10.0) * 10.0 if feed > 100.0 else math.floor(feed))
    chip = feed / (bit.flutes * rpm)
    if chip < RUBS:
        reasons.append(f"Only {tooth(chip)}: the edge may rub and burn; a slower spindle would cure it.")
    plunge = min(PLUNGE_SHARE * feed, machine.max_feed[2])
    ramp = PLUNGING_RAMP if bit.plunges else RAMP_ANGLES[kind]
    return Feeds(rpm, dial, feed, math.floor(plunge), ramp, step, chip, tuple(reasons))


def _working_diameter(bit: Bit, depth: float) -> float:
    """Width of the cutter at the face of the stock: a vee cuts with its point."""
    if bit.pointed:
        return max(0.5, min(bit.diameter, 2.0 * depth * math.tan(bit.angle)))
    return bit.diameter


def _depth_per_pass(bit: Bit, machine: Machine, depth: float, at_once: bool, reasons: list[str], units: str) -> float:
    """Equal passes of at most one diameter, half of it on a light machine (P); a dovetail bit cuts all at once."""
    if at_once or bit.undercuts:
        reasons.append(f"The full depth of {format_length(depth, units)} in one pass.")
        return depth
    most = bit.diameter * (0.5 if machine.light else 1.0)
    count = max(1, math.ceil(depth / most - 1e-9))
    share = "half a diameter on a light machine" if machine.light else "one diameter"
    passes = "1 pass" if count == 1 else f"{count} passes"
    reasons.append(f"{passes} of {format_length(depth / count, units)}: at most {share} (common practice).")
    return depth / count


def _speed(machine: Machine, wanted: float, reasons: list[str]) -> tuple[float, float | None]:
    """The spindle's speed at or under the wanted one, as it can be set, and the mark of its dial."""
    if machine.dial:
        below = [step for step in machine.dial if step[1] <= wanted + 0.5]
        mark, rpm = below[-1] if below else machine.dial[0]
        reasons.append(f"Dial at {mark:g}: {rpm:.0f} rpm.")
        if not below:
            reasons.append(f"That is the slowest; {wanted:.0f} rpm would be right.")
        return float(rpm), float(mark)
    rpm = math.floor(wanted / 100.0) * 100.0 if wanted > 1000.0 else math.floor(wanted)
    if rpm < machine.spindle[0]:
        reasons.append(f"The spindle's slowest, {machine.spindle[0]:.0f} rpm; {wanted:.0f} would be right.")
    return min(max(rpm, machine.spindle[0]), machine.spindle[1]), None


def _within_power(
    feed: float, step: float, width: float, kind: MaterialClass, machine: Machine, reasons: list[str]
) -> float:
    """The feed at which a full cut needs no more than a share of the spindle's power: P = energy · step · width · F."""
    most = POWER_SHARE * machine.power * 60.0 / (CUTTING_ENERGY[kind] * step * width)
    if feed <= most:
        return feed
    reasons.append(f"Feed reduced to {most / feed:.0%}: the spindle has {machine.power:g} W.")
    return most
