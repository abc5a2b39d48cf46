"""Axes of bushing and bit that were measured apart: how a groove and its mate may come out, held one way and turned."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.findings import Finding
from jigcam.proof.fit import SEAT, Fit, findings_of
from jigcam.units import format_length
from jigcam.workshop.groove_fit import seat

if TYPE_CHECKING:
    from jigcam.geometry import Path
    from jigcam.joints import Groove
    from jigcam.proof import Ride

MEND = (
    "keep one side of the router's base facing the same way all round, or centre the base on the bit and measure again"
)
"""What to do about axes that are apart."""


def groove_envelope(
    groove: Groove, ridden: Ride, centreline: Path, units: str, where: str
) -> tuple[dict[str, Any], list[Finding]]:
    """The mate in what a ride may cut with axes apart, for the manifest, with what is to be said; nothing for a ride
    whose axes are one. held: the router held one way, the bit off across the groove; tightest, loosest: turned as it
    likes. Measured in the regions that the ride came to, mm."""
    if ridden.eccentricity_mm <= 0.0:
        return {}, []
    mate = groove.mate
    _, tangents = centreline.at(np.array([centreline.length / 2.0]))
    across = (-float(tangents[0, 1]), float(tangents[0, 0]))
    nominal, held, tightest, loosest = (
        seat(groove, cut, centreline) for cut in (ridden.cut, ridden.held(across), ridden.sure, ridden.envelope)
    )
    tightest = _as_wide_as(ridden.bit_mm, tightest, mate.thickness)
    facts = {
        "eccentricity_mm": round(ridden.eccentricity_mm, 4),
        "held": {"shifted_mm": round(abs(held.shift - nominal.shift), 4), **held.as_dict()},
        "turned": {
            "narrowest_mm": round(mate.thickness + tightest.total, 4),
            "widest_mm": round(mate.thickness + loosest.total, 4),
            "tightest": tightest.as_dict(),
            "loosest": loosest.as_dict(),
        },
    }
    takes_all = tightest.total < min(0.0, mate.clearance) - SEAT
    slack = any(finding.rule == "loose" for finding in findings_of(loosest, mate.clearance, where))
    if not (takes_all or slack):
        return {"axes_apart": facts}, []

    def says(mm: float) -> str:
        return format_length(mm, units)

    wide = mate.thickness
    text = (
        f"bushing and bit are {says(ridden.eccentricity_mm)} out of line, as measured: where the router turns, the "
        f"groove comes out from {says(wide + tightest.total)} to {says(wide + loosest.total)} wide, with "
        f"{says(tightest.total)} to {says(loosest.total)} of room in all, and {says(mate.clearance)} is drawn; held "
        f"one way it keeps its width and shifts by {says(ridden.eccentricity_mm)}: {MEND}"
    )
    return {"axes_apart": facts}, [Finding("caution", "axes-apart", where, text)]


def _as_wide_as(bit: float, fit: Fit, thickness: float) -> Fit:
    """A fit in a groove that is no narrower than its bit: turning moves the groove, and does not close it."""
    lack = bit - (thickness + fit.total)
    if lack <= 0.0:
        return fit
    return replace(fit, total=fit.total + lack, least=fit.least + lack / 2.0, median=fit.median + lack / 2.0)


def axes_line(fit: dict[str, Any], units: str) -> str:
    """One line for the sheet: what came of axes apart, or that they were taken as one."""
    apart = fit.get("axes_apart")
    if apart is None:
        return "bushing and bit were taken to be on one axis; [router] eccentricity of the kit says if they are not"

    def says(mm: float) -> str:
        return format_length(mm, units)

    turned = apart["turned"]
    return (
        f"bushing and bit are {says(apart['eccentricity_mm'])} out of line: with the router held one way the groove "
        f"shifts by {says(apart['held']['shifted_mm'])} and fits as said; turned, it leaves from "
        f"{says(turned['tightest']['total_mm'])} to {says(turned['loosest']['total_mm'])} of room"
    )
