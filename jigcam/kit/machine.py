"""The small CNC: travel, feeds, spindle, what it understands, what it can hold, and what it must not hit."""

from __future__ import annotations

from math import ceil
from typing import Annotated, Any, Final, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from jigcam.document.fields import (
    Acceleration,
    Feed,
    Flag,
    Name,
    Position,
    Rpm,
    Size,
    a_length,
    a_list,
    a_number,
    a_power,
)
from jigcam.document.model import Model
from jigcam.document.positions import Key
from jigcam.document.reading import Misfit
from jigcam.errors import InputError, nearest
from jigcam.kit.bit import Bit, both_units
from jigcam.kit.router import Collets, Diameter, Speeds, holds, rising
from jigcam.units.parse import INCH, shown

OMISSIBLE = ("G17", "G40", "G49", "G80", "G94", "G54", "G61")
"""Words of the opening that only restate what most machines start with; the rest a program cannot do without."""

_AXES = a_list(3, "three numbers, for x, y and z")
_PLACE = a_list(3, "three lengths from the file's zero, [x, y, z]")


def _omitted(value: Any) -> str:
    if not isinstance(value, str) or value not in OMISSIBLE:
        near = nearest(value, OMISSIBLE) if isinstance(value, str) else ""
        raise InputError(
            "a word that cannot be left out",
            found=shown(value),
            wanted="one of " + ", ".join(OMISSIBLE),
            mend=f"did you mean {near}?" if near else "",
        )
    return value


_Omitted = Annotated[str, BeforeValidator(_omitted)]
DialMark = Annotated[
    tuple[Annotated[float, a_number("a mark of the dial", 0, 100)], Rpm],
    a_list(2, "a mark of the dial and its rpm, [1, 10000]"),
]
Dial = Annotated[tuple[DialMark, ...], a_list(None, "a list of marks and speeds: [[1, 10000], [2, 13500]]")]


CLEAR_HEIGHT: Final = {"in": 7 / 32 * INCH, "mm": 5.0}
"""mm, by the units of the files (common practice, no source)."""
LOWEST_CHANGE = 5.0
"""mm; a place to change bits lies at least this high above the stock: where the tool travels freely."""
RUN_UP = 4000.0
"""rpm that a spindle gains in a second, where the kit does not say (common practice, no source: 24,000 in 6 s)."""
LEAST_RUN_UP = 2.0
"""Seconds that a spindle gets at least, where the kit does not say (common practice, no source)."""

Direction = Literal["climb", "conventional"]
"""Of cutting: with a clockwise spindle the wall lies right of the way, or left of it."""


class KeepOutBox(Model):
    """A box that no part of tool or spindle may enter: a clamp, a screw. Lengths in mm, in the file's frame.

    start (`from` in files): its lower left corner, from the file's zero. size: along x and y. height: of its top, from
    z zero, negative if it lies below the top of the stock. setup: only there, left out: in every setup. what: its name.
    """

    start: Annotated[tuple[Position, Position], a_list(2, "two lengths, [x, y]")] = Field(alias="from")
    size: Annotated[tuple[Size, Size], a_list(2, "two lengths, [along x, along y]")]
    height: Position
    what: Name = "clamp"
    setup: Literal["template", "flat", "upright"] | None = None


class Nut(Model):
    """The collet nut above the bit, as a cylinder, mm. diameter, length: over all."""

    diameter: Diameter
    length: Annotated[float, a_length("the length of a nut", high=200.0)]


class Upright(Model):
    """The largest board that stands on end in the machine's vise, mm.

    width, thickness: of it. length: that has room from the vise's top down past the bed; left out: not known, and the
    sheet says how far a board hangs below the bed.
    """

    width: Size
    thickness: Size
    length: Size | None = None


