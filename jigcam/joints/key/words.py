"""The part of the setup sheet for bow-tie keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.making.words import files_table, says, section, table
from jigcam.template.hand import hand_lines
from jigcam.template.inlay import PROUD
from jigcam.units import format_angle, format_length

if TYPE_CHECKING:
    from jigcam.joints.key.template import KeyTemplate
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile


def key_words(
    plan: KeyTemplate, kit: Kit, units: str, files: Sequence[GcodeFile], runs: Sequence[tuple[str, ...]]
) -> list[str]:
    """The keys, the files, recess and key with the router, how the template is milled."""
    key, inlay = plan.key, plan.inlay
    places = [
        (f"key {number}", f"middle {says(x, units)} along the grain, {says(y, units)} from the lower edge")
        for number, (x, y) in enumerate(key.centres, 1)
    ]
    deeper = format_length(plan.template.stack.projection + PROUD, units)
    return [
        *table(
            "The keys",
            [
                ("board", f"{key.board.name}, its {key.face} face"),
                *places,
                ("direction", f"{format_angle(key.angle)} from the grain; the key's own grain runs the same way"),
                (
                    "size",
                    f"{says(key.length, units)} long, ends {says(key.ends, units)}, waist {says(key.waist, units)}",
                ),
                ("depth", says(key.depth, units)),
                ("bit", inlay.recess.bit.name),
                ("recess", f"with {inlay.recess.bushing.name}, {says(inlay.recess.bushing.outside, units)} outside"),
                ("key", f"with {inlay.plug.bushing.name}, {says(inlay.plug.bushing.outside, units)} outside"),
            ],
        ),
        *files_table(files, kit, units),
        *section(
            "Cut the recess with the hand-held router",
            [f"Fit {inlay.recess.bushing.name}.", *hand_lines(plan.template, units, kit.router.base_radius)],
        ),
        *section(
            "Cut the keys from stock with the same template",
            [
                f"Fit {inlay.plug.bushing.name} instead, with the same bit; clamp the template on the key stock, grain "
                "along the key.",
                f"Set the bit in the same passes, and at last {deeper} below the base.",
                "Go clockwise once round with the bushing against the wall all the way; leaving the wall "
                "spoils the key.",
                "Saw the key off its stock, glue it in, grain across the crack, and plane it flush.",
            ],
        ),
        *section("Mill the template on the machine", [line for run in runs for line in run]),
    ]
