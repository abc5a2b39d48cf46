"""A dovetailed corner with a kit: which way each board is cut, the layout that results, and everything to be said."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigcam.dovetails.cuts import EndCut, end_cuts
from jigcam.dovetails.handwork import HandLayout, hand_layout
from jigcam.dovetails.joint import Dovetail
from jigcam.dovetails.judging import describe_slope
from jigcam.dovetails.layout import Layout
from jigcam.dovetails.undercut_pins import CornerLeft, corner_left
from jigcam.dovetails.ways import SLOPE_CHANGE, Part, Setup, Way, ways_of_pins, ways_of_tails
from jigcam.findings import Finding, Level, by_gravity
from jigcam.kit import Kit
from jigcam.units import counted, format_angle, format_length, format_slope

VISIBLE = math.radians(0.25)
"""A change of slope that an eye can see beside the drawing: a caution and no mere note (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class DovetailChoice:
    """How a joint is cut with one kit.

    layout: that both boards get. tails: None where the tails are cut already, or cannot be cut; pins: None where they
    cannot. ways: all that were considered. findings: rules, choices, refusals; a stop where a board cannot be cut.
    cuts: in the order in which they are made; empty where the joint is refused.
    """

    joint: Dovetail
    layout: Layout
    tails: Way | None
    pins: Way | None
    ways: tuple[Way, ...]
    findings: tuple[Finding, ...]
    cuts: tuple[EndCut, ...]

    @property
    def hand(self) -> HandLayout:
        """The same layout for saw and chisel."""
        return hand_layout(self.layout, self.joint.sizes, self.joint.unit)

    @property
    def corner_left(self) -> CornerLeft | None:
        """What stays in the corners of sockets that a dovetail bit cuts lying flat; None where none does."""
        way = self.pins
        if way is None or not way.undercut or way.bit is None or way.clearing is None:
            return None
        return corner_left(self.layout, way.bit, way.clearing, self.joint.sizes.clearance)

    def pare_lines(self) -> tuple[str, ...]:
        """The hand work that a shaving left on the walls means, for the sheet; empty where none is left."""
        pare = self.joint.sizes.pare
        if not pare:
            return ()
        left = format_length(pare, self.joint.unit)
        lines = [f"{left} is left on every wall and baseline for the chisel; the rabbet, if any, is cut to size."]
        if self.tails:
            lines.append(
                f"Tails: pare {2 * len(self.layout.tails)} flanks and {counted(len(self.layout.spaces), 'baseline')} "
                "to the lines below."
            )
        count = len(self.layout.tails)
        bottoms = f"the bottoms of {count} sockets" if count > 1 else "the bottom of the socket"
        lines.append(f"Pins: pare {2 * count} flanks and {bottoms} to the lines below.")
        return tuple(lines)


def choose_ways(joint: Dovetail, kit: Kit) -> DovetailChoice:
    """Choose the ways and make the cuts. Nothing is raised: what cannot be cut is a finding of level stop."""
    found = list(_named_bit(joint, kit))
    tails: Way | None = None
    tried: tuple[Way, ...] = ()
    layout = joint.layout
    if not joint.measured:
        tried = ways_of_tails(joint, kit)
        tails = _choose(tried, joint.entry.tails_setup, joint.layout)
        found += _about(joint, "tails", tried, tails, joint.entry.tails_setup)
        if tails:
            layout = tails.layout
            found += _slope_change(joint, tails)
    pin_ways = ways_of_pins(joint, layout, kit, tails)
    pins = _choose(pin_ways, joint.entry.pins_setup, layout)
    found += _about(joint, "pins", pin_ways, pins, joint.entry.pins_setup)
    cuts = end_cuts(joint, tails, pins) if pins and (tails or joint.measured) else ()
    findings = tuple(by_gravity((*joint.judged(layout), *found)))
    return DovetailChoice(joint, layout, tails, pins, (*tried, *pin_ways), findings, cuts)


def _choose(ways: tuple[Way, Way], asked: Setup | None, drawn: Layout) -> Way | None:
    """The setup asked for; else upright where it is near the drawing, else flat, else whatever is possible."""
    possible = [way for way in ways if way.possible and asked in (None, way.setup)]
    near = [way for way in possible if abs(max(way.layout.slopes) - max(drawn.slopes)) <= SLOPE_CHANGE]
    return next(iter(near or possible), None)


def _about(
    joint: Dovetail, part: Part, ways: tuple[Way, Way], chosen: Way | None, asked: Setup | None
) -> list[Finding]:
    """Why this way, and why not the others; a stop where there is none, with the setup that would work."""
    found = []
    for way in ways:
        reasons = "; ".join(way.reasons)
        if way is chosen:
            found.append(Finding("note", "dovetail-way", joint.name, f"{part} {way.setup}: {reasons}"))
        elif not way.possible:
            level: Level = "stop" if chosen is None and asked in (None, way.setup) else "note"
            says = f"{part} {way.setup} cannot be cut: {reasons}"
            found.append(Finding(level, "dovetail-way-refused", joint.name, says))
    if chosen is None and (other := next((way for way in ways if way.possible), None)):
        found.append(
            Finding(
                "stop",
                "dovetail-setup",
                joint.name,
                f'{part}_setup = "{asked}" does not work with this kit, but "{other.setup}" would: '
                + "; ".join(other.reasons),
            )
        )
    return found


def _slope_change(joint: Dovetail, tails: Way) -> list[Finding]:
    drawn, made = max(joint.layout.slopes), max(tails.layout.slopes)
    if _written_alike(drawn, made):
        return []
    neck, before = (format_length(layout.tails[0].base_width, joint.unit) for layout in (tails.layout, joint.layout))
    level: Level = "caution" if abs(made - drawn) > VISIBLE else "note"
    return [
        Finding(
            level,
            "dovetail-slope-changed",
            joint.name,
            f"the bit decides the slope: {describe_slope(made)} in both boards and not {describe_slope(drawn)} "
            f"as drawn; the tails are as wide at their ends, and {neck} at the baseline instead of {before}",
        )
    ]


def _written_alike(first: float, second: float) -> bool:
    """Whether two slopes are the same in one of the ways in which they are written, `1:7.12` or `8°`."""
    return format_slope(first) == format_slope(second) or format_angle(first) == format_angle(second)


def _named_bit(joint: Dovetail, kit: Kit) -> list[Finding]:
    """A stop for a bit of a kind that cuts no dovetail."""
    bit = kit.bit(joint.entry.bit) if joint.entry.bit is not None else None
    if bit is None or bit.upright_walls or bit.undercuts:
        return []
    return [
        Finding(
            "stop",
            "dovetail-bit",
            joint.name,
            f"{bit.name} is a {bit.kind} bit; {joint.entry.WHAT} is cut with straight and dovetail bits",
        )
    ]
