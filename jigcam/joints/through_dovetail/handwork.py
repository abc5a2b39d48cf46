"""The same layout for saw and chisel: gauges, dividers, bevel, and where every line stands on both boards.

Lengths are given twice: as they are, and as a rule shows them, with the error of the nearest division. A rule for
inches is divided in 64ths, one for millimetres in halves. Error is rule less true: positive reads too far.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from jigcam.joints.through_dovetail.layout import Layout
from jigcam.joints.through_dovetail.rules import JointSizes, describe_slope, pin_name
from jigcam.units import format_length, nearest_fraction

HALF_MM = 0.5
"""Divisions of a metric rule, mm."""
EVEN = 1e-6
"""Lengths and slopes that differ by less are the same."""


@dataclass(frozen=True, slots=True)
class RuleReading:
    """A length, mm, as the rule of the job's unit shows it. text: on the rule. error: rule less length, mm."""

    length: float
    text: str
    error: float


@dataclass(frozen=True, slots=True)
class Gauge:
    """A marking gauge. board: whose faces and edges it scribes. setting: mm. says: why."""

    board: Literal["tails", "pins"]
    setting: RuleReading
    says: str


@dataclass(frozen=True, slots=True)
class Dividers:
    """Two dividers, stepped in turn along the end from the first half pin: one tail, one pin, one tail …

    far_error: where the upper half pin's line then falls, less where it belongs, mm, if both are set by the rule.
    """

    start: RuleReading
    tail: RuleReading
    pin: RuleReading
    pitch: RuleReading
    far_error: float


@dataclass(frozen=True, slots=True)
class MarkedLine:
    """One line to mark: place from the lower edge at the end grain, and where it meets the baseline, mm.

    name: of the flank. waste: on which side of the line the waste lies. On the tail board both places are on the
    faces; on the pin board `end` is on the outside face and `base` on the inside face, joined across the end grain.
    """

    name: str
    end: RuleReading
    base: RuleReading
    waste: Literal["toward the lower edge", "toward the upper edge"]


@dataclass(frozen=True, slots=True)
class HandLayout:
    """Everything that a maker sets and marks. dividers: None where the tails are not alike. bevel: rad, likewise."""

    gauges: tuple[Gauge, ...]
    dividers: Dividers | None
    bevel: float | None
    tail_lines: tuple[MarkedLine, ...]
    pin_lines: tuple[MarkedLine, ...]
    unit: str

    def lines(self) -> tuple[str, ...]:
        """As plain text, for the sheet."""
        return (
            *self._settings(),
            "",
            *_table("On the tail board, from its lower edge", self.tail_lines, self.unit),
            "",
            *_table(
                "On the pin board, from its lower edge (end: outside face; baseline: inside face)",
                self.pin_lines,
                self.unit,
            ),
        )

    def _settings(self) -> list[str]:
        out = [
            f"Gauge for the {gauge.board.removesuffix('s')} board: {_says(gauge.setting, self.unit)}; {gauge.says}."
            for gauge in self.gauges
        ]
        if self.bevel is not None:
            out.append(f"Bevel: {describe_slope(self.bevel)}.")
        if self.dividers is not None:
            d = self.dividers
            out += [
                f"First line: {_says(d.start, self.unit)} from the lower edge.",
                f"Dividers for a tail: {_says(d.tail, self.unit)}; for a pin: {_says(d.pin, self.unit)}; "
                f"for both in one step: {_says(d.pitch, self.unit)}.",
                f"Stepped in turn with those settings, the last line falls {_off(d.far_error, self.unit)}.",
            ]
        return out


def reading(mm: float, unit: str) -> RuleReading:
    """A length on the rule of a unit: the nearest 64th of an inch, or half millimetre."""
    if unit == "in":
        fraction = nearest_fraction(mm)
        return RuleReading(mm, fraction.text, fraction.error_mm)
    nearest = math.floor(mm / HALF_MM + 0.5) * HALF_MM
    return RuleReading(mm, format_length(nearest, "mm"), nearest - mm)


