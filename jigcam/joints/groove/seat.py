"""The best seat of a groove's mate in a cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from jigcam.geometry import Path
from jigcam.proof import edge_outline, fit

if TYPE_CHECKING:
    from jigcam.geometry import Region
    from jigcam.joints.groove.groove import Groove
    from jigcam.proof import Fit

AT_ONE_PLACE = 0.01
"""Half the length that is measured of a groove that has only one place where its mate is as wide as it gets, mm."""


def seat(groove: Groove, cut: Region, centreline: Path) -> Fit:
    """The groove's mate laid into a cut, its rounded ends too where both of the groove's are stopped."""
    mate = groove.mate
    outline = None
    if mate.edge_radius > 0.0 and not (groove.open_start or groove.open_finish):
        outline = edge_outline(centreline, mate.thickness, mate.edge_radius, mate.longest)
    return fit(cut, _on_board(groove, centreline), mate.thickness, mate=outline, margin=0.0)


def _on_board(groove: Groove, centreline: Path) -> Path:
    """The centreline where the mate has its full thickness and the walls their full length.

    An open end goes to the board's edge, wherever it was drawn; half a thickness, for which `fit` stays off both ends,
    is only wanted at stopped ones, for their rounds or the round that the bit leaves in their corners. A groove hardly
    longer than that is measured in its middle.
    """
    low, high = groove.band.span() or (0.0, groove.length)
    inset = groove.mate.thickness / 2.0
    start = low if groove.open_start else inset
    finish = high if groove.open_finish else groove.length - inset
    if finish - start < 2.0 * AT_ONE_PLACE:
        middle = 0.5 * (start + finish)
        if groove.open_start != groove.open_finish:
            middle = low if groove.open_start else high
        start, finish = middle - AT_ONE_PLACE, middle + AT_ONE_PLACE
    origin, end = np.array(centreline.start), np.array(centreline.end)
    way = (end - origin) / np.hypot(*(end - origin))
    return Path.through([tuple(origin + start * way), tuple(origin + finish * way)])
