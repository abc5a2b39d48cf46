"""A through dovetail's part of the setup sheet: the joint, the files, the machine, and the layout for hand work."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.joints.through_dovetail.rules import describe_slope
from jigcam.units import format_length
from jigcam.workshop.sheet import files_table, says, section, table

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.through_dovetail import DovetailPlan
    from jigcam.kit import Kit
    from jigcam.toolpath import Planned
    from jigcam.workshop.cutfile import CutFile


def dovetail_sheet(
    plan: DovetailPlan, job: Job, kit: Kit, files: Sequence[CutFile], planned: Sequence[Planned]
) -> list[str]:
    """All lines of it."""
    notes = [finding.says for each in planned for finding in each.findings]
    lines = [*_joint_table(plan, job.units), *files_table(files, kit, job.units)]
    lines += section(
        "On the machine",
        [
            "Run the files in the order of their numbers.",
            "Upright: the end up, the outside face toward you. Flat: the lower edge toward you.",
            *dict.fromkeys(notes),
            *dict.fromkeys(line for each in planned for line in each.sheet_lines),
        ],
    )
    lines += section("Left for the chisel", plan.pare_lines())
    return [*lines, "", "Layout by hand", *(f"  {line}".rstrip() for line in plan.hand.lines())]


def _joint_table(plan: DovetailPlan, units: str) -> list[str]:
    joint, layout = plan.joint, plan.layout
    tail, pin = joint.tail_board, joint.pin_board
    slopes = layout.slopes
    same = max(slopes) - min(slopes) < 1e-6
    rows = [
        (
            "tails",
            f"{tail.name}, {_ends([end for end, _ in joint.ends])}, {says(tail.thickness, units)} thick"
            + (" (cut already, as measured)" if joint.measured else ""),
        ),
        ("pins", f"{pin.name}, {_ends([end for _, end in joint.ends])}, {says(pin.thickness, units)} thick"),
        ("width", says(layout.width, units)),
        (
            "tails",
            f"{len(layout.tails)}, each {says(layout.tails[0].end_width, units)} at its end and "
            f"{says(layout.tails[0].base_width, units)} at the baseline"
            if same
            else f"{len(layout.tails)}",
        ),
        (
            "slope",
            describe_slope(slopes[0])
            if same
            else f"from {describe_slope(min(slopes))} to {describe_slope(max(slopes))}",
        ),
        ("clearance", f"{format_length(joint.stock.clearance, units, 4 if units == 'in' else 2)} on each flank"),
    ]
    if joint.stock.rabbet:
        rows.append(("rabbet", f"{says(joint.stock.rabbet, units)} deep on the inside of {tail.name}"))
    return table("The joint", rows)


def _ends(ends: Sequence[str]) -> str:
    return "both ends" if len(ends) > 1 else f"{ends[0]} end"
