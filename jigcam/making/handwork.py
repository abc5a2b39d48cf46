"""What a hand-held router does in a template, opening by opening and place by place, in the order of the work.

The words of the setup sheet say the same; whoever shows the work, or cuts it virtually, asks here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigcam.template.hand import DepthSetting, passes
from jigcam.template.laying import STAYS, Move

if TYPE_CHECKING:
    from jigcam.kit import Bit, Bushing
    from jigcam.template import TemplatePlan
    from jigcam.wood import Cut


@dataclass(frozen=True, slots=True)
class Laid:
    """The sheet where it is laid for one cut.

    cut: as drawn there, in the face frame of its board and hand. settings: of the depth, pass by pass. move: 2×3, from
    that of the cut that the sheet was laid out for (`TemplatePlan.cut`), mm. name: which of its joint's it is, "" where
    there is just one. place: the same by row and number, so that a sheet laid otherwise finds it.
    """

    cut: Cut
    settings: tuple[DepthSetting, ...]
    move: Move = STAYS
    name: str = ""
    place: tuple[int, int] = (0, 0)


@dataclass(frozen=True, slots=True)
class HandWork:
    """What one bit in one bushing makes in one opening. bit, bushing: which may be others than the template's own.

    part: what is made: "groove", "recess", "key". laid: where the sheet lies for it, in turn. around: the bushing goes
    round along the wall once, and what stands within its way is the part; else all of the opening is cleared. first:
    it clears the way for the work after it in the same places, which does the rest.
    """

    template: TemplatePlan
    bit: Bit
    bushing: Bushing
    part: str
    laid: tuple[Laid, ...]
    around: bool = False
    first: bool = False

    def laid_by(self, moves: dict[tuple[int, int], Move]) -> HandWork:
        """The same with the sheet laid in other ways for some places of the hand that is drawn."""
        return replace(
            self,
            laid=tuple(
                replace(each, move=moves[each.place]) if each.place in moves and each.cut.hand == "as drawn" else each
                for each in self.laid
            ),
        )


def work_in(template: TemplatePlan, laid: Iterable[Laid]) -> HandWork:
    """The work of a template's own bit and bushing."""
    return HandWork(template, template.bit, template.bushing, template.cut.what, tuple(laid))


def laid_for(template: TemplatePlan, cuts: Iterable[tuple[Cut, Move, str, tuple[int, int]]]) -> Iterator[Laid]:
    """Cuts with their moves, names and places, at a template's settings, or others where one is of another depth."""
    for cut, move, name, place in cuts:
        stack = replace(template.stack, depth=cut.solid.depth)
        yield Laid(cut, passes(replace(template, stack=stack)), move, name, place)
