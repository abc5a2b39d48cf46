"""How the boards of a dovetailed corner are held, and what stays in their corners, in words for the setup sheet."""

from __future__ import annotations

import math

from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.undercut_pins import corner_left
from jigcam.findings import Finding
from jigcam.making.upright import LEAD, OVER
from jigcam.units import Voice
from jigcam.units.setting import Known

TURNED = "turn the board over, end for end, its lower edge still toward you"


def backing(cut: EndCut) -> tuple[str, ...]:
    if cut.lap:
        return ("Nothing stands behind the inside face: from there the bit goes in",)
    if cut.setup == "upright":
        return ("Clamp a backer of waste wood behind the inside face, flush with the end",)
    if cut.face == "inside" and not cut.strips:
        return ("The rabbet comes first; then stand the board on its other end for the tails",)
    if cut.steps:
        return (f"The outside face comes first; then {TURNED}, for the inside",)
    if cut.way.undercut:
        return ("The outside face has been opened first; lay the board on a flat spoilboard",)
    if cut.face == "inside":
        return (f"Run this file first, then {TURNED}, for the outside",)
    return ("The inside face has been cleared first; lay the board on a flat spoilboard",)


def free_behind(cut: EndCut) -> float:
    """How far behind a standing board nothing may stand, mm: where the bit goes in from there."""
    return 2.0 * cut.bit.radius + 2.0 * LEAD if cut.setup == "upright" and cut.lap else 0.0


def upright_hold(cut: EndCut, voice: Voice) -> list[str]:
    """How the board stands, as seen by the person at the machine."""
    left = "lower" if cut.end == "left" else "upper"
    shaped = ""
    if cut.rabbeted:
        shaped = (
            f" It fills the rabbet: shape its top to stand {voice.rule(cut.rabbeted)} proud over the uppermost "
            f"{voice.rule(cut.way.layout.length)}."
        )
    stands = f"The {cut.end} end up, the outside face toward you: the board's {left} edge is then on your left."
    if cut.lap:
        return [
            stands,
            "The bit goes in from the inside face, on the far side, and stops before the outside one: keep clamps and "
            f"backers away from the far side, {voice.at_least(free_behind(cut))} and more. The board "
            f"stands more than {voice.at_least(cut.depth + LEAD)} above the vise.",
            f"Zero in y is the outside face: {voice.rule(cut.lap)} of wood have to stay before the bit there. Touch "
            "off on that very face, not on the vise.",
        ]
    return [
        stands,
        f"Clamp a backer of waste wood at least {voice.at_least(2.0 * cut.bit.radius + OVER)} thick, as wide as the "
        "board, behind the inside face, flush with the end; both stand more than "
        f"{voice.at_least(cut.depth + LEAD)} above the vise."
        f"{shaped}",
    ]


def flat_hold(cut: EndCut, voice: Voice) -> list[str]:
    """How the board lies, as seen by the person at the machine."""
    hand = "right" if cut.at_right else "left"
    lines = [
        f"The {cut.face} face up, the lower edge toward you: the {cut.end} end, which is cut, is then on your {hand}.",
    ]
    if cut.face == "inside" and not cut.strips:
        lines.append("The rabbet is cut before the tails; then stand the board on its other end for them.")
    elif cut.steps:
        lines.append(
            Known(
                "The outside face is cut first, in steps that leave a thin web at the inside one: so neither breaks "
                "out."
            )
        )
    elif cut.way.undercut:
        off = voice.exact(0.2 * math.tan(cut.bit.angle))
        lines += [
            "The outside face has been opened before; lay the board on a flat spoilboard, which the bit's tip just "
            "reaches.",
            "Zero in z is the inside face, and the board is as thick as it was measured: a dovetail bit that stands "
            f"{voice.rule(0.1)} too deep makes every socket {off} wider.",
        ]
    elif cut.face == "inside":
        lines.append(Known("The inside face is cut first, so that the outside file has nothing to break out of it."))
    else:
        lines.append("The inside face has been cleared first; lay the board on a flat spoilboard.")
    return lines


def corner_notes(cut: EndCut, voice: Voice) -> list[Finding]:
    if not cut.corners or cut.relieved:
        return []
    if cut.way.undercut:
        assert cut.way.clearing is not None, "an undercut way has both bits"
        left = corner_left(cut.way.layout, cut.bit, cut.way.clearing, 0.0)
        says = (
            f"{cut.board.name}, {cut.end} end: {len(cut.corners)} corners at the floors of sockets are left for the "
            f"chisel, {voice.length(left.along)} along each wall"
        )
        return [Finding("note", "corners-left", cut.joint, says)]
    what = "stay round: the tails are rounded to match" if cut.rounded else "are left for the chisel"
    corners = f"{len(cut.corners)} corners of radius {voice.length(cut.bit.radius)}"
    return [
        Finding(
            "note",
            "corners-left",
            cut.joint,
            f"{cut.board.name}, {cut.end} end: {corners} {what}",
        )
    ]
