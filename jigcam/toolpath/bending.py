"""How hard a cut pushes a bit aside, and how far the bit gives way: said beside its feeds, so that a maker sees what is
left of its strength.

The bit is a cantilever that the collet holds: below, as long as its edges, its core, which is thinner than the edges
are wide; above it the shank. A force F at its tip bends it by F/(3E) · (l³/I₁ + (L³ − l³)/I₂), with I = π·d⁴/64 (the
cantilever with a load at its end, as in S. Timoshenko, Strength of Materials, from memory; two diameters: D). The force
is that which turns the spindle's power at the rim, F = P/v. mm, N, W, mm/min, rpm.
"""

from __future__ import annotations

import math

from jigcam.kit import Bit, Machine
from jigcam.units import Voice
from jigcam.units.voice import HORSEPOWER

CARBIDE, STEEL = 600e3, 210e3
"""Moduli of elasticity of carbide, and of high-speed steel, N/mm² (from memory)."""
CORE = 0.8
"""Diameter of the core between the flutes, of that over the edges (common practice, no source)."""
HELD = 20.0
"""mm of the shank that the collet holds (common practice, no source)."""
POUND = 4.448
"""N in a pound of force."""


def push(removed: float, energy: float, diameter: float, rpm: float) -> tuple[float, float]:
    """Power (W) and force at the rim (N) of a cut. removed: mm³/min; energy: J/mm³."""
    power = energy * removed / 60.0
    return power, power / (math.pi * diameter / 1000.0 * rpm / 60.0)


def gives(bit: Bit, machine: Machine) -> float:
    """How far the tip of a bit gives way, mm/N, with its shank as far in the collet as it goes."""
    nut = machine.nut.length if machine.nut else HELD
    out = max(bit.overall_length - nut, bit.cutting_length)
    modulus = STEEL if any(word in (bit.material or "").casefold() for word in ("hss", "speed")) else CARBIDE
    core, shank = (math.pi * d**4 / 64.0 for d in (CORE * min(bit.diameter, bit.neck), bit.shank))
    edges = bit.cutting_length
    return (edges**3 / core + (out**3 - edges**3) / shank) / (3.0 * modulus)


def bending_text(
    bit: Bit, machine: Machine, voice: Voice, *, removed: float, energy: float, rpm: float, chip: str
) -> str:
    """A sentence on what the fullest cut asks of spindle and bit. removed, energy: see `push`. chip: as it is said."""
    power, force = push(removed, energy, bit.diameter, rpm)
    taken, aside = f"{power:.0f} W", f"{force:.0f} N"
    if voice.inch:
        taken, aside = f"{power / HORSEPOWER:.2f} hp", f"{force / POUND:.1f} lb"
    bent = voice.length(force * gives(bit, machine), 4 if voice.inch else 3)
    return (
        f"With {chip}, the fullest cut takes {taken} and pushes the bit aside by {aside}: its tip bends by {bent} "
        "(a cantilever, F·L³/3EI)."
    )
