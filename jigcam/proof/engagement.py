"""How much wood a bit has before it at once, against what bit, machine and wood bear.

The wood that a cutting edge takes in one turn is width times depth times chip load; what it costs in force goes with
it. The most that a cut may ask for is taken from practice: a full cut one diameter deep at the greatest usual chip load
(half as deep, and at the small chips of light machines, on a light one; or as deep as the kit says). Width, depth and
chip load may be traded for each other below that; but nobody goes in at full width deeper than three such depths,
however slowly.

A bit bends as a stepped cantilever held where the collet ends: δ = F·L³/(3·E·I), I = π·d⁴/64, with the force that power
at the rim amounts to, F = P/v (formulas of textbooks).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from jigcam.findings import Finding, Level
from jigcam.kit import Machine
from jigcam.proof.envelope import Envelope
from jigcam.proof.wording import Wording
from jigcam.values import dataclass

WORK = 0.08
"""Energy per volume of wood, J/mm³: hardwood and MDF at small chips (from memory; 0.03 to 0.08 is usual)."""
CHIPS = ((3.2, 0.18), (6.35, 0.41), (9.5, 0.58), (12.7, 0.69))
"""Diameter and greatest chip load per tooth in MDF, where it is highest, mm (common practice, no source)."""
LIGHT_CHIP = 0.13
"""The greatest chip load of small machines, whatever the bit, mm (common practice, no source)."""
OVER = 1.5
"""Times the most of practice at which a cut is refused: what is usual is a range, and widths are estimates."""
BURIED = 3.0
"""Times the depth of a full cut that is too much at any feed: tables of chip loads end there (common practice)."""
BENDS, BENT = 0.05, 0.2
"""A bit that bends by more than the first leaves walls that are off, by what counts as another cut, mm; at the second
the cut is refused."""
STIFF, SOFT = 600e3, 210e3
"""Moduli of carbide and of high-speed steel, N/mm² (from memory)."""
CORE = 0.8
"""Diameter of a fluted bit's core that bears, of its cutting diameter (common practice, no source)."""
GRIP = 20.0
"""Length of shank in the collet where the kit gives no nut, mm: as much as routers ask for (common practice)."""


@dataclass(frozen=True)
class Load:
    """One kind of load at its worst: value, its unit, and the line."""

    value: float
    unit: str
    line: int

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {"value": round(self.value, 4), "unit": self.unit, "line": self.line}


@dataclass(frozen=True)
class Chips:
    """(n,) strokes: area before the bit (width times depth, mm²), greatest depth (mm), chip load (mm), removal
    (mm³/min), speed (rpm)."""

    area: np.ndarray
    depth: np.ndarray
    chip: np.ndarray
    rate: np.ndarray
    rpm: np.ndarray


@dataclass(frozen=True)
class Strain:
    """(n,) share of the most that a cut may ask for, over 1 where it is too much; bend of the bit, mm."""

    share: np.ndarray
    bend: np.ndarray


def most_chip(diameter: float | np.ndarray) -> np.ndarray:
    """Greatest usual chip load for cutters of that diameter, mm."""
    diameters, chips = zip(*CHIPS, strict=True)
    return np.asarray(np.interp(diameter, diameters, chips))


def strain(bits: Sequence[Envelope], which: np.ndarray, machine: Machine, cutting: Chips) -> Strain:
    """What strokes ask of their bits. which: (n,) place of each stroke's bit among `bits`."""
    diameter = np.array([2.0 * bit.widest for bit in bits])[which]
    deep = machine.deepest_pass
    chips = most_chip(diameter)
    chips = np.minimum(chips, LIGHT_CHIP) if machine.light else chips
    full = cutting.area / (deep * diameter**2)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.maximum(full * cutting.chip / chips / OVER, full / BURIED)
        rim = np.pi * diameter / 1000.0 * cutting.rpm / 60.0
        force = cutting.rate / 60.0 * WORK / rim
    gives = np.array([compliance(bit, machine) for bit in bits])[which]
    return Strain(np.nan_to_num(share, posinf=0.0), np.nan_to_num(force * gives, posinf=0.0))


def compliance(envelope: Envelope, machine: Machine) -> float:
    """How far the tip goes aside under a force on it, mm/N: the cutter as its core on the shank, held in the collet."""
    bit = envelope.bit
    held = GRIP if machine.nut is None else machine.nut.length
    out = max(bit.overall_length - held, bit.cutting_length)
    modulus = SOFT if "speed" in (bit.material or "").casefold() or "hss" in (bit.material or "").casefold() else STIFF
    edge = min(bit.cutting_length, out)
    # Where a pointed bit is thin there is nothing but its point: the upper half of the edges tells.
    cutter = CORE * 2.0 * float(envelope.radius(np.linspace(edge / 2.0, edge, 20)).min())
    shank = 2.0 * float(envelope.radius(np.array([bit.cutting_length + 1e-3]))[0])
    low, high = (np.pi * max(size, 1e-3) ** 4 / 64.0 for size in (cutter, shank))
    return float((edge**3 / low + (out**3 - edge**3) / high) / (3.0 * modulus))


def findings_of(share: Load, bend: Load, wording: Wording) -> Iterator[Finding]:
    """What is too much for bit and machine."""
    says = f"the bit takes {share.value:.1f} times the wood at once (width, depth and chip together) that it may"
    if share.value > 1.0:
        yield Finding("stop", "engagement", f"line {share.line}", says)
    elif share.value > 1.0 / OVER:
        says = "more wood at once (width, depth and chip together) than is usual for bit and machine"
        yield Finding("caution", "engagement", f"line {share.line}", says)
    if bend.value > BENDS:
        says = f"the bit bends by about {wording.length(bend.value, 2)} here; the wall comes out that much off"
        level: Level = "stop" if bend.value > BENT else "caution"
        yield Finding(level, "bit-bends", f"line {bend.line}", says)
