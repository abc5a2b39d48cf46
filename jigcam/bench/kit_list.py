"""A kit as a list: router, machine, sheet, bits, bushings, and which bit runs in which bushing."""

from __future__ import annotations

import math
from typing import Any

from jigcam.kit import Bit, Kit
from jigcam.making.columns import columns, prose
from jigcam.making.gcode_file import tidy
from jigcam.template import Need, Pair, Verdict, judge
from jigcam.tolerances import TOLERANCES
from jigcam.units import format_angle, nearest_fraction

TRIAL_DEPTH = 6.0
"""Depth at which pairs are tried, mm: the least housing of a loaded shelf (common practice, no source)."""


def pairs_of(kit: Kit) -> list[Verdict]:
    """Every straight bit in every bushing, tried on a groove in which it just slides, `TRIAL_DEPTH` deep."""
    return [
        judge(Pair.of(bit, bushing, kit), kit, Need(bit.diameter + TOLERANCES.binds, TRIAL_DEPTH, voice=kit.voice))
        for bit in kit.bits
        if bit.upright_walls
        for bushing in kit.bushings
    ]


def kit_dict(kit: Kit) -> dict[str, Any]:
    """For `--json`: mm, degrees, rpm, mm/min."""
    router, machine = kit.router, kit.machine
    return {
        "kit": kit.name,
        "units": kit.units,
        "router": {
            "collets": [tidy(c) for c in router.collets],
            "base_radius": tidy(router.base_radius),
            "speeds_rpm": [tidy(s) for s in router.speeds],
            "grip": tidy(router.grip),
        },
        "sheet": {"material": kit.sheet.material, "thickness": tidy(kit.sheet.thickness)},
        "machine": {
            "travel": [tidy(t) for t in machine.travel],
            "max_feed": [tidy(f) for f in machine.max_feed],
            "acceleration": [tidy(a) for a in machine.acceleration],
            "spindle_rpm": [tidy(s) for s in machine.spindle],
            "power_w": tidy(machine.power),
            "arcs": machine.arcs,
            "tool_change": machine.tool_change,
            "output_units": machine.output_units,
            "upright": {"width": tidy(machine.upright.width), "thickness": tidy(machine.upright.thickness)}
            if machine.upright
            else None,
        },
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

    machine = kit.machine
    travel = " x ".join(says(size) for size in machine.travel)
    facts = [
        kit.name,
        f"  router   base {says(2 * kit.router.base_radius)} across, collets "
        + ", ".join(says(c) for c in kit.router.collets),
        f"  sheet    {kit.sheet.material}, {says(kit.sheet.thickness)}",
        f"  machine  {travel}, {machine.spindle[0]:.0f}-{machine.spindle[1]:.0f} rpm, "
        f"{machine.power:.0f} W, writes {machine.output_units}",
        *(
            [f"           boards on end up to {says(machine.upright.width)} x {says(machine.upright.thickness)}"]
            if machine.upright
            else []
        ),
    ]
    lines = [
        *prose(facts, width),
        "",
        *columns(
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
        ),
        "",
        *columns(
            ["bushing", "outside", "inside", "collar"],
            [[each.name, says(each.outside), says(each.inside), says(each.collar)] for each in kit.bushings],
            width=width,
        ),
    ]
    straight = [bit for bit in kit.bits if bit.upright_walls]
    if straight and kit.bushings:
        lines += [
            "",
            f"offset of a straight bit in a bushing, at each wall (in a groove {says(TRIAL_DEPTH)} deep)",
            *_offsets(kit, straight, says, width),
        ]
    return [line.rstrip() for line in lines]


def _offsets(kit: Kit, bits: list[Bit], says: Any, width: int | None) -> list[str]:
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
