"""The files that are mutated, each with its drawing for the proof and its numbers for the judge."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from mutations.judge import Shop
from support.hand_files import hand_files
from support.hand_targets import target_of

from jigcam.findings import stops
from jigcam.kit import Bit, Machine, load_kit
from jigcam.proof import Target, prove


@dataclass(frozen=True)
class Case:
    """One file: its text, what the proof knows and what the judge knows."""

    name: str
    text: str
    target: Target
    bit: Bit
    machine: Machine
    shop: Shop

    def stopped(self, text: str) -> str:
        """Why the proof refuses a text: the rules, or "" where it passes."""
        found = stops(prove(text, self.target, self.machine, self.bit).findings)
        return ", ".join(dict.fromkeys(finding.rule for finding in found))


def hand_cases() -> list[Case]:
    """The hand-written files, with the bits of the inch shop."""
    kit = load_kit("inch-shop")
    cases = []
    for file in hand_files():
        bit = kit.bit(file.bit)
        shop = shop_of(bit, kit.machine, file.stock, file.free)
        cases.append(Case(file.name, file.text, target_of(file), bit, kit.machine, shop))
    return cases


def shop_of(
    bit: Bit, machine: Machine, stock: tuple[float, float, float],
    free: tuple[tuple[float, float, float, float], ...] = (), spoil: float = 0.5,
) -> Shop:  # fmt: skip
    """The judge's numbers, taken over by hand so that it does not use the kit's formulas."""
    return Shop(
        stock=stock, radius=profile(bit.kind, bit.diameter, bit.angle), diameter=bit.diameter, flutes=bit.flutes,
        plunges=bit.plunges, travel=machine.travel, max_feed=machine.max_feed, spindle=machine.spindle,
        spoil=spoil, free=free,
    )  # fmt: skip


def profile(kind: str, diameter: float, angle: float) -> Callable[[float], float]:
    """Radius over the height above the tip."""
    r = diameter / 2.0
    return {
        "straight": lambda h: r,
        "vee": lambda h: min(r, h * math.tan(angle)),
        "dovetail": lambda h: r - h * math.tan(angle),
        "ball": lambda h: math.sqrt(max(0.0, r * r - max(0.0, r - h) ** 2)),
    }[kind]
