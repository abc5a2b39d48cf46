"""Feeds and speeds from bit, material and machine, with a reason for everything that was reduced.

The chip load (feed per tooth) is a range from a table, reduced for the depth, and another for light machines. Its
middle is aimed at. Where the machine does not feed fast enough for that, the spindle is slowed, down to the lowest
speed at which a router's bit is of use, and below that the chip gets smaller. The spindle's power falls with its speed:
too much for it is made up for by a slower feed, and before the chip is down to where it rubs, by shallower passes.
Speeds are mm/min and rpm, lengths mm, angles rad. Sources stand beside each number; P is common practice without a
source, m is from memory, D is derived.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

from jigcam.kit import Bit, Machine, materials, woods
from jigcam.kit.machine import Dial
from jigcam.toolpath.bending import bending_text
from jigcam.units import MM, Voice

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
LOWEST_USEFUL = (8_000.0, 10_000.0)
"""rpm; the lowest useful speed of a router's bit is about 8,000 to 10,000: below it take a smaller chip, not a slower
spindle (P). The lower one is for machines so slow that the edge would rub at the higher."""
MOST_PASSES = 4
"""Times more passes than the bit alone would ask for, that a weak spindle may make of a cut (P)."""
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
DEEPEST_BESIDE = 1.5
"""Depth of a pass that is narrower than the bit, in diameters, at the most: half of where tables of chip
loads end (P)."""
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


def deeper(feeds: Feeds, bit: Bit, width: float, machine: Machine) -> tuple[float, float]:
    """Depth of a pass (mm) and feed (mm/min) of a cut that is only so wide beside the path (mm), for a bit that is run
    with feeds for the full width: no more wood at once, and smaller chips where it is deep."""
    share = min(1.0, width / bit.diameter)
    deep = feeds.depth_per_pass
    if share * DEEPEST_BESIDE * bit.diameter <= deep:
        deep = max(deep, DEEPEST_BESIDE * bit.diameter)
    else:
        deep /= share
    if machine.light:  # its chips are small as it is
        return deep, feeds.feed
    factors = (_interpolated(list(DEPTH_FACTORS), each / bit.diameter) for each in (deep, feeds.depth_per_pass))
    return deep, feeds.feed * next(factors) / next(factors)


def chip_range(diameter: float, kind: MaterialClass) -> tuple[float, float]:
    """The table's range for that diameter, mm per tooth, lowest and highest, for a depth of one diameter.

    In proportion between rows and below the first; the last row's values above it.
    """
    low, high = (
        _interpolated([(0.0, 0.0), *((row.diameter, getattr(row, kind)[end]) for row in CHIP_LOADS)], diameter)
        for end in (0, 1)
    )
    return low, high


def chip_load(diameter: float, kind: MaterialClass) -> float:
    """Middle of the table's range for that diameter, mm per tooth."""
    return sum(chip_range(diameter, kind)) / 2.0


def _interpolated(points: list[tuple[float, float]], x: float) -> float:
    """Straight between the points, constant beyond them."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def highest_rpm(bit: Bit, voice: Voice = MM) -> tuple[float, str]:
    """The highest speed for a bit, and what sets it: the mark on it, its diameter, or the speed of its rim.

    voice: in which the speed of the rim is said.
    """
    if bit.max_rpm is not None:
        return bit.max_rpm, "marked on the bit"
    by_size = next((rpm for size, rpm in SPEED_LIMITS if bit.diameter <= size + 0.5), SPEED_LIMITS[-1][1])
    by_rim = RIM_SPEED * 60_000.0 / (math.pi * bit.diameter)
    if by_rim < by_size:
        rim = f"{RIM_SPEED / 0.3048:.0f} ft/s" if voice.inch else f"{RIM_SPEED:g} m/s"
        return by_rim, f"its rim stays under {rim}"
    return by_size, "usual for its diameter"


def choose(
    bit: Bit,
    material: str | None,
    machine: Machine,
    depth: float,
    *,
    voice: Voice = MM,
    at_once: bool = False,
    width: float | None = None,
) -> Feeds:
    """Feeds for cutting `depth` mm deep with a bit in a material (a wood or a sheet good).

    at_once: cut the whole depth in one pass (a dovetail bit does so in any case). width: of the cut beside the path,
    mm, where it is never the full width of the bit: the narrower, the deeper a pass may be, for the same wood at once;
    left out: the full width. voice: of the reasons.
    """
    kind = material_class(material)
    size = _working_diameter(bit, depth)
    side = size if width is None else min(width, size)
    passes = 1 if at_once or bit.undercuts else _passes(bit, machine, depth, side / size)
    first = passes
    while True:
        whole = at_once or bit.undercuts
        feeds, weak = _with_passes(bit, kind, size, machine, depth, passes, first, voice, whole, side)
        # Shallower passes before an edge that rubs: a spindle has only so much torque.
        rubs = weak and feeds.chip < RUBS - 1e-9
        if not rubs or at_once or bit.undercuts or passes >= MOST_PASSES * first:
            return feeds
        passes += 1


class _Chips(NamedTuple):
    """Chip loads to stay within, mm per tooth."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2.0


