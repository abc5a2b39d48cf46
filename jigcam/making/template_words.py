"""Words of the setup sheet about a template: its sizes, its strips, its screws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.making.blocks import section, table
from jigcam.making.sheet_ready import ready_lines
from jigcam.making.trial import TRIAL, template_trial
from jigcam.making.words import bit_words, blank_words, bushing_words, finished_rows, router_speed, sums_rows
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.template import SharedSheet, TemplatePlan
    from jigcam.units import Voice


def sheet_table(plan: TemplatePlan, kit: Kit, voice: Voice) -> list[Block]:
    """The template's tools and sums."""
    return table(
        "The template",
        [
            ("blank", f"{blank_words(plan.blank, voice, sawn=plan.sawn)}, {kit.the_sheet.material}"),
            *finished_rows(plan, voice),
            ("bit", bit_words(plan, kit, voice)),
            ("bushing", bushing_words(plan, kit, voice)),
            ("speed", router_speed(plan.bit, kit, voice)),
            *sums_rows(plan, voice),
            ("base", f"{100 * plan.support.fraction:.0f} % of it rests on the sheet at the worst place"),
        ],
    )


def strip_words(
    number: int,
    plan: TemplatePlan,
    voice: Voice,
    shared: SharedSheet | None = None,
    tried: Sequence[TemplatePlan] | None = None,
) -> list[Block]:
    """How the sheet is freed and made ready, and tried in scrap; all of how it is made where that is done by hand.

    shared: the sheet, where it has further openings. tried: what is tried in it, where that is more than one
    pair in one opening.
    """
    findings = plan.findings if shared is None else shared.findings
    ready = ready_lines(plan, findings, voice)
    trial = section(TRIAL, template_trial(tried or (shared.openings if shared else (plan,)), voice))
    if plan.cutter is None:
        by_hand = sheet_by_hand(plan, voice, shared)
        return [*section(f"{number}. Make the template by hand", [*by_hand, *ready]), *trial]
    return [*section(f"{number}. Make the sheet ready", ready), *trial]


def sheet_by_hand(plan: TemplatePlan, voice: Voice, shared: SharedSheet | None = None) -> list[str]:
    """The opening of a sheet, or all of a shared one, for saw and rasp: its walls from its left and lower edge."""
    x0, y0, x1, y1 = plan.sheet.bounds
    says = voice.rule

    def place(point: complex) -> str:
        return f"{voice.mark(point.real - x0)} across, {voice.mark(point.imag - y0)} up"

    at = sides(plan.cut.face)[2]
    lines = [
        f"Cut the sheet {says(x1 - x0)} wide and {says(y1 - y0)} high, square, and mark the face that is up and the "
        f"edge that will lie toward the board's {at}: that is the lower one here.",
        "Quickest by paper: `jigcam make` with --paper letter, or a4, prints it in true size (template.pdf); glue the "
        "joined sheets on, and use the figures below to check them.",
        f"Or mark the opening{'s' * (shared is not None)} on it with a knife; all places are from the sheet's left "
        "edge, across, and from its lower edge, up:",
    ]
    walls: dict[str, None] = {}
    for joint, loop in [
        ("" if shared is None else each.cut.joint, loop)
        for each in (shared.openings if shared else (plan,))
        for loop in each.opening.loops
    ]:
        if joint:
            walls[f"  for {joint}:"] = None
        rows = loop.as_segments()
        ways = zip(rows.start, rows.end, rows.centre, rows.radius, rows.bulge, strict=True)
        for start, end, centre, radius, bulge in ways:
            if bulge == 0.0 and place(start) == place(end):
                continue  # too short to be marked
            if bulge == 0.0:
                walls[f"  a straight wall from {place(start)}; to {place(end)};"] = None
            else:
                shape = "a round corner" if bulge > 0.0 else "a corner rounded the other way"
                walls[f"  {shape} about {place(centre)}, {says(radius)} in radius;"] = None
    wide = [
        f"Each place is rounded by itself. What counts is that the two long walls{of} are "
        f"{voice.length(each.cut.width + each.pair.difference)} apart all along: mark one of them by its places, and "
        "set the other by that width."
        for each in (shared.openings if shared else (plan,))
        for of in ([f" for {each.cut.joint}"] if shared else [""])
        if each.cut.what == "groove"
    ]
    return [
        *lines,
        *walls,
        *wide,
        f"The waste lies inside these lines. Bore inside the round corners, saw along the walls and stay "
        f"{voice.at_least(1.0)} off them, then rasp and file to the lines against a straight strip clamped along each.",
        "Keep the walls square to the face: the bushing copies every bump. Try the bushing in the opening all the way.",
    ]
