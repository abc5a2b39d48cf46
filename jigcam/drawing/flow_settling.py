"""Which of several ways to fill pages is taken: closed up to save a page, with room at the foot so that none is all but
empty, and with larger pictures where pages have room for them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.drawing.flow import Flow

TIGHTS, TIGHTEST = (0.9, 0.8, 0.7), 0.6
"""How far pictures and the room between lines close up, step by step, to save a page."""
LOOSER = (1.7, 1.5, 1.3, 1.15)
"""How much higher pictures may be instead, where that takes no page more."""
FEET = (12.0, 24.0, 36.0, 50.0, 65.0, 80.0, 100.0)
"""What is tried to be left free at the foot of pages, mm, so that the last of them is more than a remnant."""


def settled(tried: Callable[[float, float], Flow], pages: int, *, looser: bool) -> Flow:
    """The best way to fill pages.

    tried: fills them for a share of height and for what is left free at their foot, mm. pages: how many there were
    before. looser: whether pictures may be higher than they ask to be, where there is room.
    """
    best = first = tried(1.0, 0.0)
    if first.pages > pages and (closest := tried(TIGHTEST, 0.0)).cost < first.cost:
        best = closest
        less = (tried(tight, 0.0) for tight in TIGHTS)  # no closer than it takes
        best = next((each for each in less if each.cost < closest.cost), closest)
    for foot in FEET:
        if not best.remnants:
            break
        best = min(best, tried(best.tight, foot), key=lambda each: each.cost)
    if looser and best.tight == 1.0:
        larger = (tried(tight, 0.0) for tight in LOOSER)
        fits = (each for each in larger if each.pages == best.pages and each.remnants <= best.remnants)
        best = next(fits, best)
    return best
