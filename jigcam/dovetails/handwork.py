"""The same layout for saw and chisel: gauges, dividers, bevel, and where every line stands on both boards.

Lines are said as a rule is read: half millimetres or 32nds of an inch, each rounded from its own distance to the lower
edge, so that errors do not add up; what is itself a 64th stays one. Where that would show, as in a narrow half pin, all
of them are said finer. What dividers add up to is known from the same divisions.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from jigcam.dovetails.judging import JointSizes, pin_name
from jigcam.dovetails.layout import Layout
from jigcam.making.blocks import Block, HeadedTable, Points, Sentence
from jigcam.units import Voice, format_length
from jigcam.units.ruled import Ruled, RuleReading, ruled_for
from jigcam.units.setting import Known

EVEN = 1e-6
"""Lengths and slopes that differ by less are the same."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """A marking gauge. board: whose faces and edges it scribes. setting: mm. says: why."""

    board: Literal["tails", "pins"]
    setting: float
    says: str


@dataclass(frozen=True, slots=True)
class Dividers:
    """Two dividers, stepped in turn along the end from the first half pin: one tail, one pin, one tail …

    far_error: where the upper half pin's line then falls, less where it belongs, mm, if both are set by the rule.
    """

    start: RuleReading
    tail: RuleReading
    pin: RuleReading
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
    """Everything that a maker sets and marks. dividers: None where the tails are not alike. bevel: rad, likewise.
    lapped: whether a lap hides the tails' ends. ruled: how the lines' figures are rounded."""

    gauges: tuple[Gauge, ...]
    dividers: Dividers | None
    bevel: float | None
    tail_lines: tuple[MarkedLine, ...]
    pin_lines: tuple[MarkedLine, ...]
    ruled: Ruled
    lapped: bool = False

    def blocks(self, voice: Voice) -> list[Block]:
        """For the sheet: what is set, then every line of both boards."""
        return [
            Points((*self.settings(voice), Known(self.rounding()))),
            *_table(
                "On the tail board, from its lower edge", self.tail_lines, voice, ("at the end", "at the baseline")
            ),
            *_table(
                "On the pin board, from its lower edge; on the faces lines run square to the end",
                self.pin_lines,
                voice,
                ("at the lap" if self.lapped else "outside face", "inside face"),
            ),
        ]

    def rounding(self) -> str:
        """What the figures of the lines are worth."""
        lines = (*self.tail_lines, *self.pin_lines)
        worth = self.ruled.worth(each for line in lines for each in (line.end, line.base))
        return f"{worth} The fit does not hang on them: pins are marked from the tails as they are cut."

    def settings(self, voice: Voice) -> list[str]:
        """Gauges, bevel and dividers."""
        says = voice.rule
        out = [
            f"Gauge for the {gauge.board.removesuffix('s')} board: {says(gauge.setting)}; {gauge.says}."
            for gauge in self.gauges
        ]
        if self.bevel is not None:
            out.append(f"Bevel: {voice.slope(self.bevel)}.")
        if self.dividers is not None:
            d = self.dividers
            out += [
                f"First line: {says(d.start.read)} from the lower edge.",
                f"Dividers for a tail: {says(d.tail.read)}; for a pin: {says(d.pin.read)}; "
                f"for both in one step: {says(d.tail.read + d.pin.read)}.",
                f"Set so and stepped in turn, the last line falls {_off(d.far_error, voice)}.",
            ]
        return out


def hand_layout(layout: Layout, sizes: JointSizes, unit: str) -> HandLayout:
    """The sheet for hand work of a layout, with the clearance of the drawing in the lines of the pin board.

    Where a rule does not show the clearance, the lines of pins are those of the tails: rounded by itself, a line that
    both boards share would have two figures.
    """
    slopes = layout.slopes
    opened = Layout(layout.width, layout.length, layout.sockets(sizes.clearance))
    alike = max(slopes) - min(slopes) < EVEN
    strips = (*layout.tails, *layout.spaces, *opened.tails, *opened.spaces)
    ruled = ruled_for(
        (
            span
            for strip in strips
            for span in ((strip.lower.end, strip.upper.end), (strip.lower.base, strip.upper.base))
        ),
        unit,
        (0.0, layout.width),
    )
    return HandLayout(
        gauges=_gauges(layout, sizes, unit),
        dividers=_dividers(layout, ruled),
        bevel=slopes[0] if alike else None,
        tail_lines=_lines(layout, layout, ruled, tails=True),
        pin_lines=_lines(layout, layout if 2.0 * sizes.clearance < ruled.step else opened, ruled, tails=False),
        lapped=sizes.lap > 0.0,
        ruled=ruled,
    )


def _gauges(layout: Layout, sizes: JointSizes, unit: str) -> tuple[Gauge, ...]:
    how = "the thickness of the pin board, all round the end"
    if sizes.lap:
        how = (
            "the thickness of the pin board less the lap, all round the end; and the lap's line on the end grain of "
            "the pin board, from its inside face"
        )
    tails = Gauge("tails", layout.length, how)
    faces = "on the inside face alone: no line comes onto the outside" if sizes.lap else "on both faces"
    says = f"the thickness of the tail board, {faces}"
    if sizes.rabbet:
        says = (
            f"the thickness of the tail board, {format_length(sizes.tail_board, unit)}, less the rabbet of "
            f"{format_length(sizes.rabbet, unit)}, {faces}"
        )
    return tails, Gauge("pins", sizes.pin_length, says)


def _dividers(layout: Layout, ruled: Ruled) -> Dividers | None:
    """Settings, and the error that they add up to; None where tails or pins are not alike, as when measured."""
    tails = [tail.end_width for tail in layout.tails]
    pins = [space.end_width for space in layout.spaces if not space.half]
    if max(tails) - min(tails) > EVEN or (pins and max(pins) - min(pins) > EVEN):
        return None
    pin = pins[0] if pins else layout.spaces[0].end_width
    start, tail, gap = (ruled.reading(each) for each in (layout.spaces[0].end_width, tails[0], pin))
    error = start.error + len(tails) * tail.error + len(pins) * gap.error
    return Dividers(start, tail, gap, error)


def _lines(layout: Layout, marked: Layout, ruled: Ruled, *, tails: bool) -> tuple[MarkedLine, ...]:
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
            lines.append(MarkedLine(name, ruled.reading(flank.end), ruled.reading(flank.base), waste))
    return tuple(lines)


def _table(title: str, lines: tuple[MarkedLine, ...], voice: Voice, ends: tuple[str, str]) -> list[Block]:
    """ends: what the two figures of a line are of."""
    rows = [(line.name, voice.rule(line.end.read), voice.rule(line.base.read), line.waste) for line in lines]
    return [Sentence(f"{title}:"), HeadedTable(("line", *ends, "waste"), tuple(rows), left=4)]


def _off(mm: float, voice: Voice) -> str:
    if abs(mm) < EVEN:
        return "in its place"
    way = "beyond" if mm > 0.0 else "short of"
    return f"{voice.length(abs(mm))} {way} its place: divide the difference before you prick"
