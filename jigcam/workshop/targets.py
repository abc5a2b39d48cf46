"""What each file has to do to its stock: drawings for the proof, from joint and template, never from the moves."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from jigcam.geometry import Region, apply, difference, offset, rectangle, union
from jigcam.proof import KeepOut, Mark, Removal, Stock, Target

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from jigcam.geometry import Path
    from jigcam.job import Board
    from jigcam.joints import Solid
    from jigcam.kit import KeepOut as KitKeepOut
    from jigcam.template import TemplatePlan
    from jigcam.units import Unit

AIR = 1000.0
"""How far beyond the stock a drawing allows the cutter to be, mm; more than any machine travels past it."""
KERF = 1.0
"""Width beside a finished outline that has to be gone, so that the piece is free but for its tabs, mm."""
TAB_CORE = 2.0
"""Length of a tab's middle, which has to stay, mm; its flat top is longer."""
TAB_REACH = 10.0
"""How far from the sheet a tab's middle has to stay, mm; more than any kerf is wide."""
SPOIL = 0.5
"""How far into the spoilboard a through cut may go, mm."""


def board_target(
    board: Board,
    solids: Iterable[Solid],
    placement: Sequence[Sequence[float]],
    *,
    clear_height: float,
    units: Unit,
    keep_outs: tuple[KeepOut, ...] = (),
) -> Target:
    """A board lying flat, with solids to remove from the face that is up.

    placement: 2×3, face frame → file frame. Where a solid reaches off the board, only wood matters.
    """
    matrix = np.asarray(placement, dtype=float)
    corners = apply(matrix, np.array([[0.0, 0.0], [board.length, board.width]]))
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)

    def section(solid: Solid) -> Callable[[float], Region]:
        return lambda z: solid.section(z).transformed(matrix)

    removals = tuple(
        Removal(
            f"cut {number}",
            section(solid),
            solid.levels(),
            prismatic=len(solid.levels()) == 2,
        )
        for number, solid in enumerate(solids, start=1)
    )
    return Target(
        Stock(float(x0), float(y0), float(x1), float(y1), board.thickness),
        removals,
        keep_outs=keep_outs,
        clear_height=clear_height,
        units=units,
    )


def template_target(
    plan: TemplatePlan,
    *,
    mill: bool,
    marks: Sequence[tuple[Sequence[Path], float, float]],
    clear_height: float,
    units: Unit,
    keep_outs: tuple[KeepOut, ...] = (),
) -> Target:
    """The sheet of a template, in its file frame. mill: this file cuts opening, holes and outline.

    marks: (paths, width, depth) of the lines that this file engraves, file frame, mm.
    """
    placed = plan.in_file_frame()
    width, height, thickness = plan.blank
    removals: list[Removal] = []
    if mill:
        # Corners of the opening tighter than the bushing guide nothing: they may stay.
        removals.append(Removal.prism("opening", placed.opening, thickness, needed=placed.guided))
        if placed.holes:
            removals.append(Removal.prism("holes", union(*(hole.region for hole in placed.holes)), thickness))
        removals.append(_outline(placed, width, height, thickness))
    return Target(
        Stock.of_size(width, height, thickness),
        tuple(removals),
        tuple(Mark(tuple(paths), wide, deep) for paths, wide, deep in marks),
        keep_outs,
        spoil=SPOIL if mill else 0.0,
        clear_height=clear_height,
        units=units,
    )


def _outline(plan: TemplatePlan, width: float, height: float, thickness: float) -> Removal:
    """Outside the finished sheet all may go but the tabs; a kerf beside it has to, down to the tabs and between them.

    A tab has sloped ends, which may come out as they like; what has to stay of it is its middle.
    """
    outside = difference(rectangle(-AIR, -AIR, width + AIR, height + AIR), plan.sheet)
    kerf = difference(offset(plan.sheet, KERF), plan.sheet)
    tabs = [tab.region(KERF + 1.0) for tab in plan.tabs]
    below = difference(kerf, union(*tabs)) if tabs else kerf
    middles = [replace(tab, width=TAB_CORE).region(TAB_REACH) for tab in plan.tabs]
    between_tabs = difference(outside, union(*middles)) if middles else outside
    top_of_tabs = -thickness + max((tab.height for tab in plan.tabs), default=0.0)

    def needed(z: float) -> Region:
        return kerf if z > top_of_tabs else below

    def allowed(z: float) -> Region:
        return outside if z > top_of_tabs else between_tabs

    return Removal("outline", allowed, (0.0, top_of_tabs, -thickness), needed)


def keep_outs(machine: Iterable[KitKeepOut], job: Iterable[KitKeepOut], setup: str) -> tuple[KeepOut, ...]:
    """The boxes of kit and job that hold in a setup."""
    return tuple(
        KeepOut(*box.start, box.start[0] + box.size[0], box.start[1] + box.size[1], box.height, box.what)
        for box in (*machine, *job)
        if box.setup in (None, setup)
    )
