"""The mate laid into the groove as it was cut, virtually."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jigcam.proof import edge_outline, fit
from jigcam.proof.fit import findings_of

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.geometry import Path, Region
    from jigcam.joints import Groove
    from jigcam.proof import Fit
    from jigcam.units import Unit


def groove_fit(
    groove: Groove, cut: Region, centreline: Path, where: str, units: Unit = "mm"
) -> tuple[dict[str, Any], list[Finding]]:
    """The fit of the groove's mate in a cut, as the manifest tells it, with what is to be said.

    cut, centreline: in one frame, mm; measured from the virtual cut, never from nominal sizes. units: in
    which findings speak.
    """
    mate = groove.mate
    result = seat(groove, cut, centreline)
    facts = {
        "mate": mate.board,
        "thickness_mm": round(mate.thickness, 4),
        "clearance_drawn_mm": round(mate.clearance, 4),
        **result.as_dict(),
        "enters_mm": round(mate.enters, 4),
        "edge_radius_mm": round(mate.edge_radius, 4),
        "mate_length_mm": round(mate.length, 4),
        "notch_mm": round(mate.notch, 4),
    }
    return facts, findings_of(result, mate.clearance, where, units)


def seat(groove: Groove, cut: Region, centreline: Path) -> Fit:
    """The groove's mate laid into a cut, its rounded ends too where both of the groove's are stopped."""
    mate = groove.mate
    outline = None
    if mate.edge_radius > 0.0 and not (groove.open_start or groove.open_finish):
        # The clearance holds for the ends as well: a mate as long as its groove would have to be forced in.
        length = mate.length - max(mate.clearance, 0.0)
        outline = edge_outline(centreline, mate.thickness, mate.edge_radius, length)
    return fit(cut, _on_board(groove, centreline), mate.thickness, mate=outline)


def _on_board(groove: Groove, centreline: Path) -> Path:
    """The centreline without what an open end was drawn beyond the board, where there is nothing to fit."""
    low, high = groove.band.span() or (0.0, groove.length)
    start = max(0.0, low) if groove.open_start else 0.0
    finish = min(groove.length, high) if groove.open_finish else groove.length
    return centreline.substring(start, finish)
