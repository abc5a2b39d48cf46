"""Limits of good work that several kinds of joint share."""

from __future__ import annotations

from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass

SLACK = 1e-6
"""mm; a limit that is exceeded by less than this, as rounding makes it, is kept."""


@dataclass(frozen=True, slots=True)
class Practice:
    """Limits of good work. Common practice, no source, unless a line says otherwise."""

    deep: float = 1 / 3
    """A housing is a quarter to a third of the board deep."""
    deepest: float = 1 / 2
    """And never more than a half."""
    least_left: float = TOLERANCES.thin
    """Wood that has to be left under a groove, mm."""
    least_depth: float = 6.0
    """A loaded shelf stands at least this deep in its housing, mm."""
    short_grain: float = 6.0
    """Less wood than this between a groove and an edge or end breaks out, mm."""
    least_web: float = 1.0
    """A wall of wood between two cuts that is thinner than this goes with the first knock, mm."""
    web: float = 6.0
    """A wall between two cuts that is thinner than this breaks out, mm."""
    least_core: float = TOLERANCES.thin
    """Wood that has to be left between cuts from opposite faces, as under a single one, mm."""
    core: float = 1 / 3
    """Share of the board's thickness that stays between cuts from opposite faces."""
    same_place: float = 0.5
    """Two joints of which the smaller has this share of its wood in the other are in one place."""
    lost: float = 0.5
    """A surface of which this share is gone carries no zero and no fence."""
    loose: float = 0.25
    """Looseness in all at which a glue line fails, mm (weakly sourced)."""
    extended: float = 0.5
    """An open end drawn further inside the board than this is worth a word when it is carried on to the edge, mm."""


PRACTICE = Practice()
