"""A groove's part of the setup sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.making.words import board_words, bushing_words, files_table, says, section, table
from jigcam.template.hand import hand_lines
from jigcam.units import format_angle

if TYPE_CHECKING:
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.template import TemplatePlan


def groove_table(groove: Groove, units: str) -> list[str]:
    """The joint itself, and what its mate needs."""
    x, y = groove.centreline.start
    mate = groove.mate
    rows = [
        ("board", board_words(groove.board, groove.face, units)),
        (
            "starts at",
            f"{says(x, units)} along the grain, {says(y, units)} from the lower edge, on the centreline, as "
            f"seen on the {groove.face} face with the lower edge down",
        ),
        ("direction", f"{format_angle(groove.band.angle)} from the grain, anticlockwise"),
        ("length", says(groove.length, units)),
        ("width", says(groove.width, units)),
        ("depth", says(groove.depth, units)),
    ]
    if mate.board:
        rows.append(
            (
                "receives",
                f"{mate.board}, {says(mate.thickness, units)} thick, with "
                f"{says(mate.clearance, units)} of clearance in all",
            )
        )
    if mate.edge_radius > 0.0:
        rows.append(
            (
                "round over",
                f"the edges of the mate from both faces, to a radius of "
                f"{says(mate.edge_radius, units)}; it enters {says(mate.enters, units)}",
            )
        )
    return table("The joint", rows)


def template_words(
    groove: Groove,
    plan: TemplatePlan,
    kit: Kit,
    units: str,
    files: Sequence[GcodeFile],
    runs: Sequence[tuple[str, ...]],
) -> list[str]:
    """The joint's part of the sheet, by way of a template."""
    stack = plan.stack
    width = groove.width + plan.bushing.outside - plan.bit.diameter
    return [
        *groove_table(groove, units),
        *table(
            "The template",
            [
                ("blank", " x ".join(says(size, units) for size in plan.blank) + f", {kit.sheet.material}"),
                ("bit", f"{plan.bit.name}, {says(plan.bit.diameter, units)}"),
                ("bushing", bushing_words(plan, kit, units)),
                ("offset", f"{says(plan.offset, units)} at each wall: (bushing - bit) / 2"),
                ("opening", f"{says(width, units)} wide: the groove and two offsets"),
                ("base", f"{100 * plan.support.fraction:.0f} % of it rests on the sheet at the worst place"),
            ],
        ),
        *section(
            "Mill the template on the machine",
            [
                "Screw or tape the blank to a spoilboard: the last pass goes through the sheet into it.",
                "Clamps stay outside the outline; the tabs hold the sheet until it is sawn free and its edge trimmed.",
                *(line for run in runs for line in run),
            ],
        ),
        *files_table(files, kit, units),
        *section(
            "Cut the groove with the hand-held router",
            [
                f"Set the bit {says(stack.projection, units)} below the base for the full depth: sheet and depth "
                "of cut.",
                "Lay the fence against the board's edge and the index line on its mark; clamp board and template.",
                *hand_lines(plan, units, kit.router.base_radius),
                *(
                    [
                        "For the opposite hand turn the template over about its short way, end for end, and move fence "
                        "and stop to the other face through the same holes."
                    ]
                    if groove.opposite_hand
                    else []
                ),
            ],
        ),
    ]


def direct_words(
    groove: Groove, kit: Kit, units: str, files: Sequence[GcodeFile], runs: Sequence[tuple[str, ...]]
) -> list[str]:
    """The joint's part of the sheet, cut directly."""
    lines = groove_table(groove, units)
    lines += files_table(files, kit, units)
    return lines + section(
        "On the machine",
        [
            f"The {groove.face} face up, the lower edge toward you; clamps outside the path.",
            *(
                ["A spoilboard or backer under and beside the open ends keeps the edge from breaking out."]
                if groove.open_start or groove.open_finish
                else []
            ),
            *dict.fromkeys(line for run in runs for line in run),
        ],
    )
