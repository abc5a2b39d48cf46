"""What the entries of all dovetailed corners have in common: tails on one board, pins on the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Annotated, ClassVar, Final, Literal, Self

from pydantic import model_validator

from jigcam.document.fields import Position, Size, Slope, a_clearance, a_length, a_list, a_whole_number
from jigcam.document.positions import Key
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.entry import BoardName, Entry

Ends = Literal["left", "right", "both"]
MeasuredTail = Annotated[
    tuple[Position, Position, Position, Position],
    a_list(4, "four distances from the lower edge: left and right at the end, left and right at the baseline"),
]

MEETS: Final[dict[Ends, Ends]] = {"left": "right", "right": "left", "both": "both"}
"""Which end of the pin board an end of the tail board meets, with lower edges flush and outside faces outside."""


@dataclass(frozen=True, slots=True)
class DrawnTails:
    """Tails as a drawing gives them: number, widths of pin and half pin at their narrow side in mm, slope in rad."""

    count: int
    pin: float
    half_pin: float
    slope: float


class DovetailEntry(Entry):
    """A dovetailed corner. mm, radians.

    tails, pins: the boards. tails_end, pins_end: the ends that meet; "both" where a board is alike at its two ends, so
    that one entry serves two corners. count: of tails. pin: width of a full pin at the end of the tail board, where
    pins are narrowest. half_pin: the same of the pins at both edges. slope: of the flanks from the grain. rabbet: depth
    of a registration rabbet on the inside of the tail board. pare: left on every wall and baseline for the chisel.
    clearance: between the flanks of a tail and a pin, square to them. tails_setup, pins_setup: how the boards are
    clamped; left out: jigcam chooses. corners: what becomes of inside corners that a round bit cannot reach: left for
    the chisel, relieved, or left round and the tails rounded to match. scallop: what terraces may leave on a sloping
    wall; left out: as little as the fit asks for. measured: the tails as cut, from the lower edge upward; the pins are
    computed to them, and count, pin, half_pin and slope need not be said.
    """

    CALLED: ClassVar[Mapping[str, str]] = {"a": "tails", "a_end": "tails_end", "b": "pins", "b_end": "pins_end"}
    WHAT: ClassVar[str] = "a dovetail"
    WAYS: ClassVar[tuple[str, ...]] = ("direct", "hand")
    """The kind of joint, with its article."""

    way: Literal["template", "direct", "hand"] = "direct"
    clearance: Annotated[float, a_clearance(2.0)] = 0.05
    tails: BoardName
    tails_end: Ends
    pins: BoardName
    pins_end: Ends
    count: Annotated[int, a_whole_number("a number of tails", 1, 100)] | None = None
    pin: Size | None = None
    half_pin: Size | None = None
    slope: Slope | None = None
    rabbet: Annotated[float, a_length("the depth of a rabbet", 0.0, 100.0)] = 0.0
    pare: Annotated[float, a_length("a shaving to pare", 0.0, 10.0)] = 0.0
    tails_setup: Literal["upright", "flat"] | None = None
    pins_setup: Literal["upright", "flat"] | None = None
    corners: Literal["chisel", "relieved", "rounded"] = "chisel"
    scallop: Annotated[float, a_length("a scallop", 0.005, 1.0)] | None = None
    measured: Annotated[tuple[MeasuredTail, ...], a_list(None, "a list with four distances for each tail")] | None = (
        None
    )

    @property
    def lap_left(self) -> float:
        """Wood of the pin board that stays before the ends of the tails, at its outside face, mm; 0: they show."""
        return 0.0

    @property
    def drawing(self) -> DrawnTails | None:
        """The tails as drawn; None where only their measurements are given."""
        if self.count is None or self.pin is None or self.half_pin is None or self.slope is None:
            return None
        return DrawnTails(self.count, self.pin, self.half_pin, self.slope)

    @model_validator(mode="after")
    def _can_be_read_one_way(self) -> Self:
        if faults := [*self._missing(), *self._not_for_this_joint(), *self._not_measured_once()]:
            raise Misfit(*faults)
        return self

    def _missing(self) -> Iterator[tuple[Key, InputError]]:
        if self.measured is not None:
            return
        for key in (each.name for each in fields(DrawnTails)):
            if getattr(self, key) is None:
                yield (
                    (key,),
                    InputError(
                        f"{key} is missing",
                        found="nothing",
                        wanted="count, pin, half_pin and slope, or the tails as measured",
                    ),
                )

    def _not_for_this_joint(self) -> Iterator[tuple[Key, InputError]]:
        if self.way == "template":
            yield (
                ("way",),
                InputError(
                    f"{self.WHAT} is not cut by a template",
                    found='"template"',
                    wanted='"direct"',
                    mend="leave way out",
                ),
            )
        if self.bushing is not None:
            yield (
                ("bushing",),
                InputError(
                    f"{self.WHAT} is cut without a guide bushing", found=repr(self.bushing), wanted="no bushing"
                ),
            )

    def _not_measured_once(self) -> Iterator[tuple[Key, InputError]]:
        if self.measured is None:
            return
        if self.tails_end == "both":
            yield (
                ("measured",),
                InputError(
                    "no two ends are cut alike, so one list of tails cannot serve both",
                    found='tails_end = "both"',
                    wanted='"left" or "right"',
                    mend="write the joint once for each end, with its own measurements",
                ),
            )
        if not self.measured:
            yield (
                ("measured",),
                InputError(
                    "no tail was measured", found="[]", wanted="four distances for each tail", mend="leave measured out"
                ),
            )