def _with_passes(
    bit: Bit,
    kind: MaterialClass,
    size: float,
    machine: Machine,
    depth: float,
    passes: int,
    usual: int,
    voice: Voice,
    whole: bool,
    side: float,
) -> tuple[Feeds, bool]:
    """The feeds for a cut in so many passes, and whether the spindle's power is what sets them.

    size: of the cutter as it works; usual: passes for the bit alone; whole: all of the depth at once; side: width of
    the cut.
    """
    reasons: list[str] = []
    step = depth / passes
    chips = _chips(kind, size, step, machine, voice, reasons)
    reasons.append(_passes_text(machine, depth, passes, usual, voice, whole, side if side < size else None))
    most, why = highest_rpm(bit, voice)
    top = machine.spindle[1]
    if most < top:
        top = most
        reasons.append(f"At most {most:.0f} rpm for this bit: {why}.")
    fastest = min(machine.max_feed[0], machine.max_feed[1])
    rpm, dial = _speed(machine, bit, chips, top, fastest, voice, reasons)
    wanted = min(chips.middle * bit.flutes * rpm, fastest)
    feed = _within_power(wanted, step, side, kind, machine, rpm, voice, reasons)
    weak = feed < wanted
    feed = max(1.0, math.floor(feed / 10.0) * 10.0 if feed > 100.0 else math.floor(feed))
    chip = feed / (bit.flutes * rpm)
    if chip < RUBS:
        reasons.append(f"Only {_tooth(voice, chip)}: the edge may rub and burn; a bit with fewer flutes would cure it.")
    elif chip < chips.low * 0.98:
        reasons.append(f"{_tooth(voice, chip)}, a smaller chip than usual, is what that comes to.")
    if not bit.pointed:  # of a vee only the point is in the stock
        energy, tooth = CUTTING_ENERGY[kind], _tooth(voice, chip)
        taken = step * side * feed
        reasons.append(bending_text(bit, machine, voice, removed=taken, energy=energy, rpm=rpm, chip=tooth))
    plunge = math.floor(min(PLUNGE_SHARE * feed, machine.max_feed[2]))
    ramp = PLUNGING_RAMP if bit.plunges else RAMP_ANGLES[kind]
    return Feeds(rpm, dial, feed, plunge, ramp, step, chip, tuple(reasons)), weak


def _tooth(voice: Voice, mm: float) -> str:
    """A chip load, in more places than a length."""
    return f"{voice.length(mm, 4 if voice.inch else 2)} a tooth"


def _range(voice: Voice, chips: _Chips) -> str:
    low, _ = _tooth(voice, chips.low).split(" ", 1)
    return f"{low} to {_tooth(voice, chips.high)}"


def _chips(kind: MaterialClass, size: float, step: float, machine: Machine, voice: Voice, reasons: list[str]) -> _Chips:
    """The chip loads for a pass so deep: of the table, or of a light machine where that is less."""
    low, high = chip_range(size, kind)
    reasons.append(
        f"{_range(voice, _Chips(low, high))} is usual for {kind} and {voice.length(size)} of cutter (common practice)."
    )
    factor = _interpolated(list(DEPTH_FACTORS), step / size)
    if factor < 1.0:
        low, high = factor * low, factor * high
        reasons.append(f"Reduced to {factor:.0%} for a pass {step / size:.1f} diameters deep.")
    if low < RUBS:
        low, high = RUBS, max(RUBS, high)
        reasons.append(f"At least {_tooth(voice, RUBS)}: under that the edge rubs and burns.")
    if machine.light and (low + high) > sum(LIGHT_CHIP):
        low, high = LIGHT_CHIP
        reasons.append(f"{_range(voice, _Chips(low, high))} instead: a light machine does not push harder.")
    return _Chips(low, high)


def _working_diameter(bit: Bit, depth: float) -> float:
    """Width of the cutter at the face of the stock: a vee cuts with its point."""
    if bit.pointed:
        return max(0.5, min(bit.diameter, 2.0 * depth * math.tan(bit.angle)))
    return bit.diameter


