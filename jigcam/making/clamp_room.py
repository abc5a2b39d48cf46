"""The rim of a blank that stays free for clamps, from the moves of its files: the bit's way, the nut's, and rapids."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from jigcam.toolpath.frame import arc_extremes

if TYPE_CHECKING:
    from jigcam.kit import Nut
    from jigcam.toolpath import Operation
    from jigcam.units import Voice

LEAST = 6.0
"""mm of rim on which a clamp finds a hold, at least (common practice, no source)."""


def rim(operations: Iterable[Operation], stock: tuple[float, float, float], wider: float = 0.0) -> float:
    """How near to the edges of a blank its bits come, mm: the free strip along them; below 0 where they cross one.

    Zero is the blank's lower left corner. wider: of what turns with a bit, its radius (mm), where that is more.
    """
    wide, high = stock[:2]
    found = [min(wide, high) / 2.0]
    for operation in operations:
        radius = max(operation.bit.radius, wider)
        for x, y in _places(operation):
            found.append(min(x, y, wide - x, high - y) - radius)
    return min(found)


def _places(operation: Operation) -> Iterator[tuple[float, float]]:
    """The points of its moves that are furthest along the axes."""
    for before, move in pairwise(operation.moves):
        yield move.x, move.y
        if move.kind == "arc":
            yield from arc_extremes(before, move)


def clamp_lines(
    operations: Iterable[Operation],
    stock: tuple[float, float, float],
    clear: float,
    nut: Nut | None,
    voice: Voice,
) -> tuple[str, ...]:
    """Where screws and clamps may be on a blank whose outline is milled, and how high, a sentence each.

    clear: safe height, mm.
    """
    moves, over = tuple(operations), voice.length(clear)
    by_bit = rim(moves, stock)
    free = by_bit if nut is None else rim(moves, stock, nut.diameter / 2.0)
    comes = f"The bit comes within {voice.up_to(by_bit)} of the blank's edges on its way round the outline"
    if nut is not None:
        comes += ", the nut above it " + (f"within {voice.up_to(free)}" if free > 0.0 else "beyond them")
    screws = f"screw it nearer to the edges than {voice.up_to(by_bit)}, heads below the face, or tape it"
    if free < LEAST:
        clamps = f"no room for clamps; {screws}"
    else:
        clamps = f"clamps lie no further in than {voice.up_to(free)}; or {screws}"
    lines = [f"{comes}: {clamps}. The tabs hold the sheet until it is sawn free."]
    if nut is None:
        lines.append(
            f"The collet's nut is wider than the bit, and stays {over} above the face: a clamp that is higher stays "
            "further off, by half of what the nut is wider."
        )
    lines.append(
        f"From zero to its first cut the tool travels {over} above the face: nothing higher stands at the zero corner "
        "or between it and the outline. The proof watches clamps that the job tells in keep_out."
    )
    return tuple(lines)
