"""A view as it stands on a page: its scale, its ink, the room that it takes, and its caption in lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigcam.drawing.ink import Ink
from jigcam.drawing.model import Drawing, View
from jigcam.drawing.pdf_ink import BOLD, wrapped
from jigcam.drawing.sized import fitted, scale_words

NARROW = 44.0
"""Room that a view takes at least, mm: for its caption."""
CAPITALS = 2.4
"""Height of the capitals of a caption, mm."""


@dataclass(frozen=True)
class PageView:
    """told: whether its caption says the scale. least: the room that it takes across at least, mm."""

    view: View
    scale: float
    ink: Ink
    told: bool
    least: float

    @property
    def wide(self) -> float:
        """The room that it takes across, mm."""
        x0, _, x1, _ = self.ink.bounds
        return max(x1 - x0, self.least)

    @property
    def high(self) -> float:
        """Without its caption, mm."""
        _, y0, _, y1 = self.ink.bounds
        return y1 - y0

    def caption(self, room: float, ticked: bool) -> list[str]:
        """In lines of that room, mm. ticked: with a box before it."""
        says = f"{self.view.caption}  ({scale_words(self.scale)})" if self.told else self.view.caption
        return wrapped(says, room - (5.0 if ticked else 0.0), CAPITALS, BOLD)


def page_view(
    view: View, drawing: Drawing, wide: float, high: float, scales: Sequence[float], *, least: float
) -> PageView:
    """A view of the drawing in a room of that size, mm. scales: see `fitted`."""
    scale, ink = fitted(view, drawing, wide, high, scales)
    return PageView(view, scale, ink, bool(scales), least)
