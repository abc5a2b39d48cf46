"""The entry of a through dovetail: tails and pins show on both outsides of a corner."""

from __future__ import annotations

from typing import ClassVar, Literal

from jigcam.dovetails.entry import DovetailEntry


class ThroughDovetailEntry(DovetailEntry):
    """A through dovetail; its keys are those of every dovetailed corner."""

    WHAT: ClassVar[str] = "a through dovetail"

    kind: Literal["through-dovetail"] = "through-dovetail"
    corners: Literal["chisel", "relieved"] = "chisel"
