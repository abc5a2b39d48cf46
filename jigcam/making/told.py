"""Findings about joints together, with the joints that they are about."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from jigcam.findings import LEVELS
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.wood import Hand


@dataclass(frozen=True)
class Told:
    """One finding. joints: that it is about. hand: of the board on which it was found."""

    joints: tuple[str, ...]
    hand: Hand
    finding: Finding


def once(found: Iterable[Told]) -> tuple[Told, ...]:
    """Without what was said of the board as drawn and holds, no worse, for the mirrored one."""
    kept: list[Told] = []
    for each in sorted(found, key=lambda told: told.hand != "as drawn"):
        if each not in kept and not (each.hand == "opposite" and any(_covers(other, each) for other in kept)):
            kept.append(each)
    return tuple(kept)


def _covers(other: Told, each: Told) -> bool:
    same = other.joints == each.joints and other.finding.rule == each.finding.rule and other.hand == "as drawn"
    return same and LEVELS.index(other.finding.level) <= LEVELS.index(each.finding.level)
