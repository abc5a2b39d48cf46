"""A socket by template, which no files are made for: the refusal, with the sizes of a template that is made by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.joints.sliding_dovetail.choice import OTHER_ANGLE
from jigcam.joints.sliding_dovetail.guided_socket import ClearingPair, SocketPair, clearing_pair, socket_pairs
from jigcam.template import bushing as sums

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.joints.sliding_dovetail.shape import Shape
    from jigcam.kit import Kit
    from jigcam.units import Voice

WAYS = 'write way = "direct", for the machine'
"""What works instead, where there is a machine."""


def no_template(joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, voice: Voice) -> Refused:
    """The refusal, with bits, bushings and openings where the kit has what rides the socket.

    Raises InputError for a bit that is not in the kit.
    """
    says = f"no files are made yet for the template of a sliding dovetail: {WAYS}"
    if kit.router is not None and kit.sheet is not None:
        says += f"; a template made by hand: {'; '.join(_sizes(joint, entry, kit, voice))}"
    stop = Finding("stop", "sliding-template", joint.name, says)
    return Refused(f"{joint.name} is not cut by a template", [*joint.findings, stop])


def _sizes(joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, voice: Voice) -> list[str]:
    shape = joint.shape
    bits = kit.bits if entry.bit is None else (kit.bit(entry.bit),)
    if joint.flank_asked:
        bits = tuple(bit for bit in bits if abs(bit.angle - shape.flank) <= OTHER_ANGLE)
    pairs = socket_pairs(shape, kit, bits)
    if not pairs:
        return [
            "no dovetail bit of the kit that has the angle rides the socket in a bushing; it has to be a little "
            f"narrower at its tip than {voice.length(shape.least_base)}, and as thin where it turns in the bushing as "
            "that is inside"
        ]
    pair = pairs[0]
    shape = shape.sloped(pair.bit.angle)
    return [_rides(pair, shape, voice), *_cleared(pair, shape, kit, voice)]


def _rides(pair: SocketPair, shape: Shape, voice: Voice) -> str:
    """The dovetail bit in its opening, how it gets into the bushing, and where it leaves the board."""
    end = "finish" if shape.enters_at_finish else "start"
    fitted = (
        "put into the collet from below, when the bushing is on, as its tip does not pass it"
        if pair.from_below
        else ("which its tip passes")
    )
    past = voice.length(sums.offset(pair.bit.diameter, pair.bushing.outside))
    stopped = (
        f", {past} longer than the socket at its stopped end" if shape.stopped_start or shape.stopped_finish else ""
    )
    narrows = ", narrowing as the socket does" if shape.taper else ""
    drop = "" if pair.drops else "; bit and bushing come in at that end, as the tip does not drop through the opening"
    return (
        f"{pair.bit.name} in {pair.bushing.name}, {fitted}, rides an opening {voice.rule(pair.opening)} wide{narrows}"
        f"{stopped}, which goes on over the board's edge at the {end} of the socket by "
        f"{voice.at_least(pair.beyond_edge)} at "
        f"least, as the bit goes in and out there and is never lifted{drop}"
    )


def _cleared(pair: SocketPair, shape: Shape, kit: Kit, voice: Voice) -> list[str]:
    """The straight bit that goes first, in the same opening, or why it wants another one."""
    shared = clearing_pair(shape, kit, pair.opening)
    if shared is not None:
        return [
            f"before it {_pair(shared)} in the same opening, where it cuts {voice.length(shared.cut)}: a mouth of "
            f"{voice.length(min(shape.necks))} keeps wood at both edges"
        ]
    own = clearing_pair(shape, kit)
    if own is None:
        return [f"no straight bit goes through the mouth of {voice.length(min(shape.necks))} before it"]
    there = sums.cut_size(pair.opening, own.bit.diameter, own.bushing.outside)
    why = (
        f"it would cut {voice.length(there)} in the first one, and the mouth is {voice.length(min(shape.necks))}"
        if there > own.cut
        else f"{own.bushing.name} does not go into the first one"
    )
    return [f"before it {_pair(own)} in another opening, {voice.rule(own.opening)} wide, as {why}"]


def _pair(pair: ClearingPair) -> str:
    return f"{pair.bit.name} in {pair.bushing.name}"
