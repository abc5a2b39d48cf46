"""The files that are mutated, each with its drawing for the proof and its numbers for the judge."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from mutations.bearing import Build
from mutations.judge import Box, Shop, Tabs
from support.hand_files import hand_files
from support.hand_targets import target_of
from support.jobs import Table, write_job
from support.kinds.finger_joint import SMALL as FINGERS
from support.kinds.half_blind_dovetail import drawer_job
from support.kinds.mortise import IN_RAIL, mortise_job
from support.kinds.mortise import SHARED as SHARED_MORTISES
from support.kinds.sliding_dovetail import BY_TEMPLATE
from support.kinds.through_dovetail import PINS_FLAT

from jigcam.findings import stops
from jigcam.geometry import difference
from jigcam.job import kit_for
from jigcam.joints import kind, kind_names, load_job
from jigcam.kit import Bit, Machine, load_kit
from jigcam.making.gcode_file import GcodeFile
from jigcam.proof import Target, prove
from jigcam.workshop.build import plan_job

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
EXAMPLES = ("tilted-shelf-direct", "tilted-shelf", "tilted-shelf-metric")
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
        # They have no comments, and so nothing to obey.
        target = replace(target_of(file), told=())
        shop = shop_of(bit, kit.machine, (0.0, 0.0, width, height, thickness), file.free, tabs=tabs_of(target))
        cases.append(Case(file.name, file.text, target, bit, kit.machine, shop))
    return cases


def example_cases(names: Sequence[str] = EXAMPLES) -> list[Case]:
    """The files that shipped examples make, with the bits of their kits; those cut with one bit."""
    cases = []
    for name in names:
        job = load_job(FOLDER / f"{name}.toml")
        kit = kit_for(job)
        for joint in plan_job(job, kit):
            for file in joint.files:
                bits = set(file.tools.values()) if isinstance(file.tools, Mapping) else {file.tools}
                if len(bits) == 1:
                    cases.append(_example(f"{name}: {file.file}", file, bits.pop(), kit.machine))
    return cases


def starter_cases() -> list[Case]:
    """Files of the metric starter of every kind of joint, so that each kind that the folder holds is there."""
    cases = []
    for name in kind_names():
        with TemporaryDirectory() as folder:
            path = Path(folder) / "job.toml"
            path.write_text(kind(name).starter("mm"), "utf-8")
            job = load_job(path)
            kit = kit_for(job)
            # One file for each clamping and kind of bit: a board's files by a straight and by a dovetail bit differ.
            files = {(f.setup.clamping, f.tools[1].kind): f for f in reversed(plan_job(job, kit)[0].files)}
            for file in reversed(files.values()):
                cases.append(_example(f"{name}: {file.file}", file, file.tools[1], kit.machine))
    return cases


KINDS: Mapping[str, tuple[Table, ...]] = {
    "mortise": (
        mortise_job(mate={**IN_RAIL, "depth": 22.0}),
        mortise_job(angle=10, repeat={"count": 2, "pitch": 60}),
        SHARED_MORTISES,
    ),
    "half-blind-dovetail": (
        drawer_job(tails_setup="flat", corners="relieved"),
        drawer_job(tails_setup="upright", corners="rounded", tails_end="left", pins_end="right"),
    ),
    "finger-joint": (FINGERS,),
    "sliding-dovetail": (BY_TEMPLATE,),
    "through-dovetail": (PINS_FLAT,),
}
"""Jobs of kinds whose files have a sample of their own."""


def kind_cases(name: str) -> list[Case]:
    """The files of the jobs of a kind, made with the metric shop, mm; those cut with one bit, and no marks."""
    cases = []
    for number, table in enumerate(KINDS[name], start=1):
        with TemporaryDirectory() as folder:
            job = load_job(write_job(Path(folder), table))
            kit = kit_for(job)
            for joint in plan_job(job, kit):
                for file in joint.files:
                    if len(set(file.tools.values())) == 1 and "marks" not in file.file:
                        cases.append(_example(f"{name} {number}: {file.file}", file, file.tools[1], kit.machine))
    return cases


def _example(name: str, file: GcodeFile, bit: Bit, machine: Machine) -> Case:
    target, stock = file.target, file.target.stock
    box = (stock.x0, stock.y0, stock.x1, stock.y1)
    free: tuple[Box, ...] = ()
    for removal in target.removals:
        if removal.name == "outline":
            # A rectangular sheet: what is more than a kerf of 1 mm outside it is waste.
            x0, y0, x1, y1 = removal.section(-1.0).holes[0].bounds
            free = (
                (box[0], box[1], box[2], y0 - 1.0),
                (box[0], y1 + 1.0, box[2], box[3]),
                (box[0], box[1], x0 - 1.0, box[3]),
                (x1 + 1.0, box[1], box[2], box[3]),
            )
    shop = shop_of(bit, machine, (*box, stock.thickness), free, target.spoil, tabs_of(target))
    return Case(name, file.text, target, bit, machine, shop)


def tabs_of(target: Target) -> Tabs | None:
    """The tabs of a sheet as rectangles: their middles, as far into the waste as they have to stay, and what stands in
    the kerf beside the middles, which is waste."""
    for removal in target.removals:
        if removal.name == "outline" and removal.needed is not None:
            bottom = -target.stock.thickness + 0.1
            middles = difference(removal.section(-0.1), removal.section(bottom))
            standing = difference(removal.needed(-0.1), removal.needed(bottom))
            ends = difference(standing, middles)
            boxes = (tuple(part.bounds for part in region.parts) for region in (middles, ends))
            return Tabs(removal.levels[1], *boxes)
    return None


def shop_of(
    bit: Bit,
    machine: Machine,
    stock: tuple[float, float, float, float, float],
    free: tuple[Box, ...] = (),
    spoil: float = 0.5,
    tabs: Tabs | None = None,
) -> Shop:
    """The judge's numbers, taken over by hand so that it does not use the kit's formulas."""
    return Shop(
        stock=stock,
        radius=profile(bit.kind, bit.diameter, bit.angle),
        diameter=bit.diameter,
        flutes=bit.flutes,
        plunges=bit.plunges,
        travel=machine.travel,
        max_feed=machine.max_feed,
        spindle=machine.spindle,
        power=machine.power,
        spoil=spoil,
        free=free,
        tabs=tabs,
        light=machine.light,
        build=_build(bit, 20.0 if machine.nut is None else machine.nut.length),
    )


def _build(bit: Bit, held: float) -> Build:
    """What bends of a bit, held so far: the core of a fluted bit is about 0.8 of it (common practice, no source)."""
    out = max(bit.overall_length - held, bit.cutting_length)
    slender = min(profile(bit.kind, bit.diameter, bit.angle)(bit.cutting_length * share) for share in (0.5, 1.0))
    return Build(out, bit.cutting_length, 0.8 * 2.0 * slender, bit.shank, 600e3)


def profile(kind: str, diameter: float, angle: float) -> Callable[[float], float]:
    """Radius over the height above the tip."""
    r = diameter / 2.0
    return {
        "straight": lambda h: r,
        "vee": lambda h: min(r, h * math.tan(angle)),
        "dovetail": lambda h: r - h * math.tan(angle),
        "ball": lambda h: math.sqrt(max(0.0, r * r - max(0.0, r - h) ** 2)),
    }[kind]
