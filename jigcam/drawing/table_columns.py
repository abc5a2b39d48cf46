"""How wide the columns of a table on a page are."""

from __future__ import annotations

from collections.abc import Sequence


def columns_in(wanted: Sequence[float], room: float, size: float, smallest: float) -> tuple[float, list[float]]:
    """Size of the letters and widths of the columns, mm, so that they find room; wanted: for letters of that size.

    First the letters get smaller, to `smallest` at least, then the widest columns narrower: their words go on lines.
    """
    shrink = max(min(1.0, room / sum(wanted)), min(smallest / size, 1.0))
    widths = [each * shrink for each in wanted]
    while sum(widths) > room + 1e-6:  # the widest give way, down to the next one, together
        most = max(widths)
        widest = [k for k, each in enumerate(widths) if each > most - 1e-6]
        below = max([each for each in widths if each < most - 1e-6], default=0.0)
        step = min(most - below, (sum(widths) - room) / len(widest))
        widths = [each - step if k in widest else each for k, each in enumerate(widths)]
    return size * shrink, widths
