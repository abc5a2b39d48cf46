"""What the trade has to say about a layout: too narrow, too steep, too weak, impossible.

Every finding names the numbers in the job's units and what would mend it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from jigcam.dovetails.entry import DrawnTails
from jigcam.dovetails.layout import Layout, Strip, tail_width
from jigcam.findings import Finding
from jigcam.units import counted, format_length


@dataclass(frozen=True, slots=True)
class DovetailPractice:
    """Limits of good work. Common practice, no source, except where a line says otherwise."""

    steepest: float = math.atan(1 / 4)
    """Steeper tails break at their corners."""
    flattest: float = math.atan(1 / 10)
    """Flatter tails hold little more than a straight finger."""
    steepest_possible: float = math.atan(1 / 2)
    """Beyond it a tail is short grain from corner to neck."""
    neck_share: float = 0.5
    """A tail's neck, as a share of the tail board's thickness, under which it may snap."""
    pin_share: float = 0.2
    """A pin's narrow side, as a share of the pin board's thickness, under which it is delicate."""
    half_pin_share: float = 0.25
    """A half pin's narrow side, as a share of the pin board's thickness, under which the outer tail may split it."""
    half_pin_of_pin: float = 0.5
    """A half pin's narrow side, as a share of a full pin's."""
    lap: tuple[float, float] = (3 / 32 * 25.4, 3 / 16 * 25.4)
    """What is left before the ends of half-blind tails, mm (a furniture magazine's book on joinery, 2007)."""
    least_lap: float = 1.5
    """A thinner lap breaks out when the sockets are cut, mm."""
    least_tail: float = 3.0
    """No tail has a narrower neck, mm."""
    least_pin: float = 1.5
    """No pin or half pin is narrower, mm."""
    most_rabbet: float = 1 / 3
    """A registration rabbet deeper than this share of the tail board weakens the corner."""
    loose: float = 0.25
    """Looseness in all at which a glue line fails, mm (weakly sourced)."""


PRACTICE = DovetailPractice()


@dataclass(frozen=True, slots=True)
class JointSizes:
    """What the rules need to know beside the layout, mm: thicknesses as measured, rabbet, clearance, pare, lap."""

    tail_board: float
    pin_board: float
    rabbet: float = 0.0
    clearance: float = 0.0
    pare: float = 0.0
    lap: float = 0.0

    @property
    def pin_length(self) -> float:
        """Length of the pins, depth of their sockets: the wood that the rabbet leaves of the tail board."""
        return self.tail_board - self.rabbet


def room_finding(where: str, width: float, drawing: DrawnTails, unit: str) -> Finding | None:
    """The stop for pins that leave no width to the tails, or nothing where they leave some."""
    count, pin, half_pin = drawing.count, drawing.pin, drawing.half_pin
    if tail_width(width, count, pin, half_pin) > 0.0:
        return None
    says = _lengths(unit)
    pins = (count - 1) * pin + 2.0 * half_pin
    full = f"{counted(count - 1, 'pin')} of {says(pin)} and " if count > 1 else ""
    return Finding(
        "stop",
        "dovetail-no-room",
        where,
        f"{full}two half pins of {says(half_pin)} "
        f"take {says(pins)} of a board {says(width)} wide and leave nothing for {counted(count, 'tail')}; use "
        f"{'fewer tails or ' if count > 1 else ''}narrower {'pins' if count > 1 else 'half pins'}",
    )


def layout_findings(where: str, layout: Layout, sizes: JointSizes, unit: str) -> tuple[Finding, ...]:
    """All that is wrong or doubtful about a layout on its stock; `unit` is the job's ("in" or "mm")."""
    says = _lengths(unit)
    found = [*_crossing(where, layout, says)]
    if not found:
        found += [*_tails(where, layout, sizes, says), *_pins(where, layout, sizes, says)]
    return (
        *found,
        *_slopes(where, layout),
        *_stock(where, sizes, says),
        *_lap(where, layout, sizes, says),
        *_pared(where, layout, sizes, says),
    )


def describe_slope(angle: float) -> str:
    """An angle as joiners say it: "1:8 (7.13 deg)"; a ratio that is not whole shows two decimals."""
    ratio = 1.0 / math.tan(angle) if angle else math.inf
    shown = f"{ratio:.0f}" if abs(ratio - round(ratio)) < 0.005 else f"{ratio:.2f}"
    return f"1:{shown} ({math.degrees(angle):.2f} deg)"


def _lengths(unit: str) -> Callable[[float], str]:
    return lambda mm: format_length(mm, unit)


def _crossing(where: str, layout: Layout, says: Callable[[float], str]) -> Iterator[Finding]:
    for number, tail in enumerate(layout.tails, start=1):
        if tail.least_width <= 0.0:
            yield Finding(
                "stop",
                "dovetail-tail-vanishes",
                where,
                f"tail {number} is {says(tail.end_width)} wide at its end and would be "
                f"{says(tail.base_width)} at the baseline; use a flatter slope or fewer tails",
            )
    for number, space in enumerate(layout.spaces):
        if space.least_width <= 0.0:
            yield Finding(
                "stop",
                "dovetail-pin-vanishes",
                where,
                f"{pin_name(number, layout)} would be {says(space.least_width)} wide at its narrow side; "
                "draw fewer tails, or narrower ones",
            )


def _tails(where: str, layout: Layout, sizes: JointSizes, says: Callable[[float], str]) -> Iterator[Finding]:
    necks = [tail.least_width for tail in layout.tails]
    neck, number = min(necks), 1 + necks.index(min(necks))
    if neck < PRACTICE.least_tail:
        yield Finding(
            "stop",
            "dovetail-tail-narrow",
            where,
            f"tail {number} is only {says(neck)} wide at its neck, less than {says(PRACTICE.least_tail)}; "
            "use a flatter slope, fewer tails or narrower pins",
        )
    elif neck < PRACTICE.neck_share * sizes.tail_board:
        yield Finding(
            "caution",
            "dovetail-tail-narrow",
            where,
            f"tail {number} is {says(neck)} wide at its neck, less than half of the board's thickness of "
            f"{says(sizes.tail_board)}: it may snap across the grain",
        )
    full = [space.end_width for space in layout.spaces if not space.half]
    narrowest = min(tail.end_width for tail in layout.tails)
    if full and narrowest < max(full) - 1e-9:
        yield Finding(
            "caution",
            "dovetail-tail-under-pin",
            where,
            f"a tail of {says(narrowest)} is narrower than a pin of {says(max(full))}; "
            f"tails at least as wide as pins are usual",
        )


def _pins(where: str, layout: Layout, sizes: JointSizes, says: Callable[[float], str]) -> Iterator[Finding]:
    pins = layout.pins(sizes.clearance)
    full = [pin.least_width for pin in pins if not pin.half]
    for number, pin in enumerate(pins):
        name, width = pin_name(number, layout), pin.least_width
        if width < PRACTICE.least_pin:
            yield Finding(
                "stop",
                "dovetail-pin-narrow",
                where,
                f"{name} is {says(width)} at its narrow side, less than {says(PRACTICE.least_pin)}; "
                "draw it wider: pin and half_pin say how wide",
            )
        elif pin.half:
            yield from _half_pin(where, name, pin, max(full, default=0.0), sizes, says)
        elif width < PRACTICE.pin_share * sizes.pin_board:
            yield Finding(
                "caution",
                "dovetail-pin-narrow",
                where,
                f"{name} is {says(width)} at its narrow side, less than a fifth of the pin board's thickness "
                f"of {says(sizes.pin_board)}: it is delicate",
            )


def _half_pin(
    where: str, name: str, pin: Strip, full: float, sizes: JointSizes, says: Callable[[float], str]
) -> Iterator[Finding]:
    width = pin.least_width
    if width < PRACTICE.half_pin_share * sizes.pin_board:
        yield Finding(
            "caution",
            "dovetail-half-pin-splits",
            where,
            f"{name} is {says(width)} at its narrow side, less than a quarter of the pin board's thickness "
            f"of {says(sizes.pin_board)}: the outer tail may split it off when the joint is driven home",
        )
    elif width < PRACTICE.half_pin_of_pin * full:
        yield Finding(
            "caution",
            "dovetail-half-pin-splits",
            where,
            f"{name} is {says(width)} at its narrow side, less than half of a full pin of {says(full)}",
        )


def _slopes(where: str, layout: Layout) -> Iterator[Finding]:
    steep, flat = max(layout.slopes), min(layout.slopes)
    if flat <= 0.0:
        says = "a tail does not narrow toward the baseline: it would not hold; measure it again at both"
        yield Finding("stop", "dovetail-slope", where, says)
    elif flat < PRACTICE.flattest - 1e-9:
        yield Finding(
            "caution",
            "dovetail-slope",
            where,
            f"a slope of {describe_slope(flat)} is flatter than 1:10: it holds little more than none",
        )
    if steep > PRACTICE.steepest_possible + 1e-9:
        yield Finding(
            "stop",
            "dovetail-slope",
            where,
            f"a slope of {describe_slope(steep)} is steeper than 1:2: the corners of tails are short grain; "
            "1:6 to 1:8 is usual (common practice)",
        )
    elif steep > PRACTICE.steepest + 1e-9:
        yield Finding(
            "caution",
            "dovetail-slope",
            where,
            f"a slope of {describe_slope(steep)} is steeper than 1:4: the corners of the tails may break off",
        )


def _stock(where: str, sizes: JointSizes, says: Callable[[float], str]) -> Iterator[Finding]:
    if sizes.pin_length <= PRACTICE.least_tail:
        yield Finding(
            "stop",
            "dovetail-rabbet",
            where,
            f"a rabbet of {says(sizes.rabbet)} leaves {says(sizes.pin_length)} of a tail board of "
            f"{says(sizes.tail_board)}; make it less deep, or leave it out",
        )
    elif sizes.rabbet > PRACTICE.most_rabbet * sizes.tail_board:
        yield Finding(
            "caution",
            "dovetail-rabbet",
            where,
            f"a registration rabbet of {says(sizes.rabbet)} takes more than a third of the tail board's "
            f"{says(sizes.tail_board)}",
        )
    total = 2.0 * sizes.clearance
    if sizes.clearance == 0.0:
        yield Finding(
            "caution",
            "dovetail-clearance",
            where,
            "no clearance: a dry fit may seize when glue swells it, or split the tails; "
            f"{says(0.05)} on each flank is usual",
        )
    elif total > PRACTICE.loose:
        yield Finding(
            "caution",
            "dovetail-clearance",
            where,
            f"{says(sizes.clearance)} on each flank is {says(total)} in all: glue lines fail from about "
            f"{says(PRACTICE.loose)}",
        )
    least = min(sizes.pin_board, sizes.pin_length)
    if sizes.pare >= least / 4.0:
        yield Finding(
            "stop",
            "dovetail-pare",
            where,
            f"{says(sizes.pare)} left to pare on every wall is more than a quarter of {says(least)}; "
            "a shaving is meant",
        )


def _lap(where: str, layout: Layout, sizes: JointSizes, says: Callable[[float], str]) -> Iterator[Finding]:
    if not sizes.lap:
        return
    low, high = PRACTICE.lap
    told = f"a lap of {says(sizes.lap)} before the ends of the tails"
    if sizes.lap < PRACTICE.least_lap:
        least = says(PRACTICE.least_lap)
        yield Finding("stop", "dovetail-lap", where, f"{told}: under {least} it breaks out when the sockets are cut")
    elif not low - 1e-6 <= sizes.lap <= high + 1e-6:
        how = "thinner" if sizes.lap < low else "thicker"
        yield Finding("caution", "dovetail-lap", where, f"{told}: {how} than usual, {says(low)} to {says(high)}")
    if layout.length < 0.5 * sizes.tail_board:
        what = f"the tails are {says(layout.length)} long in a board {says(sizes.tail_board)} thick"
        yield Finding("caution", "dovetail-tail-short", where, f"{what}: under half of that they hold little")


def _pared(where: str, layout: Layout, sizes: JointSizes, says: Callable[[float], str]) -> Iterator[Finding]:
    """A shaving that closes a socket, or the space of a pin: nothing would be cut there."""
    sockets = [("socket", strip) for strip in layout.sockets(sizes.clearance - sizes.pare)]
    spaces = [("space between tails", strip.grown(-sizes.pare, layout.length)) for strip in layout.spaces]
    closed = [(what, strip) for what, strip in (*sockets, *spaces) if strip.least_width <= 0.0]
    if sizes.pare > 0.0 and layout.ordered and closed:
        what, strip = min(closed, key=lambda pair: pair[1].least_width)
        yield Finding(
            "stop",
            "dovetail-pare",
            where,
            f"{says(sizes.pare)} left to pare on both walls closes a {what}: it lacks {says(-strip.least_width)}; pare "
            "less, or draw it wider",
        )


def pin_name(number: int, layout: Layout) -> str:
    """Pins counted from the lower edge as a maker calls them: half pins at the edges, full pins 1, 2 … between."""
    if number == 0:
        return "the lower half pin"
    return "the upper half pin" if number == len(layout.tails) else f"pin {number}"
