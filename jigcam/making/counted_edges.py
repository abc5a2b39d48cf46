"""From which edge of each board the files of a corner count, and what a difference of the boards' widths does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.making.blocks import Block, Rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.making.setup import Setup
    from jigcam.units import Voice


def edge(setup: Setup) -> str:
    """The edge of the board at which the zero of a setup lies: `lower` or `upper`."""
    across = setup.placement[0][0] if setup.clamping == "upright" else setup.placement[1][1]
    return "lower" if across > 0.0 else "upper"


def with_widths(blocks: Sequence[Block], setups: Sequence[Setup], clearance: float, voice: Voice) -> list[Block]:
    """The words of a corner, with a row about the widths where its boards are counted from opposite edges.

    clearance: at each flank or cheek, mm; by as much the cuts of one board may lie aside of those of the other.
    """
    *before, last = blocks
    counted: dict[str, list[str]] = {}
    for setup in setups:
        counted.setdefault(edge(setup), []).append(f"{setup.board} ({setup.end} end)")
    boards = list(dict.fromkeys(setup.board for setup in setups))
    if len(counted) < 2 or len(boards) < 2 or not isinstance(last, Rows):
        return list(blocks)
    alike = f"alike within {voice.drawn(clearance)}" if clearance > 0.0 else "alike to a hair, as there is no clearance"
    from_edges = " and ".join(
        f"from the {which} edge of {', '.join(dict.fromkeys(names))}" for which, names in counted.items()
    )
    row = (
        "widths",
        f"measure {' and '.join(boards)} across before they are clamped: they have to be {alike}, as the files count "
        f"{from_edges}, and any difference moves the halves of the joint against each other",
    )
    return [*before, Rows((*last.rows, row), last.minor)]
