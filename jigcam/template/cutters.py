"""The bits that make the template on the machine: one that mills it, one that engraves its marks."""

from __future__ import annotations

from collections.abc import Iterator

from jigcam.kit import Bit, Kit
from jigcam.units import INCH, format_length

BELOW = 0.3
"""The sheet is cut through by this much, mm."""
IN_OPENING = 0.9
"""A cutter is at most this share of the opening's width, so that it can clear it and make a finishing pass."""
USUAL = INCH / 4.0
"""The diameter that mills sheet best on a light machine, mm (common practice, no source)."""
FINEST_LINE = 3.2
"""A straight bit no wider than this can write, mm."""


def _faults(bit: Bit, kit: Kit, opening: float, bushing: float, units: str) -> Iterator[str]:
    def says(mm: float) -> str:
        return format_length(mm, units)

    if bit.kind != "straight":
        yield f"it is a {bit.kind} bit"
        return
    if not kit.the_machine.takes(bit):
        yield f"no collet of the machine takes its {says(bit.shank)} shank"
    through = kit.the_sheet.thickness + BELOW
    if bit.cutting_length < through:
        yield f"its edges are {says(bit.cutting_length)} long and have to go {says(through)} down"
    most = min(bushing, IN_OPENING * opening)
    if bit.diameter > most:
        yield f"it is {says(bit.diameter)} wide, and the opening takes {says(most)} at most"


def rejected_cutters(kit: Kit, opening: float, bushing: float, units: str) -> dict[str, str]:
    """For every bit of the kit that cannot mill the template, by name, the first reason why."""
    faults = {bit.name: next(_faults(bit, kit, opening, bushing, units), "") for bit in kit.bits}
    return {name: fault for name, fault in faults.items() if fault}


def template_cutter(kit: Kit, opening: float, bushing: float, units: str) -> Bit | None:
    """The straight bit that mills the template, or None where the kit has none.

    It goes through the sheet, fits the machine, is narrower than the opening (its width, mm), and its radius is at most
    the bushing's (outside diameter, mm), so that the opening's inside corners are no tighter than the bushing needs.
    Of those that do, the nearest to `USUAL`, the stiffer if two are equally near.
    """
    rejected = rejected_cutters(kit, opening, bushing, units)
    fit = [bit for bit in kit.bits if bit.name not in rejected]
    return min(fit, key=lambda bit: (abs(bit.diameter - USUAL), bit.overall_length, bit.name), default=None)


def marker(kit: Kit) -> Bit | None:
    """The bit that engraves marks: a vee, else a straight bit of at most `FINEST_LINE`; None for neither."""
    vees = [bit for bit in kit.bits if bit.kind == "vee" and kit.the_machine.takes(bit)]
    fine = [b for b in kit.bits if b.kind == "straight" and b.diameter <= FINEST_LINE and kit.the_machine.takes(b)]
    return min(vees or fine, key=lambda bit: (bit.diameter, bit.name), default=None)
