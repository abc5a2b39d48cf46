"""A gap between two walls cleared in rows along its mouth: few long ways, where lanes in and out are many short ones.

The first row is cut from outside by climb milling: the edges strike the board's face from without and go inward, so
that nothing breaks out of it, and the wood behind is still whole. Each further row lies deeper in the board, and the
steps between them go inward along the walls. A row takes less than the width of the bit, and may be the deeper for it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from jigcam.toolpath.feeds import MOST_THINNING, RUBS, thinning
from jigcam.toolpath.gap import Gap, Mouth
from jigcam.toolpath.gap_run import Ending, Side, Trail, crosses, sides_of
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.time import runs_seconds
from jigcam.toolpath.track import Cutter, Run

CUSP = 0.05
"""What the round ends of rows may leave at a wall beyond the allowance, in diameters of the bit: the finishing pass
meets it at full depth (common practice, no source)."""
OFF = 0.1
"""How far the bit leaves what rows left at a wall before it comes back along it, mm."""


def widest_row(radius: float) -> float:
    """Distance of rows at which their round ends leave `CUSP` at a wall, for a bit of that radius, mm (D)."""
    return 2.0 * _chord(radius)


def suits_rows(gap: Gap, radius: float) -> bool:
    """Whether a gap has two walls, and room enough between them that a row is more than a step from wall to wall."""
    return gap.low_wall and gap.high_wall and gap.least_width >= 2.0 * radius


def row_places(gap: Gap, radius: float, width: float) -> list[float]:
    """e of the bit's middle on each row, from the mouth inward: evenly, none with more than `width` (mm) before it."""
    far = gap.last if gap.back is None else min(gap.last, gap.back - _chord(radius))
    count = max(1, math.ceil((far + radius) / width - 1e-9))
    return [far - (far + radius) * (1.0 - number / count) for number in range(1, count + 1)]


def rows_run(
    gap: Gap, cutter: Cutter, mouth: Mouth, levels: Sequence[float], width: float, then: Ending | None = None
) -> Run:
    """Clears a gap that suits rows at each of the levels, descending, with at most `width` before the bit.

    The bit is straight: it rises where it stands in the end. then: what is cut next without a lift, from the mouth.
    """
    radius, feeds = cutter.radius, cutter.feeds
    places = row_places(gap, radius, width)
    taken = places[0] + radius
    along = feeds.feed * min(MOST_THINNING, thinning(taken, 2.0 * radius))
    # A step along the wall is as wide as the bit: slower by as much, but not so slow that the edge rubs.
    stepping = min(feeds.feed, max(feeds.feed * taken / (2.0 * radius), RUBS * cutter.bit.flutes * feeds.rpm))
    low, high = sides_of(gap)
    # Climb milling from outside has the board on the right of its way: from right to left, seen on the way in.
    here, there = (high, low) if mouth.rising else (low, high)
    trail = Trail.starting(cutter, mouth, gap.first, here.line.at(gap.first))
    for number, level in enumerate(levels):
        side, other = here, there
        if number and len(places) % 2:
            trail.go(gap.first, here.line.at(gap.first))
        trail.track.sink(level)
        for e in places:
            trail.to(e, side.line.at(e), stepping)
            side, other = other, side
            trail.to(e, side.line.at(e), along)
        if number < len(levels) - 1 and side is here:
            _off(trail, gap, here, places[-1])
    if then:
        if side is there or not crosses(gap):
            _off(trail, gap, side, places[-1])
        then(trail)
    return trail.track.finished()


def quickest_rows(
    gaps: Sequence[Gap],
    plain: Cutter,
    narrow: Callable[[float], Cutter],
    mouth: Mouth,
    depth: float,
    *,
    under: float,
    then: Sequence[Ending] | None = None,
) -> tuple[Cutter, list[Run]] | None:
    """The bit as it is run and a run for each gap, down to `depth`, with the width of rows and the count of levels that
    together take the least time; None where that is no less than `under` (s), or a gap does not suit rows.

    plain: the bit as it is run at full width; narrow: as it is run where no more than a width (mm) is before it. then:
    what is cut next in each gap, which counts.
    """
    bit, machine = plain.bit, plain.machine
    if not gaps or not all(suits_rows(gap, bit.radius) for gap in gaps):
        return None
    longest = max(gaps, key=lambda gap: gap.width)
    most = widest_row(bit.radius)
    best: tuple[float, Cutter, list[float], float] | None = None
    for count in range(1, len(even_levels(depth, plain.feeds.depth_per_pass)) + 1):
        # As much wood at once as in a full cut: with more levels rows may be wider.
        width = min(most, bit.diameter * bit.diameter * machine.deepest_pass * count / depth)
        cutter = narrow(width)
        levels = even_levels(depth, cutter.feeds.depth_per_pass)
        if len(levels) != count:
            continue
        run = rows_run(longest, cutter, mouth, levels, width)
        spent = runs_seconds([run], machine)
        if best is None or spent < best[0]:
            best = spent, cutter, levels, width
    if best is None:
        return None
    _, cutter, levels, width = best
    runs = [
        rows_run(gap, cutter, mouth, levels, width, ending)
        for gap, ending in zip(gaps, then or len(gaps) * [None], strict=True)
    ]
    return (cutter, runs) if runs_seconds(runs, machine) < under else None


def _off(trail: Trail, gap: Gap, side: Side, e: float) -> None:
    """Off the wall on which the bit came in, and out to the mouth beside it."""
    away = side.into * (2.0 * CUSP * trail.radius + OFF)
    trail.go(e, side.line.at(e) + away)
    trail.go(gap.first, side.line.at(gap.first) + away)


def _chord(radius: float) -> float:
    """Half of the chord over an arc of the bit's rim that is `CUSP` high."""
    high = 2.0 * CUSP * radius
    return math.sqrt(high * (2.0 * radius - high))
