"""The spread of a groove's width, place and fit from the errors of bit, bushing, template, axes, stock and laying.

Model, every error within its limits (`Accuracy`, mm): the opening's two walls are off by l and r outward, each within
half of the opening's tolerance; the bit's axis is e off the bushing's, in a direction φ seen from the groove:

    width     = W + l + r + δd − δB + e·(cos φᵣ − cos φₗ)
    place     = laying + (r − l)/2 + e·(cos φᵣ + cos φₗ)/2
    clearance = width − stock

A router that keeps one side of its base the same way has φᵣ = φₗ: the axes then shift the groove and do not widen it.
One that turns has both at any angle, which widens by up to 2e. A pair that a test cut has measured has no errors of bit
and bushing any more, only that of the measurement, which stands for δB − δd; its axes' widening is in it as far as the
router was held, so their shift stays.

φ is even over the turn. Where only a limit E of e is known, e is even within 0 … E: u(e·cos φ) = E/√6 (derived). Where
the axes were measured e is known, and e·cos φ has the U-shaped arc sine distribution within ± e: u = e/√2 (derived;
also JCGM 101:2008, 6.4.6, from memory). All other errors are even within their limits.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

import numpy as np
import numpy.typing as npt

from jigcam.kit import Accuracy
from jigcam.template.spread import Budget, Summary, Term, below_and_above, budget, even, normal_below, summary
from jigcam.values import dataclass

Floats = npt.NDArray[np.float64]

CUTS = 100_000
"""Cuts that are simulated."""
SEED = 1
"""Of the simulation: the same seed gives the same cuts."""

MEASURED_AXES = "measured: [router] eccentricity of the kit"
"""Where a known distance of the axes comes from."""

CURES = {
    "bit": "make a test cut: `jigcam bushing adjust` takes the errors of bit and bushing out in one go",
    "bushing": "make a test cut: `jigcam bushing adjust` takes the errors of bit and bushing out in one go",
    "measured difference": "measure opening and groove of the test cut at several places, and take the mean",
    "opening": "mill the opening with a lighter last pass, and measure it before use",
    "axes": "keep one side of the router's base facing the same way, or centre the bushing on the bit",
    "stock": "plane the stock that enters to one thickness, measure it, and give that",
    "laying": "lay the sheet by fence and stop instead of lines",
}
"""What to do about each source, by its name."""


@dataclass(frozen=True, slots=True)
class Errors:
    """What is uncertain about one groove, mm. accuracy: the limits. turns: the router turns as it goes round.

    measured: the pair's true difference comes from a test cut. axes_measured: the accuracy's concentricity is the
    distance of the axes itself, and not only a limit of it.
    """

    accuracy: Accuracy
    turns: bool = True
    measured: bool = False
    axes_measured: bool = False

    def source(self, key: str) -> str:
        """Where the limit of that key comes from."""
        return MEASURED_AXES if self.axes_measured and key == "concentricity" else self.accuracy.source(key)

    def width_terms(self) -> list[Term]:
        """Of the groove's width."""
        a = self.accuracy
        if self.measured:
            pair = [Term("measured difference", -1.0, a.measuring, even(a.measuring))]
        else:
            pair = [Term("bit", 1.0, a.bit, even(a.bit)), Term("bushing", -1.0, a.bushing, even(a.bushing))]
        turning = self._axes(1.0), self._axes(-1.0)
        return [*pair, *self._walls(1.0, 1.0), *(turning if self.turns else ())]

    def place_terms(self) -> list[Term]:
        """Of the groove's middle, across it."""
        a = self.accuracy
        axes = [self._axes(0.5), self._axes(0.5)] if self.turns else [self._axes(1.0)]
        return [Term("laying", 1.0, a.laying, even(a.laying)), *self._walls(-0.5, 0.5), *axes]

    def clearance_terms(self) -> list[Term]:
        """Of what is left between groove and mate."""
        return [*self.width_terms(), Term("stock", -1.0, self.accuracy.stock, even(self.accuracy.stock))]

    def _walls(self, left: float, right: float) -> list[Term]:
        half = self.accuracy.opening / 2.0
        return [Term("opening", left, half, even(half)), Term("opening", right, half, even(half))]

    def _axes(self, coefficient: float) -> Term:
        e = self.accuracy.concentricity
        return Term("axes", coefficient, e, e / sqrt(2.0 if self.axes_measured else 6.0))


@dataclass(frozen=True, slots=True)
class Cuts:
    """Simulated cuts: deviations from what is wanted, (n,) each, mm. clearance: less the mate's, as cut."""

    width: Floats
    place: Floats
    clearance: Floats


