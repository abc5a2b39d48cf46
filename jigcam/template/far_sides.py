"""A sheet that is laid by a side of the board from which its joint is not drawn: why, and what that asks for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.template.sheet import SheetLayout
    from jigcam.wood.solid import Cut

FAR_END, UPPER = 1, 3
"""The sides from which no joint is drawn, in the order of `sides`."""


def far_sides(name: str, cut: Cut, layout: SheetLayout) -> Iterator[Finding]:
    """Cautions where the sheet is laid by a side from which the joint is not drawn: the board's size then counts."""
    names = sides(cut.face)
    laid = [("fence", layout.fence.side)] if layout.fence else []
    laid += [("stop block", layout.stop.side)] if layout.stop else []
    laid += [("index line", index.side) for index in layout.indexes]
    for what, side in laid:
        far = {FAR_END: "length", UPPER: "width"}
        if cut.on_end:  # its joint is drawn from the lower edge and from the outside face, wherever they are seen
            far = {names.index("upper edge"): "width", UPPER: "thickness"}
        size = far.get(side)
        if size is not None:
            if what == "index line":
                lies = f"is drawn from the {names[side]} of {cut.board.name}, the joint from the {names[side ^ 1]}"
            else:
                lies = f"bears against the {names[side]} of {cut.board.name}, {_why_far(cut, side, names)}"
            yield Finding(
                "caution",
                "far-side",
                name,
                f"the {what} {lies}: any error in the board's {size} moves the joint; measure the board, and bring "
                f"boards that belong together to one {size} first",
            )


def _why_far(cut: Cut, side: int, names: Sequence[str]) -> str:
    """Why a sheet is laid by a side and not by the one across from it, from which the joint is drawn."""
    board, axis = cut.board, side // 2
    extent = ((board.width, board.thickness) if cut.on_end else (board.length, board.width))[axis]
    bounds = cut.solid.section(0.0).bounds
    middle, drawn = (bounds[axis] + bounds[axis + 2]) / 2.0, names[side ^ 1]
    if (middle > extent / 2.0) == (side % 2 == 1):
        return f"which is nearer to the {cut.what} than the {drawn}, from which the joint is drawn"
    return (
        f"as a sheet that reaches the {drawn}, from which the joint is drawn, is larger than the machine takes, or "
        "carries less of the router's base"
    )
