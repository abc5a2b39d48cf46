"""Climb or conventional: strategies plan climb milling; seen in a mirror, its moves are conventional milling.

With the spindle clockwise, a cutter left of its wall climbs and one right of it does not (D). A mirror exchanges both
sides and leaves the spindle as it is. So a conventional pass is planned as a climbing one of the mirrored drawing, with
the same arcs in and out from the waste side, the same ramps and the same links, and is then mirrored back.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Path, mirror_x
from jigcam.toolpath.track import Run

MIRROR = mirror_x(0.0)
"""x → −x."""
Field = Callable[[npt.NDArray[np.float64]], npt.NDArray[np.float64]]
"""From points (k, 2) to a value for each."""


def mirrored(run: Run) -> Run:
    """A run that was planned in the mirror, brought back: its moves with x and the sense of its arcs turned round."""
    moves = tuple(replace(move, x=-move.x, cx=-move.cx, ccw=not move.ccw) for move in run.moves)
    return Run(moves, None if run.back is None else mirrored(run.back))


def loop_in_mirror(loop: Path) -> Path:
    """A closed way with its wall on the right as the mirror has it, the wall on the right again.

    It starts at the same vertex: a station s is at length − s.
    """
    return loop.transformed(MIRROR).reversed()


def field_in_mirror(field: Field) -> Field:
    """What a function of places gives for places in the mirror."""
    return lambda points: field(np.asarray(points) * (-1.0, 1.0))