def simulate(errors: Errors, clearance: float, cuts: int = CUTS, seed: int = SEED) -> Cuts:
    """So many cuts, each with errors of its own (JCGM 101:2008, 6.4 and 7.3). clearance: as drawn, mm."""
    rng = np.random.default_rng(seed)
    a = errors.accuracy

    def within(limit: float) -> Floats:
        # One array, worked on in place: the time of a simulation is that of going through memory.
        values = rng.random(cuts)
        values *= 2.0 * limit
        values -= limit
        return values

    width = within(a.measuring) if errors.measured else within(a.bit) - within(a.bushing)
    left, right = within(a.opening / 2.0), within(a.opening / 2.0)
    width += left
    width += right
    place = right
    place -= left
    place *= 0.5
    place += within(a.laying)
    if a.concentricity > 0.0:
        e = np.ones(cuts) if errors.axes_measured else rng.random(cuts)
        e *= a.concentricity
        right = e * np.cos(rng.random(cuts) * (2.0 * np.pi))
        if errors.turns:
            left = e * np.cos(rng.random(cuts) * (2.0 * np.pi))
            width += right
            width -= left
            right += left
            right *= 0.5
        place += right
    room = width - within(a.stock)
    room += clearance
    return Cuts(width, place, room)


@dataclass(frozen=True, slots=True)
class Fits:
    """Shares of cuts, 0 … 1: tight (under `least` clearance), loose (over `most`), right (between)."""

    tight: float
    right: float
    loose: float


@dataclass(frozen=True, slots=True)
class Tolerance:
    """The spread of one groove, mm, by three methods.

    width, place, clearance: budgets (worst case and root of the sum of squares); simulated: the same by Monte Carlo,
    width and place as deviations, clearance as it is. least, most: clearances between which a mate fits. fits: shares
    as simulated; normal: the same by the root of the sum of squares and a normal distribution.
    """

    errors: Errors
    drawn: float
    least: float
    most: float
    cuts: int
    seed: int
    width: Budget
    place: Budget
    clearance: Budget
    simulated: dict[str, Summary]
    fits: Fits
    normal: Fits

    @property
    def first(self) -> str:
        """The source to attack first: the one with the largest share in the clearance; "" where there is none."""
        return next(iter(self.clearance.shares()), "")

    def as_dict(self) -> dict[str, Any]:
        """For `--json`; mm and shares."""

        def one(name: str, each: Budget) -> dict[str, Any]:
            mc = self.simulated[name]
            return {
                "worst_mm": round(each.worst, 6),
                "u_mm": round(each.uncertainty, 6),
                "U_mm": round(each.expanded, 6),
                "monte_carlo": {
                    "mean_mm": round(mc.mean, 6),
                    "u_mm": round(mc.deviation, 6),
                    "low_mm": round(mc.low, 6),
                    "high_mm": round(mc.high, 6),
                },
                "shares": {source: round(share, 4) for source, share in each.shares().items()},
            }

        fits, normal = (
            {"tight": round(f.tight, 5), "right": round(f.right, 5), "loose": round(f.loose, 5)}
            for f in (self.fits, self.normal)
        )
        a = self.errors.accuracy
        return {
            "clearance_drawn_mm": round(self.drawn, 6),
            "least_mm": round(self.least, 6),
            "most_mm": round(self.most, 6),
            "cuts": self.cuts,
            "seed": self.seed,
            "turns": self.errors.turns,
            "measured": self.errors.measured,
            "limits_mm": {key: round(getattr(a, key), 6) for key in type(a).model_fields},
            "sources": {key: self.errors.source(key) for key in type(a).model_fields},
            "width": one("width", self.width),
            "place": one("place", self.place),
            "clearance": one("clearance", self.clearance),
            "fits": fits,
            "fits_normal": normal,
            "attack_first": self.first,
        }


def tolerance(
    errors: Errors, clearance: float, *, least: float = 0.0, most: float, cuts: int = CUTS, seed: int = SEED
) -> Tolerance:
    """The spread of a groove drawn with a clearance (mm, in all), which fits between `least` and `most`."""
    room = budget(errors.clearance_terms())
    made = simulate(errors, clearance, cuts, seed)
    tight, loose = below_and_above(made.clearance, least, most)
    below = normal_below(least, clearance, room.uncertainty)
    above = 1.0 - normal_below(most, clearance, room.uncertainty)
    return Tolerance(
        errors,
        clearance,
        least,
        most,
        cuts,
        seed,
        budget(errors.width_terms()),
        budget(errors.place_terms()),
        room,
        {"width": summary(made.width), "place": summary(made.place), "clearance": summary(made.clearance)},
        Fits(tight, 1.0 - tight - loose, loose),
        Fits(below, 1.0 - below - above, above),
    )
