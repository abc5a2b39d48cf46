"""Which bits cut a sliding dovetail: the one whose angle the flanks have, and the straight one that goes before it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import degrees, radians
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.joints.sliding_dovetail.solids import Channel
from jigcam.kit import Bit, Kit, Want

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.units import Voice

OTHER_ANGLE = radians(2.0)
"""A bit whose angle is further from the drawing's does not cut the joint as drawn."""
HARDLY = radians(0.5)
"""And one that is nearer than this makes no difference that is seen: 0.1 mm over a depth of 10."""
SAME_ANGLE = radians(0.01)
"""Angles nearer than this are one: 2 µm over a depth of 10 mm."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The joint with the angle of its bit. clearing: the straight bit that goes first in the socket, and what it takes.

    findings: which bits, and why.
    """

    joint: SlidingDovetail
    bit: Bit
    clearing: tuple[Bit, Channel] | None
    findings: tuple[Finding, ...]


def choose_bits(joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, voice: Voice) -> Choice:
    """The dovetail bit that is named or comes nearest to the angle drawn, the widest of these; and what goes before it.

    Raises `Refused` where none can cut the socket; InputError for a name that is not in the kit.
    """
    bits = [kit.bit(entry.bit)] if entry.bit is not None else list(kit.bits)
    faults = {bit.name: fault for bit in bits if (fault := _fault(bit, joint, kit, voice))}
    able = [bit for bit in bits if bit.name not in faults]
    if not able:
        shape = joint.shape
        lean = f" of {degrees(shape.flank):.3g}°" if joint.flank_asked else ""
        wanted = (
            f"a dovetail bit{lean}, at most {voice.length(shape.least_base)} at its tip, with edges of at least "
            f"{voice.length(shape.depth)}"
        )
        shown = {bit.name for bit in bits if bit.undercuts} or set(faults)
        why = "; ".join(f"{name}: {fault}" for name, fault in faults.items() if name in shown)
        key = "slope" if entry.angle_of_flank is None else "angle_of_flank"
        free = replace(joint, flank_asked=False)
        easier = next((bit for bit in bits if joint.flank_asked and not _fault(bit, free, kit, voice)), None)
        cure = (
            f"; or leave {key} out: the flanks then have the {degrees(easier.angle):.3g}° of {easier.name}"
            if easier
            else ""
        )
        says = f"no bit of the kit can cut it; it wants {wanted} ({why}){cure}"
        stop = Finding("stop", "no-bit", joint.name, says)
        raise Refused(f"no bit can cut {joint.name}", [*joint.findings, stop])
    bit = min(able, key=lambda each: (_off(each, joint), -each.diameter, each.overall_length, each.name))
    sloped = joint.sloped(bit.angle, voice)
    return Choice(sloped, bit, *_clearing(sloped, entry, kit, _bit_words(bit, joint, entry, voice), voice))


def _off(bit: Bit, joint: SlidingDovetail) -> float:
    """How far a bit is from the angle that was asked for; where none was, all are as good."""
    return round(abs(bit.angle - joint.shape.flank), 6) if joint.flank_asked else 0.0


def _fault(bit: Bit, joint: SlidingDovetail, kit: Kit, voice: Voice) -> str:
    """Why a bit cannot cut the socket, or ""."""
    shape, says = joint.shape, voice.length
    lacks = Want("undercuts", kit.the_machine, width=shape.least_base, edges=shape.depth).lacks(bit)
    if "ability" in lacks:
        return f"it is a {bit.kind} bit"
    if "collet" in lacks:
        return f"no collet of the machine takes its shank of {says(bit.shank)}"
    if "width" in lacks:
        return f"it is {says(bit.diameter)} at its tip and the bottom {says(shape.least_base)} wide"
    if "edges" in lacks:
        return f"its edges are {says(bit.cutting_length)} high and the socket {says(shape.depth)} deep"
    if _off(bit, joint) > OTHER_ANGLE:
        return f"its flank is {degrees(bit.angle):.3g}° and {degrees(shape.flank):.3g}° is drawn"
    return ""


def _bit_words(bit: Bit, joint: SlidingDovetail, entry: SlidingDovetailEntry, voice: Voice) -> list[Finding]:
    found = []
    if entry.bit is None:
        why = "the widest dovetail bit that goes in" + (", nearest to the angle drawn" if joint.flank_asked else "")
        found.append(Finding("note", "bit-choice", joint.name, f"{bit.name} was taken: {why}"))
    return [*found, *slope_findings(bit, joint, voice)]


def slope_findings(bit: Bit, joint: SlidingDovetail, voice: Voice) -> list[Finding]:
    """What a bit whose angle is another than the one drawn does to the joint."""
    found: list[Finding] = []
    if joint.flank_asked and abs(bit.angle - joint.shape.flank) > SAME_ANGLE:
        drawn, cut = joint.shape, joint.shape.sloped(bit.angle)
        found.append(
            Finding(
                "note" if abs(bit.angle - joint.shape.flank) < HARDLY else "caution",
                "sliding-slope",
                joint.name,
                f"{bit.name} cuts flanks of {degrees(bit.angle):.3g}°, and "
                f"{degrees(drawn.flank):.3g}° is drawn: socket and tail get the bit's, and the neck comes out "
                f"{voice.length(cut.necks[0])} wide instead of {voice.length(drawn.necks[0])}",
            )
        )
    return found


def _clearing(
    joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, found: list[Finding], voice: Voice
) -> tuple[tuple[Bit, Channel] | None, tuple[Finding, ...]]:
    """The widest straight bit that passes the mouth with what is left on both sides, and all findings."""
    if not entry.preclear:
        return None, tuple(found)
    channel = joint.socket.cleared()
    if channel is not None:
        want = Want("upright_walls", kit.the_machine, width=channel.width, edges=channel.solid.depth)
        if fit := want.met_by(kit.bits):
            bit = max(fit, key=lambda each: (each.diameter, -each.overall_length, each.name))
            says = (
                f"{bit.name} goes first, {voice.length(channel.width)} wide and {voice.length(channel.solid.depth)} "
                "deep: the dovetail bit then has its flanks to cut and little else"
            )
            return (bit, channel), (*found, Finding("note", "sliding-preclear", joint.name, says))
    says = (
        f"no straight bit of the kit goes through the mouth, {voice.length(min(joint.shape.necks))} wide, before the "
        "dovetail bit, which takes its full section at once, and slowly"
    )
    return None, (*found, Finding("caution", "sliding-preclear", joint.name, says))
