"""The tolerances of the whole program, in one place, in millimetres unless the name says otherwise."""

from __future__ import annotations

from jigcam.values import dataclass


@dataclass(frozen=True, slots=True)
class Tolerances:
    """Named limits. None of them is ever loosened to make a check pass."""

    same_point: float = 1e-6
    """Two vertices nearer than this are one (a hundredth of the last digit that is written)."""
    facet: float = 1e-3
    """Largest gap between an arc and its chords where arcs have to be faceted for shapely."""
    curve: float = 1e-3
    """Offsets, openings and sections lie this near to the true curve."""
    gouge: float = 0.005
    """A cut may reach this far beyond the drawing."""
    left: float = 0.010
    """A cut may leave this much inside the drawing, corners for the chisel apart."""
    harm: float = 0.05
    """A change to a file that alters the cut by more than this must be caught."""
    binds: float = 0.05
    """Play of the bushing below which it binds in its slot."""
    thin: float = 3.0
    """Wood that has to be left under a cut."""


TOLERANCES = Tolerances()
