"""Words of the setup sheet about a template: its sizes, its strips, its screws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.making.words import blank_words, bushing_words, section, table

if TYPE_CHECKING:
    from jigcam.kit import Kit
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice

READY = ("fence", "stop-block", "screws", "index-line", "marks-by-hand", "strip-too-deep")
"""Rules whose findings say how a sheet is made ready."""


def sheet_table(plan: TemplatePlan, kit: Kit, voice: Voice) -> list[str]:
    """The template's tools and sums."""
    width = plan.cut.width + 2.0 * plan.offset
    return table(
        "The template",
        [
            ("blank", f"{blank_words(plan.blank, voice)}, {kit.sheet.material}"),
            ("bit", f"{plan.bit.name}, {voice.rule(plan.bit.diameter)}"),
            ("bushing", bushing_words(plan, kit, voice)),
            ("offset", f"{voice.rule(plan.offset)} at each wall: (bushing - bit) / 2"),
            ("opening", f"{voice.rule(width)} wide: the {plan.cut.what} and two offsets"),
            ("base", f"{100 * plan.support.fraction:.0f} % of it rests on the sheet at the worst place"),
        ],
    )


def strip_words(number: int, plan: TemplatePlan, voice: Voice) -> list[str]:
    """How the sheet is freed and made ready, as its findings say."""
    ready = [f"{finding.says[0].upper()}{finding.says[1:]}." for finding in plan.findings if finding.rule in READY]
    lines = ["Saw the sheet free at its tabs and trim its edge flush.", *dict.fromkeys(ready)]
    return section(f"{number}. Make the sheet ready", lines)
