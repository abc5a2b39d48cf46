"""Axes of bushing and bit that were measured apart, in words."""

from __future__ import annotations

from typing import Protocol

from jigcam.units import Voice

MEND = (
    "keep one side of the router's base facing the same way all round, or centre the base on the bit and measure again"
)
"""What to do about axes that are apart."""


class Apart(Protocol):
    """What comes of axes that are `eccentricity` apart, mm.

    shifted: how far the cut lies off with the router held one way; room: of the mate, least and most, where it turns.
    """

    @property
    def eccentricity(self) -> float: ...

    @property
    def shifted(self) -> float: ...

    @property
    def room(self) -> tuple[float, float]: ...


def axes_line(apart: Apart | None, voice: Voice, what: str = "groove") -> str:
    """One line for the sheet: what came of axes apart, or that they were taken as one. what: was cut."""
    if apart is None:
        return "bushing and bit were taken to be on one axis; [router] eccentricity of the kit says if they are not"

    says = voice.length
    low, high = apart.room
    return (
        f"bushing and bit are {says(apart.eccentricity)} out of line: with the router held one way the {what} "
        f"shifts by {says(apart.shifted)} and fits as said; turned, it leaves from {says(low)} to {says(high)} of room"
    )
