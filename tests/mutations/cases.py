"""The files that are mutated, each with its drawing for the proof and its numbers for the judge."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from mutations.judge import Shop
from support.hand_files import hand_files
from support.hand_targets import target_of

from jigcam.findings import stops
from jigcam.geometry import difference
from jigcam.job import kit_for, load_job
from jigcam.kit import Bit, Machine, load_kit
from jigcam.proof import Removal, Target, prove
from jigcam.workshop.build import plan_job
from jigcam.workshop.cutfile import CutFile

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
EXAMPLES = ("tilted-shelf-direct", "tilted-shelf")
DOVETAILS = ("carcase", "carcase-metric", "carcase-measured")


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
        width, height, thickness = file.stock
        shop = shop_of(bit, kit.machine, (0.0, 0.0, width, height, thickness), file.free)
        cases.append(Case(file.name, file.text, target_of(file), bit, kit.machine, shop))
    return cases


def example_cases(names: Sequence[str] = EXAMPLES) -> list[Case]:
    """The files that shipped examples make, with the bits of their kits; those cut with one bit."""
    cases = []
    for name in names:
        job = load_job(FOLDER / f"{name}.toml")
        kit = kit_for(job)
        for work in plan_job(job, kit):
            for file in work.cut_files:
                bits = set(file.tools.values()) if isinstance(file.tools, Mapping) else {file.tools}
                if len(bits) == 1:
                    cases.append(_example(f"{name}: {file.file}", file, bits.pop(), kit.machine))
    return cases


def _example(name: str, file: CutFile, bit: Bit, machine: Machine) -> Case:
    target, stock = file.target, file.target.stock
    box = (stock.x0, stock.y0, stock.x1, stock.y1)
    free: tuple[tuple[float, float, float, float], ...] = ()
    for removal in target.removals:
        if removal.name == "outline":
            # A rectangular sheet: what is more than a kerf of 1 mm outside it is waste.
            x0, y0, x1, y1 = removal.section(-1.0).holes[0].bounds
            free = (
                (box[0], box[1], box[2], y0 - 1.0), (box[0], y1 + 1.0, box[2], box[3]),
                (box[0], box[1], x0 - 1.0, box[3]), (x1 + 1.0, box[1], box[2], box[3]),
                *_ends_of_tabs(removal, -stock.thickness),
            )  # fmt: skip
    shop = shop_of(bit, machine, (*box, stock.thickness), free, target.spoil)
    return Case(name, file.text, target, bit, machine, shop)


def _ends_of_tabs(outline: Removal, bottom: float) -> Iterator[tuple[float, float, float, float]]:
    """What stands in the kerf at the bottom beside the middles of the tabs: their sloped ends, which are waste."""
    assert outline.needed is not None
    standing = difference(outline.needed(-0.1), outline.needed(bottom + 0.1))
    for part in difference(standing, difference(standing, outline.section(bottom + 0.1))).parts:
        yield part.bounds


def shop_of(
    bit: Bit, machine: Machine, stock: tuple[float, float, float, float, float],
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
