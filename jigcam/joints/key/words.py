"""The part of the setup sheet for bow-tie keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.making.blocks import section, table
from jigcam.making.template_words import strip_words
from jigcam.making.words import router_speed
from jigcam.template.hand import fitting_line, hand_lines
from jigcam.template.inlay import PROUD
from jigcam.template.turning import laying_line
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.joints.key.key import Key
    from jigcam.joints.key.template import KeyTemplate
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice


SAID = frozenset({"hand-feed", "index-line", "sights", "fence", "stop-block", "screws", "marks-by-hand"})
"""Rules whose findings these words have said."""


def key_rows(key: Key, voice: Voice) -> list[tuple[str, str]]:
    """The keys as drawn, for a table."""
    left = "left" if key.face == "outside" else "right"
    places = [
        (
            f"key {number}",
            f"middle {voice.rule(x)} along the grain from the {left} end, {voice.rule(y)} from the lower edge",
        )
        for number, (x, y) in enumerate(key.centres, 1)
    ]
    return [
        (
            "board",
            f"{key.board.name}, its {key.face} face; seen so, lower edge down, its {left} end is on the left",
        ),
        *places,
        ("direction", f"{voice.angle(key.angle)} from the grain; the key's own grain runs the same way"),
        ("size", f"{voice.rule(key.length)} long, ends {voice.rule(key.ends)}, waist {voice.rule(key.waist)}"),
        ("depth", voice.rule(key.depth)),
    ]


def keys_words(plan: KeyTemplate, kit: Kit, voice: Voice) -> list[Block]:
    """The keys as drawn, and their tools."""
    inlay = plan.inlay
    return table(
        "The keys",
        [
            *key_rows(plan.key, voice),
            ("bit", inlay.recess.bit.name),
            ("speed", router_speed(inlay.recess.bit, kit, voice)),
            ("recess", f"with {inlay.recess.bushing.name}, {voice.rule(inlay.recess.bushing.outside)} outside"),
            ("key", f"with {inlay.plug.bushing.name}, {voice.rule(inlay.plug.bushing.outside)} outside"),
        ],
    )


def _strips(sheet: TemplatePlan) -> str:
    """What is screwed under the sheet."""
    names = [name for name, strip in (("the fence", sheet.fence), ("the stop block", sheet.stop)) if strip is not None]
    return " and ".join(names) or "whatever is screwed under the sheet"


def _next_lines(plan: KeyTemplate) -> list[str]:
    """How the sheet is laid for each key after the first: what strip is in the way there, and what it is laid by."""
    (x0, y0), *others = plan.key.centres
    if not others:
        return []
    sheet = plan.template
    along = any(abs(x - x0) > SLACK for x, _ in others)
    across = any(abs(y - y0) > SLACK for _, y in others)
    off: list[str] = []
    kept: list[str] = []
    for name, strip in (("fence", sheet.fence), ("stop block", sheet.stop)):
        if strip is not None:
            # Sides 0 and 1 are the ends, which a sheet leaves that is moved along the grain.
            (off if (along if strip.side < 2 else across) else kept).append(name)
    lines = ["For each further key draw its centreline on the board, through its middle as given above."]
    if off:
        lines.append(f"Take the {' and the '.join(off)} off for it: there the sheet would stand on the board by it.")
    by = f", with the {' and the '.join(kept)} against the board as before" if kept else ""
    return [*lines, f"Lay the sheet so that its sights stand on that line{by}; clamp it and go on in the same passes."]


def key_bench_words(plan: KeyTemplate, kit: Kit, voice: Voice, number: int) -> list[Block]:
    """Recess and key with the router."""
    inlay = plan.inlay
    deeper = voice.rule(plan.template.stack.projection + PROUD)
    return [
        *strip_words(number, plan.template, voice),
        *section(
            f"{number + 1}. Cut the recess with the hand-held router",
            [
                laying_line(plan.template, voice),
                fitting_line(plan.template),
                *hand_lines(plan.template, voice, kit.the_router.base_radius),
                *_next_lines(plan),
            ],
        ),
        *section(
            f"{number + 2}. Cut the keys from stock with the same template",
            [
                f"Fit {inlay.plug.bushing.name} instead, with the same bit.",
                f"Take {_strips(plan.template)} off, and clamp the template on the key stock, grain along the key; "
                "where the sheet reaches beyond it, lay stock of the same thickness under it.",
                "Lower the running bit with the bushing against the wall, at the middle of one end; lowered inside, it "
                "goes into the key.",
                f"Set the bit in the same passes, and at last {deeper} below the base.",
                "Go clockwise once round with the bushing against the wall all the way; leaving the wall "
                "spoils the key.",
                "Saw the key off its stock, glue it in, grain across the crack, and plane it flush.",
            ],
        ),
    ]
