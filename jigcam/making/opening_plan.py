"""A joint that one opening of a template makes: alone in its sheet, or with the openings of other joints in one."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from jigcam.making.plan import Outcome, Plan
from jigcam.making.template import milled_opening
from jigcam.template.laying import STAYS
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.geometry import Region
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.laid_again import Use
    from jigcam.template import TemplatePlan
    from jigcam.template.laying import Move


@dataclass(frozen=True)
class OpeningPlan(Plan):
    """The plan of a joint that a router makes in one opening. template: the opening in its sheet.

    Where the sheet is shared it has no setups: the sheet's plan has the milling, and asks this one for the rest.
    """

    template: TemplatePlan

    @property
    def guided(self) -> bool:
        """Always: whoever makes the sheet, the router rides it."""
        return True

    @property
    def templates(self) -> tuple[TemplatePlan, ...]:
        """The one opening."""
        return (self.template,)

    @property
    @abstractmethod
    def both_hands(self) -> bool:
        """Whether the sheet is also used turned over for it, in the mirrored board."""

    @abstractmethod
    def drawn_words(self, title: str) -> list[Block]:
        """The joint as drawn, without its template, under a title."""

    @abstractmethod
    def routing_words(self) -> list[str]:
        """What to do with the router in the opening, a sentence each, when the sheet lies."""

    def held_words(self, move: Move = STAYS, use: Use | None = None) -> list[str]:
        """How a board is held for the sheet, a sentence each, where that is not said by itself.

        use: where it is laid elsewhere, by a move from where it lies for its openings as drawn.
        """
        return []

    def again_words(self, use: Use) -> list[str]:
        """Where its opening comes to lie when the sheet is laid again, and what is set anew, a sentence each."""
        return []

    def after_words(self) -> tuple[str, list[str]] | None:
        """What is made when all cuts are: a title and sentences."""
        return None

    @abstractmethod
    def judged_in(self, opening: Region) -> Outcome:
        """What comes of the joint in the opening as it was milled; face frame of the cut as drawn, mm."""

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """From the milling file's text: the opening as milled, and what comes of it; nothing without a file."""
        return self.judged_in(milled_opening(self.template, files, texts, self.kit)) if files else Outcome()