def _passes(bit: Bit, machine: Machine, depth: float, share: float) -> int:
    """How many equal passes, none with more wood at once than the machine takes at full width. share: of the bit's
    width that is in the wood."""
    most = machine.deepest_pass if share >= 1.0 else max(machine.deepest_pass, DEEPEST_BESIDE)
    return max(1, math.ceil(depth / (bit.diameter * min(machine.deepest_pass / share, most)) - 1e-9))


def _passes_text(
    machine: Machine, depth: float, passes: int, usual: int, voice: Voice, whole: bool, side: float | None
) -> str:
    """side: width of the cut, where it is not the full one."""
    if whole:
        return f"The full depth of {voice.length(depth)} in one pass."
    share = "half a diameter on a light machine" if machine.light else "one diameter"
    source = "common practice"
    if machine.pass_depth is not None:
        share, source = f"{machine.pass_depth:g} diameters", "the kit"
    count = "1 pass" if passes == 1 else f"{passes} passes"
    if passes > usual:
        return f"{count} of {voice.length(depth / passes)} and not {usual}: the spindle is too weak for a deeper chip."
    if side is not None:
        return (
            f"{count} of {voice.length(depth / passes)}, {voice.length(side)} wide: no more wood at once than "
            f"in a full cut of {share} ({source})."
        )
    return f"{count} of {voice.length(depth / passes)}: at most {share} ({source})."


def _speed(
    machine: Machine, bit: Bit, chips: _Chips, top: float, fastest: float, voice: Voice, reasons: list[str]
) -> tuple[float, float | None]:
    """The spindle's speed, as it can be set, and the mark of its dial.

    As fast as bit and spindle may turn (top), slower where the machine's feed (fastest, mm/min) does not make the chip
    that is aimed at, but no slower than a bit is of use.
    """
    least, usual = LOWEST_USEFUL
    useful = min(max(least if fastest < RUBS * bit.flutes * usual else usual, machine.spindle[0]), top)
    aim = fastest / (chips.middle * bit.flutes)
    wanted = min(top, max(useful, aim))
    if machine.dial:
        rpm, mark = _dialled(machine.dial, wanted, top, useful)
    else:
        rpm, mark = math.floor(wanted / 100.0) * 100.0 if wanted > 1000.0 else math.floor(wanted), None
        rpm = min(max(rpm, machine.spindle[0]), machine.spindle[1])
    reached = min(chips.middle * bit.flutes * rpm, fastest)
    if rpm < 0.99 * top and aim < top:
        reasons.append(
            f"{rpm:.0f} rpm and not {top:.0f}: the machine feeds {voice.feed(fastest)} at the most, and the "
            "slower the spindle, the thicker the chip."
        )
    if reached < 0.99 * chips.low * bit.flutes * rpm and rpm <= 1.01 * useful:
        reasons.append(
            f"Not slower than that, though it takes a smaller chip: under {least:.0f} to {usual:.0f} rpm a router bit "
            "does not cut clean (common practice)."
        )
    if mark is not None:
        reasons.append(f"Dial at {mark:g}: {rpm:.0f} rpm.")
        if rpm > top + 0.5:
            reasons.append(f"That is the slowest; {top:.0f} rpm would be right.")
    elif rpm > top + 0.5:
        reasons.append(f"The spindle's slowest, {rpm:.0f} rpm; {top:.0f} would be right.")
    return float(rpm), mark


def _dialled(dial: Dial, wanted: float, top: float, useful: float) -> tuple[float, float]:
    """rpm and mark of the dial: the fastest mark up to the wanted speed that is of use, else the slowest that is, else
    the fastest up to the top, else the slowest of all."""
    marks = [(rpm, mark) for mark, rpm in dial]
    allowed = [each for each in marks if each[0] <= top + 0.5]
    near = [each for each in allowed if useful - 0.5 <= each[0] <= wanted + 0.5]
    above = [each for each in allowed if each[0] >= useful - 0.5]
    return near[-1] if near else above[0] if above else allowed[-1] if allowed else marks[0]


def _within_power(
    feed: float,
    step: float,
    width: float,
    kind: MaterialClass,
    machine: Machine,
    rpm: float,
    voice: Voice,
    reasons: list[str],
) -> float:
    """The feed at which a full cut needs no more than a share of what the spindle has at that speed:
    P = energy · step · width · F."""
    power = machine.power_at(rpm)
    most = POWER_SHARE * power * 60.0 / (CUTTING_ENERGY[kind] * step * width)
    if feed <= most:
        return feed
    has = f"{voice.power(power)} at {rpm:.0f} rpm"
    has += f" of its {voice.power(machine.power)}" if power < 0.995 * machine.power else ""
    reasons.append(f"Feed reduced to {most / feed:.0%}: the spindle has {has}.")
    return most
