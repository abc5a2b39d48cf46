"""Where the tip of the bit goes, as columns for the page: exact lines and arcs, from the text as it was read back."""

from __future__ import annotations

from typing import Any

import numpy as np

from jigcam.gcode import RAPID
from jigcam.player.numbers import TURNS, column, plain, runs
from jigcam.player.timing import Timing, begins_apart
from jigcam.proof.safety import cutting

WAY_RAPID, WAY_CUT, WAY_AIR = 0, 1, 2
"""How a stroke goes: a rapid, a feed with the spindle turning, a feed without."""


def strokes_of(timing: Timing) -> dict[str, Any]:
    """Columns of n strokes; mm, rad.

    x, y, z: of the ends. starts: [place, x, y, z] of strokes that do not begin where the one before ends. arcs:
    [place, centre x, centre y, sweep]. line: runs of line numbers of the text. way: a digit for each. tool: runs.
    ticks, pauses: as `Timing` has them.
    """
    travel, motions = timing.travel, timing.motions
    strokes = travel.strokes
    begin = np.column_stack([strokes.a, travel.z0])
    end = np.column_stack([strokes.b, travel.z1])
    rows = motions[travel.motion]
    ways = np.where(rows["kind"] == RAPID, WAY_RAPID, np.where(cutting(motions)[travel.motion], WAY_CUT, WAY_AIR))
    return {
        "x": column(end[:, 0]),
        "y": column(end[:, 1]),
        "z": column(end[:, 2]),
        "starts": [[int(k), *column(begin[k])] for k in np.flatnonzero(begins_apart(travel))],
        "arcs": [
            [int(k), plain(strokes.centre[k, 0]), plain(strokes.centre[k, 1]), plain(strokes.sweep[k], TURNS)]
            for k in np.flatnonzero(strokes.arc)
        ],
        "line": runs(rows["line"]),
        "way": "".join(map(str, ways.tolist())),
        "tool": runs(rows["tool"]),
        "ticks": timing.ticks,
        "pauses": timing.pauses,
    }