def hand_layout(layout: Layout, sizes: JointSizes, unit: str) -> HandLayout:
    """The sheet for hand work of a layout, with the clearance of the drawing in the lines of the pin board."""
    slopes = layout.slopes
    opened = Layout(layout.width, layout.length, layout.sockets(sizes.clearance))
    alike = max(slopes) - min(slopes) < EVEN
    return HandLayout(
        gauges=_gauges(layout, sizes, unit),
        dividers=_dividers(layout, unit),
        bevel=slopes[0] if alike else None,
        tail_lines=_lines(layout, layout, unit, tails=True),
        pin_lines=_lines(layout, opened, unit, tails=False),
        unit=unit,
    )


def _gauges(layout: Layout, sizes: JointSizes, unit: str) -> tuple[Gauge, ...]:
    tails = Gauge("tails", reading(layout.length, unit), "the thickness of the pin board, all round the end")
    says = "the thickness of the tail board, on both faces"
    if sizes.rabbet:
        says = (
            f"the thickness of the tail board, {format_length(sizes.tail_board, unit)}, less the rabbet of "
            f"{format_length(sizes.rabbet, unit)}, on both faces"
        )
    return tails, Gauge("pins", reading(sizes.pin_length, unit), says)


def _dividers(layout: Layout, unit: str) -> Dividers | None:
    """Settings, and the error that they add up to; None where tails or pins are not alike, as when measured."""
    tails = [tail.end_width for tail in layout.tails]
    pins = [space.end_width for space in layout.spaces if not space.half]
    if max(tails) - min(tails) > EVEN or (pins and max(pins) - min(pins) > EVEN):
        return None
    pin = pins[0] if pins else layout.spaces[0].end_width
    start, tail = reading(layout.spaces[0].end_width, unit), reading(tails[0], unit)
    gap = reading(pin, unit)
    error = start.error + len(tails) * tail.error + len(pins) * gap.error
    return Dividers(start, tail, gap, reading(tails[0] + pin, unit), error)


def _lines(layout: Layout, marked: Layout, unit: str, *, tails: bool) -> tuple[MarkedLine, ...]:
    """The lines of both flanks of each tail, or of each socket; waste lies outside a tail and inside a socket."""
    lower: Literal["toward the lower edge", "toward the upper edge"] = "toward the lower edge"
    upper: Literal["toward the lower edge", "toward the upper edge"] = "toward the upper edge"
    lines = []
    for number, tail in enumerate(marked.tails):
        below, above = pin_name(number, layout), pin_name(number + 1, layout)
        names = (
            (f"tail {number + 1}, lower side", f"tail {number + 1}, upper side")
            if tails
            else (f"{below}, upper side", f"{above}, lower side")
        )
        sides = (lower, upper) if tails else (upper, lower)
        for name, flank, waste in zip(names, (tail.lower, tail.upper), sides, strict=True):
            lines.append(MarkedLine(name, reading(flank.end, unit), reading(flank.base, unit), waste))
    return tuple(lines)


def _table(title: str, lines: tuple[MarkedLine, ...], unit: str) -> list[str]:
    rows = [("line", "at the end", "at the baseline", "waste")]
    rows += [(line.name, _says(line.end, unit), _says(line.base, unit), line.waste) for line in lines]
    widths = [max(len(row[k]) for row in rows) for k in range(3)]
    return [f"{title}:", *("  " + "  ".join([*(row[k].ljust(widths[k]) for k in range(3)), row[3]]) for row in rows)]


def _says(each: RuleReading, unit: str) -> str:
    if abs(each.error) < EVEN:
        return each.text
    return f"{format_length(each.length, unit)} ({each.text} {_signed(each.error, unit)})"


def _off(mm: float, unit: str) -> str:
    if abs(mm) < EVEN:
        return "in its place"
    return f"{_signed(mm, unit)} from its place: divide the difference before you prick"


def _signed(mm: float, unit: str) -> str:
    text = format_length(abs(mm), unit, 3 if unit == "in" else 2)
    return f"{'+' if mm >= 0.0 else '-'}{text}"
