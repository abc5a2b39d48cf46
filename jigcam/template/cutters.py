"""The bits that make the template on the machine: one that mills it, one that engraves its marks."""

from __future__ import annotations

from collections.abc import Iterator

from jigcam.kit import Bit, Kit, Want
from jigcam.units import INCH, Voice

BELOW = 0.3
"""The sheet is cut through by this much, mm."""
IN_OPENING = 0.9
"""A cutter is at most this share of the opening's width, so that it can clear it and make a finishing pass."""
USUAL = INCH / 4.0
"""The diameter that mills sheet best on a light machine, mm (common practice, no source)."""
FINEST_LINE = 3.2
"""A straight bit no wider than this can write, mm."""


def _want(kit: Kit, opening: float, bushing: float) -> Want:
    most = min(bushing, IN_OPENING * opening)
    return Want("upright_walls", kit.machine, width=most, edges=kit.sheet.thickness + BELOW)


def rejected_cutters(kit: Kit, opening: float, bushing: float, voice: Voice) -> dict[str, str]:
    """For every straight bit of the kit that cannot mill the template, by name, the first reason why."""
    want = _want(kit, opening, bushing)
    faults = {bit.name: next(_faults(bit, want, voice), "") for bit in Want("upright_walls").met_by(kit.bits)}
    return {name: fault for name, fault in faults.items() if fault}


def _faults(bit: Bit, want: Want, voice: Voice) -> Iterator[str]:
    says = voice.length
    lacks = want.lacks(bit)
    if "collet" in lacks:
        yield f"no collet of the machine takes its {says(bit.shank)} shank"
    if "edges" in lacks:
        yield f"its edges are {says(bit.cutting_length)} long and have to go {says(want.edges)} down"
    if "width" in lacks:
        yield f"it is {says(bit.diameter)} wide, and the opening takes {says(want.width)} at most"


def template_cutter(kit: Kit, opening: float, bushing: float) -> Bit | None:
    """The straight bit that mills the template, or None where the kit has none.

    It goes through the sheet, fits the machine, is narrower than the opening (its width, mm), and its radius is at most
    the bushing's (outside diameter, mm), so that the opening's inside corners are no tighter than the bushing needs.
    Of those that do, the nearest to `USUAL`, the stiffer if two are equally near.
    """
    fit = _want(kit, opening, bushing).met_by(kit.bits)
    return min(fit, key=lambda bit: (abs(bit.diameter - USUAL), bit.overall_length, bit.name), default=None)


def marker(kit: Kit) -> Bit | None:
    """The bit that engraves marks: a vee, else a straight bit of at most `FINEST_LINE`; None for neither."""
    vees = Want("pointed", kit.machine).met_by(kit.bits)
    fine = Want("upright_walls", kit.machine, width=FINEST_LINE).met_by(kit.bits)
    return min(vees or fine, key=lambda bit: (bit.diameter, bit.name), default=None)
