"""A through dovetail's part of the setup sheet: the joint, the files, the machine, and the layout for hand work."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.joints.through_dovetail.rules import describe_slope
from jigcam.making.words import files_table, says, section, table
from jigcam.units import format_length

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.joints.through_dovetail.choice import DovetailChoice
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile


def dovetail_words(
    choice: DovetailChoice,
    notes: Sequence[Finding],
    kit: Kit,
    units: str,
    files: Sequence[GcodeFile],
    runs: Sequence[tuple[str, ...]],
) -> list[str]:
    """All lines of it. notes: of the clampings."""
    lines = [*_joint_table(choice, units), *files_table(files, kit, units)]
    lines += section(
        "On the machine",
        [
            "Run the files in the order of their numbers.",
            "Upright: the end up, the outside face toward you. Flat: the lower edge toward you.",
            *dict.fromkeys(note.says for note in notes),
            *dict.fromkeys(line for run in runs for line in run),
        ],
    )
    lines += section("Left for the chisel", choice.pare_lines())
    return [*lines, "", "Layout by hand", *(f"  {line}".rstrip() for line in choice.hand.lines())]


def _joint_table(choice: DovetailChoice, units: str) -> list[str]:
    joint, layout = choice.joint, choice.layout
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
        ("clearance", f"{format_length(joint.sizes.clearance, units, 4 if units == 'in' else 2)} on each flank"),
    ]
    if joint.sizes.rabbet:
        rows.append(("rabbet", f"{says(joint.sizes.rabbet, units)} deep on the inside of {tail.name}"))
    return table("The joint", rows)


def _ends(ends: Sequence[str]) -> str:
    return "both ends" if len(ends) > 1 else f"{ends[0]} end"
