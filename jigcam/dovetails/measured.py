"""Tails as they were cut: what can be true of four measured distances, and what cannot.

Each tail is measured from the lower edge of its board, on the outside face: its lower and its upper flank at the end
grain, then both at the baseline. A job calls them left and right: that is how they stand with the board's left end up
and its outside face toward you; with the right end up the one nearer to the lower edge is on the right hand, and still
comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from jigcam.findings import Finding
from jigcam.units import counted, format_length

Measured = tuple[float, float, float, float]


def measured_findings(
    where: str, tails: Sequence[Measured], width: float, unit: str, *, count: int | None = None
) -> tuple[Finding, ...]:
    """A stop for every tail that cannot be, with its number counted from the lower edge; empty where all can.

    tails: (left, right at the end, left, right at the baseline) per tail, mm. width: of the board, mm. unit: for the
    numbers in the text. count: the number of tails that the job speaks of, if it does.
    """
    found = []
    if count is not None and count != len(tails):
        found.append(
            _stop(where, f"{counted(len(tails), 'tail was', 'tails were')} measured, but the joint has {count}")
        )
    for number, tail in enumerate(tails, start=1):
        before = tails[number - 2] if number > 1 else None
        says = _fault(tail, before, width, lambda mm: format_length(mm, unit))
        if says:
            found.append(_stop(where, f"tail {number} cannot be as measured: {says}"))
    return tuple(found)


def _stop(where: str, says: str) -> Finding:
    return Finding("stop", "dovetail-measured", where, says)


def _fault(tail: Measured, before: Measured | None, width: float, says: Callable[[float], str]) -> str:
    """The first thing that cannot be true of a tail, or ""."""
    for place, left, right, floor in (
        ("end", tail[0], tail[1], before[1] if before else 0.0),
        ("baseline", tail[2], tail[3], before[3] if before else 0.0),
    ):
        if min(left, right) < 0.0 or max(left, right) > width:
            return f"at the {place} it reaches from {says(left)} to {says(right)}, off a board {says(width)} wide"
        if left >= right:
            return (
                f"at the {place} its left side at {says(left)} is not nearer to the lower edge than its right side "
                f"at {says(right)}; the side nearer to the lower edge comes first"
            )
        if before and right <= floor:
            return f"at the {place} it lies before the tail listed ahead of it; list them from the lower edge upward"
        if left <= floor and before:
            return (
                f"at the {place} it starts at {says(left)} and overlaps the tail before it, which ends at {says(floor)}"
            )
        if left <= floor:
            return f"at the {place} it starts at the lower edge and leaves no half pin"
        if right >= width:
            return f"at the {place} it reaches the upper edge and leaves no half pin"
    if tail[2] <= tail[0] or tail[3] >= tail[1]:
        return (
            f"its slopes are reversed: {says(tail[0])} to {says(tail[1])} at the end, but {says(tail[2])} to "
            f"{says(tail[3])} at the baseline, and a tail narrows on both sides toward the baseline"
        )
    return ""