class Machine(Model):
    """A CNC. mm, mm/min, mm/s², rpm, watts, s.

    travel, max_feed, acceleration: along x, y, z. spindle: lowest and highest rpm. dial: (setting, rpm) of a spindle
    that is set by hand, rising; left out: the program sets it. spin_up: seconds that it takes to come up to speed; left
    out: as light spindles take. power: watts at the spindle. full_power_from: the speed from which it has them; left
    out: the highest alone. arcs: whether it knows G2 and G3. output_units: of what is written for it. upright: the
    largest board that its end vise takes; left out: it has none. omit: words that it does not know. keep_out: clamps
    that are always there. collets: shanks that it takes; left out: any. nut: above the bit, if it is to be watched.
    light: a frame that wants shallow passes. pass_depth: how deep it goes at full width, in diameters of the bit; left
    out: half of one on a light frame, else one. drilling_cycles: whether it knows G81 and G83. roughing, finishing: the
    direction of cut that it wants: with play in its screws, conventional.

    tool_change: how it comes to another bit. measures_bits: a changer that measures each bit by itself, and takes its
    length into account, so that no G43 is wanted. change_at: where bits are changed by hand in a pause, (x, y, z) from
    the file's zero, mm; left out: high above the stock and beside it.
    """

    travel: Annotated[tuple[Size, Size, Size], _AXES]
    max_feed: Annotated[tuple[Feed, Feed, Feed], _AXES]
    acceleration: Annotated[tuple[Acceleration, Acceleration, Acceleration], _AXES]
    spindle: Speeds
    dial: Dial | None = None
    spin_up: Annotated[float, a_number("a time in seconds", 0, 120)] | None = None
    power: Annotated[float, a_power("a power", 1, 50_000)]
    full_power_from: Rpm | None = None
    arcs: Flag = True
    tool_change: Literal["automatic", "pause", "file-per-bit"] = "file-per-bit"
    measures_bits: Flag = False
    change_at: Annotated[tuple[Position, Position, Position], _PLACE] | None = None
    output_units: Literal["in", "mm"] = "mm"
    upright: Upright | None = None
    omit: Annotated[tuple[_Omitted, ...], a_list(None, 'a list of words, such as ["G61"]')] = ()
    collets: Collets | None = None
    nut: Nut | None = None
    light: Flag = True
    pass_depth: Annotated[float, a_number("a depth in diameters of the bit", 0.1, 3.0)] | None = None
    drilling_cycles: Flag = False
    roughing: Direction = "climb"
    finishing: Direction = "climb"
    keep_out: Annotated[tuple[KeepOutBox, ...], a_list(None, "a list of tables")] = ()

    def takes(self, bit: Bit) -> bool:
        """Whether the spindle's collets fit the bit's shank."""
        return self.collets is None or holds(self.collets, bit.shank)

    @property
    def clear_height(self) -> float:
        """mm above the stock at which the tool travels; clamps have to lie lower. Round in the units of the files."""
        return CLEAR_HEIGHT[self.output_units]

    @property
    def deepest_pass(self) -> float:
        """Of a pass at full width, in diameters of the bit: as the kit says, or half of one on a light machine and one
        on another (common practice, no source)."""
        return self.pass_depth if self.pass_depth is not None else 0.5 if self.light else 1.0

    def seconds_to(self, rpm: float) -> float:
        """Seconds that the spindle needs to come up to a speed: as the kit says, or else as long as is usual for it."""
        return max(LEAST_RUN_UP, float(ceil(rpm / RUN_UP))) if self.spin_up is None else self.spin_up

    def power_at(self, rpm: float) -> float:
        """Watts at the spindle at a speed: below the speed of full power the torque is what stays the same."""
        rated = self.spindle[1] if self.full_power_from is None else self.full_power_from
        return self.power * min(1.0, rpm / rated)

    @model_validator(mode="after")
    def _changes_bits_clear_of_the_stock(self) -> Self:
        if self.change_at is not None and self.change_at[2] < LOWEST_CHANGE:
            fault = InputError(
                "the place to change bits is not clear of the stock",
                found=f"z {both_units(self.change_at[2])}",
                wanted=f"at least {both_units(LOWEST_CHANGE)} above its top",
            )
            raise Misfit((("change_at",), fault))
        return self

    @model_validator(mode="after")
    def _speeds_make_sense(self) -> Self:
        faults: list[tuple[Key, InputError]] = [*rising(self.spindle, "spindle")]
        for number, (mark, rpm) in enumerate(self.dial or ()):
            before = (self.dial or ())[number - 1] if number else None
            if before and not (before[0] < mark and before[1] < rpm):
                faults.append(
                    (
                        ("dial", number),
                        InputError(
                            "the dial does not rise",
                            found=f"[{mark:g}, {rpm:g}] after [{before[0]:g}, {before[1]:g}]",
                            wanted="marks and speeds in rising order",
                        ),
                    )
                )
            if not self.spindle[0] <= rpm <= self.spindle[1]:
                faults.append(
                    (
                        ("dial", number),
                        InputError(
                            "the dial leaves the speeds of the spindle",
                            found=f"{rpm:g}",
                            wanted=f"from {self.spindle[0]:g} to {self.spindle[1]:g}",
                        ),
                    )
                )
        if self.dial == ():
            faults.append(
                (
                    ("dial",),
                    InputError(
                        "the dial has no marks",
                        found="[]",
                        wanted="[[1, 10000], …]",
                        mend="leave dial out where the program sets the speed",
                    ),
                )
            )
        if faults:
            raise Misfit(*faults)
        return self
