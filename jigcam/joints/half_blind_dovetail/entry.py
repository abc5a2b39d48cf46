"""The entry of a half-blind dovetail: a lap of the pin board hides the ends of the tails, as on a drawer's front."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from jigcam.document.fields import a_length
from jigcam.dovetails.entry import DovetailEntry


class HalfBlindDovetailEntry(DovetailEntry):
    """A half-blind dovetail: the keys of every dovetailed corner, and one more.

    lap: wood left at the pin board's outside face.

    The tails are as long as the pin board is thick less the lap; pins (the board) is the front of a drawer.
    """

    WHAT: ClassVar[str] = "a half-blind dovetail"

    kind: Literal["half-blind-dovetail"] = "half-blind-dovetail"
    lap: Annotated[float, a_length("a lap", 0.1, 100.0)]

    @property
    def lap_left(self) -> float:
        """The lap."""
        return self.lap
