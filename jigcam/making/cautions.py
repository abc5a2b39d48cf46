"""The usual cautions: printed on the setup sheet and in the summary, and in short in every G-code file.

They name their sources where a source is published; the rest is common practice. They never replace the maker's
manuals, the rules of the workplace or training.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from jigcam.units import Unit

DEFERENCE: Final = (
    "The manuals of the machine, the router and the bit, the rules of the workplace and the local code come first; "
    "this program does not replace training."
)

DEFERENCE_BY_HAND: Final = (
    "The makers' words about tools, the rules of the workplace and the local code come first; this program does not "
    "replace training."
)
"""Where no bit turns."""

BACK: Final = {"in": "1/16 in", "mm": "2 mm"}
"""How far a shank is drawn back from the bottom of its collet, by units (common practice, no source)."""

ALWAYS: Final[tuple[str, ...]] = (
    "Wood dust causes cancer (IARC Monograph 62, Group 1): extract it where it is made, and wear a mask that fits. "
    "Limits: UK 3 mg/m3 for hardwood and mixed dust, 5 for softwood (HSE); US 15 total, 5 respirable "
    "(29 CFR 1910.1000).",
)

WITH_BITS: Final[tuple[str, ...]] = (
    "Wear eye, ear and dust protection.",
    # 90 dBA over eight hours: from memory; the rest was read.
    "Routers exceed 85 dB(A): hearing protection is required from there in the UK (Control of Noise at Work "
    "Regulations 2005); in the US it has to be offered from 85 dBA, and worn from 90 dBA over eight hours (29 CFR "
    "1910.95).",
    "Woodworking machines in the US: 29 CFR 1910.213.",
    "Unplug before a bit is changed. Shank fully in, then back {back}, and never less than the collet's grip.",
)
"""Wherever a bit turns. {back}: one of `BACK`."""

BY_BITS: Final[tuple[str, ...]] = (
    *WITH_BITS,
    "Clamp the work and the template; keep hands off the path of the bit.",
    "Large bits slow: what is marked on the bit overrides any speed given here.",
    "Make the first run in air or in foam.",
)
"""Where it turns on a machine, or in a router that rides a template."""

HAND_HELD: Final[tuple[str, ...]] = (
    *WITH_BITS,
    "Clamp the work, and whatever guides the router or the work; keep hands off the path of the bit.",
    "Large bits slow: never faster than what is marked on the bit.",
    "Try the cut in an offcut first. Switch off, and let the bit stop, before router or work is lifted away.",
)
"""In place of `BY_BITS` where the one bit that turns is guided by a straight-edge, a fence or a sled."""

BY_MACHINE: Final[tuple[str, ...]] = (
    "Stay within reach of the stop button for the whole run, and never leave a running machine.",
    "Check zero, units and the bit against the sheet before the start; nothing but the stock within the path.",
)

BY_HAND: Final[tuple[str, ...]] = (
    "Go clockwise inside an opening and anticlockwise round a pattern, seen from above, so that the cut pulls the "
    "bushing against the wall.",
    "Keep one side of the base facing the same way for the whole cut.",
    "Let the bit stop before it is lifted out of the template or the slot.",
)

BY_EDGE_TOOLS: Final[tuple[str, ...]] = (
    "Wear eye and dust protection.",
    "Both hands stay behind the edge of chisel and knife, and nothing of you before it; a sharp edge needs less force.",
    "Saw and chisel only work that is held by vise, bench stop or clamps.",
)
"""Common practice."""

IN_FILE: Final[tuple[str, ...]] = (
    "CAUTION: eye, ear and dust protection. Clamp the work. Hands off the path.",
    "CAUTION: check zero, units and bit against the setup sheet. First run in air or foam.",
    "Manuals of machine and bit, workplace rules and local code come first.",
)
"""Short enough for the head of a G-code file."""


def cautions(
    *, machine: bool, hand: bool, units: Unit, edge_tools: bool = False, routed: bool = True
) -> tuple[str, ...]:
    """All cautions that apply, deference last.

    machine: a CNC runs; hand: a hand-held router rides a template; edge_tools: the joint is made with saw and chisel.
    routed: whether a bit turns at all, be it just for one of several ways. units: in which its maker is spoken to.
    """
    turns = routed or machine or hand
    bits = BY_BITS if machine or hand else HAND_HELD
    told = (bits if turns else ()) + ALWAYS + (BY_MACHINE if machine else ()) + (BY_HAND if hand else ())
    told += BY_EDGE_TOOLS[1 if turns else 0 :] if edge_tools else ()
    return (*(each.format(back=BACK[units]) for each in told), DEFERENCE if turns else DEFERENCE_BY_HAND)
