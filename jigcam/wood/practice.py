"""Limits of good work that several kinds of joint share."""

from __future__ import annotations

from dataclasses import dataclass

from jigcam.tolerances import TOLERANCES

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
    loose: float = 0.25
    """Looseness in all at which a glue line fails, mm (weakly sourced)."""
    extended: float = 0.5
    """An open end drawn further inside the board than this is worth a word when it is carried on to the edge, mm."""


PRACTICE = Practice()
