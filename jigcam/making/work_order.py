"""The order of work: how each board of a job is clamped for all its joints, in the one order that every list follows.

Cover, sheets, cut list and screen tell this order and no other. It is found by `piece.order_of_work`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby


@dataclass(frozen=True)
class Clamping:
    """One clamping of a board: of those of it that are cut alike, one after the other.

    sheet: the setup sheet that says it, by the name of its joint, or of the template that several share. joints: what
    is cut, by name; kind: of these. board: as the joints name it; boards: it and those that are like it and cut so.
    side: "inside face", "left end". stays: the sheet just before, in whose clamping of this board it can be done; "":
    none.
    """

    sheet: str
    joints: tuple[str, ...]
    kind: str
    board: str
    boards: tuple[str, ...]
    side: str
    stays: str = ""

    @property
    def words(self) -> str:
        """What is done, in a line: "trays (groove), inside face"."""
        return f"{' and '.join(self.joints)} ({self.kind}), {self.side}"

    @property
    def told(self) -> str:
        """The same, with what spares the work of clamping."""
        return f"{self.words}, clamped as for {self.stays}" if self.stays else self.words


@dataclass(frozen=True)
class Stage:
    """Clampings of one sheet that follow each other. number: in the order of work, from 1."""

    number: int
    sheet: str
    clampings: tuple[Clamping, ...]

    def boards_of(self, joint: str) -> tuple[str, ...]:
        """The boards in which a joint is cut here, as it names them."""
        return tuple(dict.fromkeys(each.board for each in self.clampings if joint in each.joints))

    @property
    def boards(self) -> tuple[str, ...]:
        """The boards that are cut here, as joints name them."""
        return tuple(dict.fromkeys(each.board for each in self.clampings))


@dataclass(frozen=True)
class WorkOrder:
    """Clampings in the order in which they are done. against: pairs of which the first is done before the second and
    takes what that one bears on, as no order has none of them."""

    clampings: tuple[Clamping, ...] = ()
    against: tuple[tuple[Clamping, Clamping], ...] = ()

    @cached_property
    def stages(self) -> tuple[Stage, ...]:
        """Sheet by sheet: each once, but where another one has to come between its clampings."""
        runs = groupby(self.clampings, key=lambda each: each.sheet)
        return tuple(Stage(number, sheet, tuple(run)) for number, (sheet, run) in enumerate(runs, start=1))

    @cached_property
    def sheets(self) -> tuple[str, ...]:
        """The sheets in the order in which they are begun."""
        return tuple(dict.fromkeys(each.sheet for each in self.clampings))

    def of(self, sheet: str) -> tuple[Stage, ...]:
        """The stages of a sheet."""
        return tuple(stage for stage in self.stages if stage.sheet == sheet)

    def on(self, board: str) -> WorkOrder:
        """What is done to one board, by its own name."""
        both = [pair for pair in self.against if all(board in each.boards for each in pair)]
        return replace(
            self, clampings=tuple(each for each in self.clampings if board in each.boards), against=tuple(both)
        )

    def stage_of(self, joint: str, board: str, side: str) -> Stage | None:
        """The stage in which a joint is cut into a side of a board, as it names it."""
        place = self.place(joint, board, side)
        return next((each for each in self.stages if place >= 0 and self.clampings[place] in each.clampings), None)

    def place(self, joint: str, board: str, *sides: str) -> int:
        """The number, from 0, of the clamping in which a joint is cut into a side of a board, as it names it: of the
        sides given, the first that there is; else the joint's first on that board. -1 where there is none."""
        its = {
            each.side: number
            for number, each in reversed([*enumerate(self.clampings)])
            if joint in each.joints and each.board == board
        }
        return next((its[side] for side in sides if side in its), min(its.values(), default=-1))
