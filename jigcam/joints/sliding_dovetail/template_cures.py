"""What a socket that rides no template is changed to: each way named here was tried, so that the next run takes it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, degrees
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.joints.sliding_dovetail.choice import choose_bits
from jigcam.joints.sliding_dovetail.guided_socket import PASSES, goes_in, socket_tools
from jigcam.joints.sliding_dovetail.rules import sliding_findings
from jigcam.joints.sliding_dovetail.strategy import socket_setup, tail_setup
from jigcam.template.pairs import Pair
from jigcam.tolerances import TOLERANCES
from jigcam.units import INCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Bit, Bushing, Kit
    from jigcam.units import Voice


def cures(joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, voice: Voice) -> Iterator[str]:
    """What works instead, as commands: a change of one key of the entry each, the least change first.

    Raises `Refused` where the kit has no router or no sheet, InputError for a bit or bushing that it lacks.
    """
    bits = kit.bits if entry.bit is None else (kit.bit(entry.bit),)
    bushings = kit.bushings if entry.bushing is None else (kit.bushing(entry.bushing),)
    if entry.bit is not None and (bit := _ridden_by(joint, kit, kit.bits, bushings)):
        yield f"leave bit out: {bit.name} does"
    if entry.bushing is not None and (bit := _ridden_by(joint, kit, bits, kit.bushings)):
        yield f"leave bushing out: {bit.name} rides in another"
    wider = [(base, bit.name) for bit in bits if (base := _least_base(joint, kit, bit, bushings, voice)) is not None]
    if wider:
        base, name = min(wider)
        yield f"make the base at least {voice.length(base)}, for {name}"
    if (
        joint.flank_asked
        and (bit := _ridden_by(replace(joint, flank_asked=False), kit, bits, bushings))
        and not stops(joint.sloped(bit.angle, voice).findings)
    ):
        key = "slope" if entry.angle_of_flank is None else "angle_of_flank"
        yield f"leave {key} out, for the {degrees(bit.angle):.3g}° of {bit.name}"
    if _on_machine(joint, entry, kit, voice):
        yield 'write way = "direct", for the machine'


def _ridden_by(joint: SlidingDovetail, kit: Kit, bits: Sequence[Bit], bushings: Sequence[Bushing]) -> Bit | None:
    """The bit that rides the socket; None without one."""
    tools = socket_tools(joint, kit, bits, bushings, preclear=False)
    return None if tools is None else kit.bit(tools.socket.bit.name)


def _least_base(joint: SlidingDovetail, kit: Kit, bit: Bit, bushings: Sequence[Bushing], voice: Voice) -> float | None:
    """The least base (mm, as a maker writes it) with which the bit rides the socket, and the tail can be cut of its
    board; None where it takes more than a wider base."""
    if not bit.undercuts:
        return None
    step = INCH / 1000.0 if voice.inch else 0.05
    pairs = [
        Pair.of(bit, each, kit)
        for each in bushings
        if goes_in(bit, each, sheet=kit.the_sheet.thickness, depth=joint.shape.depth, router=kit.the_router)
    ]
    # The opening is as wide as the socket and twice the offset, and the tip goes down through it.
    least = {
        max(d + joint.shape.taper + TOLERANCES.binds, 2.0 * (d + PASSES) - pair.bushing.outside)
        for pair in pairs
        for d in (pair.bit.diameter,)
    }
    for each in sorted(least):
        base = ceil(each / step - 1e-6) * step
        if base <= joint.shape.base:
            continue
        wider = replace(joint, band=replace(joint.band, width=base), shape=replace(joint.shape, base=base), findings=())
        if _ridden_by(wider, kit, (bit,), bushings) and not stops(sliding_findings(wider, voice)):
            return base
    return None


def _on_machine(joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, voice: Voice) -> bool:
    """Whether the machine cuts it as the entry asks for else. A bushing that is named is no entry of that way."""
    if kit.machine is None or entry.bushing is not None:
        return False
    try:
        choice = choose_bits(joint, entry, kit, voice)
        socket_setup(choice, kit, voice)
        if entry.tail_way == "upright":
            tail_setup(choice, kit, voice)
    except Refused:
        return False
    return True
