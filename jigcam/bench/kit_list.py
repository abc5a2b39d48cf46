"""A kit as a list: router, machine, sheet, bits, bushings, and which bit runs in which bushing."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from jigcam.kit import Bit, Kit
from jigcam.making.columns import columns, prose
from jigcam.making.gcode_file import tidy
from jigcam.template import Need, Pair, Verdict, judge
from jigcam.template.pairs import LITTLE_PLAY
from jigcam.tolerances import TOLERANCES
from jigcam.units import INCH, format_angle, nearest_fraction

TRIAL_DEPTH = {"in": INCH / 4.0, "mm": 6.0}
"""Depth at which pairs are tried, mm, by the kit's units: the least housing of a loaded shelf (common practice, no
source)."""


def pairs_of(kit: Kit) -> list[Verdict]:
    """Every straight bit in every bushing, tried on a groove in which it just slides, `TRIAL_DEPTH` deep.

    As wide as the bit cuts in that bushing, which a test cut may have shown to be other than its nominal width.

    Empty where the kit has no router or no sheet, so that nothing rides.
    """
    if kit.router is None or kit.sheet is None:
        return []
    pairs = [Pair.of(bit, bushing, kit) for bit in kit.bits if bit.upright_walls for bushing in kit.bushings]
    depth = TRIAL_DEPTH[kit.units]
    return [judge(pair, kit, Need(pair.bit.diameter + LITTLE_PLAY, depth, voice=kit.voice)) for pair in pairs]


def kit_dict(kit: Kit) -> dict[str, Any]:
    """For `--json`: mm, degrees, rpm, mm/min."""
    router, machine, sheet = kit.router, kit.machine, kit.sheet
    return {
        "kit": kit.name,
        "units": kit.units,
        "router": {
            "collets": [tidy(c) for c in router.collets],
            "base_radius": tidy(router.base_radius),
            "speeds_rpm": [tidy(s) for s in router.speeds],
            "grip": tidy(router.grip),
        }
        if router
        else None,
        "sheet": {"material": sheet.material, "thickness": tidy(sheet.thickness)} if sheet else None,
        "machine": {
            "travel": [tidy(t) for t in machine.travel],
            "max_feed": [tidy(f) for f in machine.max_feed],
            "acceleration": [tidy(a) for a in machine.acceleration],
            "spindle_rpm": [tidy(s) for s in machine.spindle],
            "power_w": tidy(machine.power),
            "arcs": machine.arcs,
            "tool_change": machine.tool_change,
            "output_units": machine.output_units,
            "upright": {
                "width": tidy(machine.upright.width),
                "thickness": tidy(machine.upright.thickness),
                "length": None if machine.upright.length is None else tidy(machine.upright.length),
            }
            if machine.upright
            else None,
        }
        if machine
        else None,
        "bits": [
            {
                "name": bit.name,
                "kind": bit.kind,
                "diameter": tidy(bit.diameter),
                "angle_deg": tidy(math.degrees(bit.angle)),
                "cutting_length": tidy(bit.cutting_length),
                "overall_length": tidy(bit.overall_length),
                "shank": tidy(bit.shank),
                "flutes": bit.flutes,
            }
            for bit in kit.bits
        ],
        "bushings": [
            {"name": each.name, "outside": tidy(each.outside), "inside": tidy(each.inside), "collar": tidy(each.collar)}
            for each in kit.bushings
        ],
        "pairs": [
            {
                "bit": verdict.pair.bit.name,
                "bushing": verdict.pair.bushing.name,
                "ok": verdict.ok,
                "offset_mm": tidy(verdict.pair.offset),
                "chip_room_mm": tidy(verdict.chip_room),
                "reasons": list(verdict.reasons),
            }
            for verdict in pairs_of(kit)
        ],
    }


def kit_lines(kit: Kit, width: int | None = None) -> list[str]:
    """For people: lengths in the kit's units. width: columns of the screen, to which tables are folded; None: any."""
    voice = kit.voice

    def says(mm: float) -> str:
        if voice.inch:
            fraction = nearest_fraction(mm)
            if abs(fraction.error_mm) < TOLERANCES.same_point:
                return fraction.text
        return voice.length(mm)

    lines = [*prose([kit.name, *_facts(kit, says)], width), "", *_bits(kit, says, width)]
    if kit.bushings:
        rows = [[each.name, says(each.outside), says(each.inside), says(each.collar)] for each in kit.bushings]
        lines += ["", *columns(["bushing", "outside", "inside", "collar"], rows, width=width)]
    straight = [bit for bit in kit.bits if bit.upright_walls]
    if straight and pairs_of(kit):
        lines += [
            "",
            f"offset of a straight bit in a bushing, at each wall (of a groove {says(TRIAL_DEPTH[kit.units])} deep, in "
            "which it just slides)",
            *_offsets(kit, straight, says, width),
        ]
    return [line.rstrip() for line in lines]


def _facts(kit: Kit, says: Callable[[float], str]) -> list[str]:
    """Router, sheet and machine, as far as there are any; what there is not, and what that leaves."""
    router, sheet, machine, voice = kit.router, kit.sheet, kit.machine, kit.voice
    facts = []
    if router:
        collets = ", ".join(map(says, router.collets))
        facts.append(f"  router   base {says(2 * router.base_radius)} across, collets {collets}")
    if sheet:
        facts.append(f"  sheet    {sheet.material}, {says(sheet.thickness)}")
    if machine:
        facts.append(
            f"  machine  {' x '.join(map(says, machine.travel))}, {machine.spindle[0]:.0f}-{machine.spindle[1]:.0f} "
            f"rpm, {voice.power(machine.power)}, writes {machine.output_units}"
        )
        if machine.upright:
            upright = machine.upright
            facts.append(f"           boards on end up to {says(upright.width)} x {says(upright.thickness)}")
    else:
        facts.append('  machine  none: joints are made by hand (way = "hand")')
        if router and sheet and kit.bushings:
            facts.append("           or with the router in a template that is made by hand")
    return facts


def _bits(kit: Kit, says: Callable[[float], str], width: int | None) -> list[str]:
    """The table of bits; a line where there are none."""
    if not kit.bits:
        return ["no bits: hand tools"]
    return columns(
        ["bit", "kind", "diameter", "flank", "cuts", "overall", "shank", "flutes"],
        [
            [
                bit.name,
                bit.kind,
                says(bit.diameter),
                format_angle(bit.angle) if bit.angle else "",
                says(bit.cutting_length),
                says(bit.overall_length),
                says(bit.shank),
                str(bit.flutes),
            ]
            for bit in kit.bits
        ],
        left=2,
        again=1,
        width=width,
    )


def _offsets(kit: Kit, bits: list[Bit], says: Callable[[float], str], width: int | None) -> list[str]:
    verdicts = {(v.pair.bit.name, v.pair.bushing.name): v for v in pairs_of(kit)}
    rows, notes = [], []
    for each in kit.bushings:
        row = [each.name]
        for bit in bits:
            verdict = verdicts[bit.name, each.name]
            row.append(says(verdict.pair.offset) if verdict.ok else "-")
            notes += [f"    {bit.name} in {each.name}: {reason}" for reason in verdict.reasons[:1] if not verdict.ok]
        rows.append(row)
    table = columns(["", *(bit.name for bit in bits)], rows, width=width)
    return [*table, *(["", "  - will not do", *prose(notes, width)] if notes else [])]
