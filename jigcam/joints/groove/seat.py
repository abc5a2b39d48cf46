"""The best seat of a groove's mate in a cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.proof import edge_outline, fit

if TYPE_CHECKING:
    from jigcam.geometry import Path, Region
    from jigcam.joints.groove.groove import Groove
    from jigcam.proof import Fit


def seat(groove: Groove, cut: Region, centreline: Path) -> Fit:
    """The groove's mate laid into a cut, its rounded ends too where both of the groove's are stopped."""
    mate = groove.mate
    outline = None
    if mate.edge_radius > 0.0 and not (groove.open_start or groove.open_finish):
        outline = edge_outline(centreline, mate.thickness, mate.edge_radius, mate.longest)
    return fit(cut, _on_board(groove, centreline), mate.thickness, mate=outline)


def _on_board(groove: Groove, centreline: Path) -> Path:
    """The centreline without what an open end was drawn beyond the board, where there is nothing to fit."""
    low, high = groove.band.span() or (0.0, groove.length)
    start = max(0.0, low) if groove.open_start else 0.0
    finish = min(groove.length, high) if groove.open_finish else groove.length
    return centreline.substring(start, finish)
