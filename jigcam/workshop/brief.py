"""A joint's proof in one line, for the screen; the sheet has it in full."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from jigcam.units import INCH, format_length

if TYPE_CHECKING:
    from jigcam.workshop.work import JointProof

STEP = {"in": INCH * 1e-4, "mm": 1e-3}
"""The last place that is told of a proof, mm."""


def brief_proof(proof: JointProof, units: str) -> str:
    """How near the files as cut come to the drawing, rounded up, what is left for the chisel, and how the mate fits."""
    corners = proof.as_dict()["left_for_chisel"]
    parts = [f"within {_at_most(max(proof.gouge, proof.left), units)}"]
    if corners:
        largest = _at_most(max(corner["size_mm"] for corner in corners), units)
        parts.append(f"{len(corners)} corner{'s' * (len(corners) > 1)} for the chisel, up to {largest}")
    return "; ".join([*parts, *_fit(proof.chain.fit, units)])


def _fit(fit: dict[str, Any], units: str) -> list[str]:
    """The fit in a few words, from the manifest's `fit`."""
    parts = []
    if fit.get("mate") is not None:
        seats = {None: "", True: ", its edges seat", False: ", its edges do NOT seat"}
        room = fit["total_mm"]
        says = f"{fit['mate'] or 'the mate'} has {format_length(room, units)} of room"
        parts.append(says + seats[fit["seats"] if fit["ends_mm"] is not None else None])
    flanks = fit.get("corners", ())
    if flanks:
        least, most = min(each["least_mm"] for each in flanks), max(each["most_mm"] for each in flanks)
        drawn = list(dict.fromkeys(_precise(each["clearance_drawn_mm"], units) for each in flanks))
        parts.append(f"flanks {_span(least, most, units)} apart, {' and '.join(drawn)} drawn")
    if "gap_mm" in fit:
        gap = _span(fit["gap_least_mm"], fit["gap_most_mm"], units)
        parts.append(f"the key has {gap} of room, {_precise(fit['gap_mm'], units)} meant")
    return parts


def _span(least: float, most: float, units: str) -> str:
    low, high = (_precise(each, units) for each in (least, most))
    return high if low == high else f"{low} to {high}"


def _precise(mm: float, units: str) -> str:
    return format_length(mm, units, 4 if units == "in" else 3) if round(mm / STEP[units]) else f"0 {units}"


def _at_most(mm: float, units: str) -> str:
    """Rounded up to the last place told: what is said is never less than what was found."""
    step = STEP[units]
    return _precise(max(1, math.ceil(mm / step - 1e-6)) * step, units)
