"""Running figures of a layout by hand: how fine a rule is read, so that what lies between two lines keeps its width."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from jigcam.units.format import RULE_STEP, format_length, rule_division
from jigcam.units.parse import INCH

DIVISIONS: Final[dict[str, tuple[tuple[int, str], ...]]] = {
    "in": ((1, "1/32 in"), (2, "1/64 in")),
    "mm": ((1, "0.5 mm"), (5, "0.1 mm")),
}
"""How many times as fine as a rule's own division figures are said, and the division, the coarsest that does first."""
SHOWS: Final = 0.2
"""Share of a width by which rounding may change it (judgement: less is not seen in a row of tails; no source)."""
SAME: Final = 1e-6
"""mm; a figure that is less off is exact."""


@dataclass(frozen=True, slots=True)
class RuleReading:
    """A length, mm, and the error of the rule's nearest division: rule less length, mm."""

    length: float
    error: float

    @property
    def read(self) -> float:
        """What the rule shows, mm."""
        return self.length + self.error


@dataclass(frozen=True, slots=True)
class Ruled:
    """One fineness for all lines of a layout. finer: times a rule's own division; 0: figures stay as they are."""

    unit: str
    finer: int
    division: str

    @property
    def step(self) -> float:
        """From one figure to the next, mm; 0 where they stay as they are."""
        return RULE_STEP[self.unit] / self.finer if self.finer else 0.0

    def reading(self, mm: float) -> RuleReading:
        """A running figure, mm, as it is read."""
        return RuleReading(mm, rule_division(mm, self.unit, self.finer) - mm if self.finer else 0.0)

    def worth(self, readings: Iterable[RuleReading]) -> str:
        """What the figures of the lines are worth: how they are rounded, and how far the worst is off."""
        told = tuple(readings)
        off = max((abs(each.error) for each in told), default=0.0)
        if off < SAME:
            return "The lines' figures all run from the lower edge and are exact."
        between = any(abs(each.read / self.step - round(each.read / self.step)) > SAME for each in told)
        kept = "; what is exact on the rule between them stays" if between else ""
        return (
            f"The lines' figures all run from the lower edge, each rounded by itself to {self.division}{kept}: errors "
            f"do not add up, and none is more than {format_length(off, self.unit)}."
        )


def marks_worth(unit: str) -> str:
    """What figures are worth that are marked one by one with a rule's own division, as `Voice.ruled` says them."""
    division = DIVISIONS[unit][0][1]
    half = format_length(INCH / 64.0 if unit == "in" else 0.25, unit)
    return f"Each figure is by itself the nearest that a rule shows, to {division}, and at most {half} off its place"


def ruled_for(spans: Iterable[tuple[float, float]], unit: str, edges: tuple[float, float]) -> Ruled:
    """The coarsest division that keeps the width of every span, from low to high, mm.

    edges: of the board, which are where they are, whatever a rule says of them.
    """
    told = tuple(spans)
    for finer, division in DIVISIONS[unit]:
        ruled = Ruled(unit, finer, division)
        if all(_keeps(ruled, span, edges) for span in told):
            return ruled
    return Ruled(unit, 0, "")


def _keeps(ruled: Ruled, span: tuple[float, float], edges: tuple[float, float]) -> bool:
    low, high = (0.0 if each in edges else ruled.reading(each).error for each in span)
    return abs(high - low) <= SHOWS * (span[1] - span[0])
