"""Axes of bushing and bit that were measured apart: how a groove and its mate may come out, held one way and turned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.findings import Finding
from jigcam.joints.groove.seat import seat
from jigcam.making.axes import MEND
from jigcam.proof.fit import SEAT, findings_of
from jigcam.units import format_length
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.geometry import Path
    from jigcam.joints.groove.groove import Groove
    from jigcam.proof import Fit, Ride


@dataclass(frozen=True)
class AxesApart:
    """What axes that are apart may make of a groove, mm.

    shifted: the router held one way, the bit off across the groove; held: the mate then. narrowest, widest: the groove
    with the router turned as it likes; tightest, loosest: the mate then.
    """

    eccentricity: float
    shifted: float
    held: Fit
    narrowest: float
    widest: float
    tightest: Fit
    loosest: Fit

    @property
    def room(self) -> tuple[float, float]:
        """The least and the most room of the mate, in all, where the router turns."""
        return self.tightest.total, self.loosest.total

    def as_dict(self) -> dict[str, Any]:
        """For the manifest."""
        return {
            "eccentricity_mm": round(self.eccentricity, 4),
            "held": {"shifted_mm": round(self.shifted, 4), **self.held.as_dict()},
            "turned": {
                "narrowest_mm": round(self.narrowest, 4),
                "widest_mm": round(self.widest, 4),
                "tightest": self.tightest.as_dict(),
                "loosest": self.loosest.as_dict(),
            },
        }


@dataclass(frozen=True)
class AxesWorst:
    """The same of several places, mm: the furthest shift, the least and the most room of the mate."""

    eccentricity: float
    shifted: float
    room: tuple[float, float]

    @classmethod
    def of(cls, every: Sequence[AxesApart]) -> AxesWorst | None:
        """Of all places; None where the axes are one."""
        if not every:
            return None
        lows, highs = zip(*(each.room for each in every), strict=True)
        return cls(every[0].eccentricity, max(each.shifted for each in every), (min(lows), max(highs)))


def warned_once(warned: Sequence[Finding], places: int, where: str) -> list[Finding]:
    """What is to be said of axes apart at several places: once where all of them say the same."""
    said = {finding.says for finding in warned}
    if len(said) == 1 and len(warned) == places:
        return [replace(warned[0], where=where)]
    return list(warned)


def groove_envelope(
    groove: Groove, ridden: Ride, centreline: Path, units: str, where: str
) -> tuple[AxesApart | None, list[Finding]]:
    """The mate in what a ride may cut with axes apart, with what is to be said; None for a ride whose axes are one.

    Measured in the regions that the ride came to, mm.
    """
    if ridden.eccentricity_mm <= 0.0:
        return None, []
    mate = groove.mate
    _, tangents = centreline.at(np.array([centreline.length / 2.0]))
    across = (-float(tangents[0, 1]), float(tangents[0, 0]))
    nominal, held, tightest, loosest = (
        seat(groove, cut, centreline) for cut in (ridden.cut, ridden.held(across), ridden.sure, ridden.envelope)
    )
    wide = mate.thickness
    tightest = _as_wide_as(ridden.bit_mm, tightest, wide)
    apart = AxesApart(
        ridden.eccentricity_mm,
        abs(held.shift - nominal.shift),
        held,
        wide + tightest.total,
        wide + loosest.total,
        tightest,
        loosest,
    )
    takes_all = tightest.total < min(0.0, mate.clearance) - SEAT
    slack = any(finding.rule == "loose" for finding in findings_of(loosest, mate.clearance, where))
    if not (takes_all or slack):
        return apart, []

    def says(mm: float) -> str:
        return format_length(mm, units)

    text = (
        f"bushing and bit are {says(ridden.eccentricity_mm)} out of line, as measured: where the router turns, the "
        f"groove comes out from {says(apart.narrowest)} to {says(apart.widest)} wide, with "
        f"{says(tightest.total)} to {says(loosest.total)} of room in all, and {says(mate.clearance)} is drawn; held "
        f"one way it keeps its width and shifts by {says(ridden.eccentricity_mm)}: {MEND}"
    )
    return apart, [Finding("caution", "axes-apart", where, text)]


def _as_wide_as(bit: float, fit: Fit, thickness: float) -> Fit:
    """A fit in a groove that is no narrower than its bit: turning moves the groove, and does not close it."""
    lack = bit - (thickness + fit.total)
    if lack <= 0.0:
        return fit
    return replace(fit, total=fit.total + lack, least=fit.least + lack / 2.0, median=fit.median + lack / 2.0)
