"""The four ways to cut a dovetailed corner on a machine, each judged by what the kit has and holds.

Tails upright: a dovetail bit runs across the end, and its angle becomes the slope. Tails flat: a straight bit, any
slope, fillets at the baseline. Pins upright: a straight bit, exact; with a lap from the inside face, fillets at the
lap. Pins flat, and not with a lap: a dovetail bit whose angle is their slope, after a straight bit; else, outside face
up, a straight bit in terraces. A way that cannot be cut says why; a
way that can says with which bit and what it costs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from jigcam.dovetails.corners import ROUNDED, corner_reach
from jigcam.dovetails.joint import Dovetail
from jigcam.dovetails.judging import PRACTICE, describe_slope
from jigcam.dovetails.layout import Layout, Strip
from jigcam.dovetails.undercut_pins import OFF_FLOOR, STOCK, WEB, off_the_wall, relief_beyond, wall_runs
from jigcam.job import Board
from jigcam.kit import Bit, Kit, Machine, Want
from jigcam.kit.want import Ability
from jigcam.making.upright import LEAD, SAME, holding_faults
from jigcam.units import format_angle, format_length

Part = Literal["tails", "pins"]
Setup = Literal["upright", "flat"]
Says = Callable[[float], str]

FLANK_ROOM = 0.2
"""What a clearing bit leaves on each flank for the bit that finishes it, at least, mm."""
FLOOR_ROOM = 0.8
"""How much shallower than the baseline a clearing bit stays, mm (common practice, no source)."""
MOST_CORNER = 0.75
"""Share of a flank that the corner at its end may take at the most, left round or relieved: the rest is what the boards
hold each other by, and what their fit is judged by (common practice, no source)."""
MOST_RELIEVED, MOST_ROUNDED = 0.8, 0.9
"""The same of corners at both ends together; more where they are left round, as the chisel takes them later (common
practice, no source)."""
SLOPE_CHANGE = math.radians(2.0)
"""A bit whose angle is further from the drawing's is only used where its setup was asked for."""


@dataclass(frozen=True, slots=True)
class Way:
    """One part in one setup.

    bit: that finishes the walls, or None where the part cannot be cut in this way. clearing: the straight bit that goes
    first where `bit` is a dovetail bit, if one fits. layout: that this way makes. reasons: sentences, why it was
    refused, or what decided it.
    """

    part: Part
    setup: Setup
    bit: Bit | None
    clearing: Bit | None
    layout: Layout
    reasons: tuple[str, ...]

    @property
    def undercut(self) -> bool:
        """Whether pins lie flat and a dovetail bit cuts their walls."""
        return self.part == "pins" and self.setup == "flat" and self.bit is not None and self.bit.undercuts

    @property
    def possible(self) -> bool:
        """Whether the kit can cut it so."""
        return self.bit is not None


def ways_of_tails(joint: Dovetail, kit: Kit) -> tuple[Way, Way]:
    """Tails upright and tails flat."""
    return _tails_upright(joint, kit), _tails_flat(joint, kit)


def ways_of_pins(joint: Dovetail, layout: Layout, kit: Kit, tails: Way | None = None) -> tuple[Way, Way]:
    """Pins upright and pins flat, to the layout that the tails have. tails: the way they are cut, where they are."""
    return _pins(joint, layout, kit, "upright", tails), _pins(joint, layout, kit, "flat", tails)


def _tails_upright(joint: Dovetail, kit: Kit) -> Way:
    says, reach = _says(joint), joint.layout.length - joint.sizes.pare
    faults = _holding(kit.the_machine, joint.tail_board, "upright", reach, says)
    passed, reasons = [], []
    for bit in _candidates(kit, joint, "undercuts"):
        fault = _dovetail_fault(bit, joint, kit.the_machine, reach, says)
        if fault:
            reasons.append(f"{bit.name}: {fault}")
        else:
            passed.append(bit)
    if faults or not passed:
        return Way(
            "tails",
            "upright",
            None,
            None,
            joint.layout,
            (*faults, *(reasons or ([] if passed else ["the kit has no dovetail bit"]))),
        )
    drawn = max(joint.layout.slopes)
    bit = min(passed, key=lambda b: (abs(b.angle - drawn), -b.diameter))
    layout = joint.layout.sloped(bit.angle)
    clearing = _clearing_bit(kit, joint, layout, reach)
    reasons = [f"{bit.name} cuts the tails exact, with its own slope of {describe_slope(bit.angle)}"]
    if clearing is None:
        reasons.append("no straight bit of the kit can clear the way for it: it takes its full width and depth at once")
    else:
        reasons.append(f"{clearing.name} clears the way for it")
    return Way("tails", "upright", bit, clearing, layout, tuple(reasons))


def _dovetail_fault(bit: Bit, joint: Dovetail, machine: Machine, reach: float, says: Says) -> str:
    """Why a dovetail bit cannot cut the tails, or ""."""
    lacks = Want("undercuts", machine, edges=reach).lacks(bit)
    if "collet" in lacks:
        return f"no collet of the machine takes its shank of {says(bit.shank)}"
    if "edges" in lacks:
        return f"it cuts {says(bit.cutting_length)} high, and the tails are {says(reach)} long"
    layout = joint.layout.sloped(bit.angle)
    if not layout.ordered:
        return f"with its slope of {describe_slope(bit.angle)} nothing would be left of the tails"
    if bit.angle > PRACTICE.steepest_possible:
        return f"its slope of {describe_slope(bit.angle)} is steeper than 1:2"
    narrowest = _narrowest(_pared_spaces(layout, joint.sizes.pare), reach / layout.length)
    if Want("undercuts", width=narrowest).lacks(bit):
        return (
            f"it is {says(bit.diameter)} at its tip, and the tails are {says(narrowest)} apart at the baseline: "
            "use wider pins or a smaller bit"
        )
    return ""


def _clearing_bit(kit: Kit, joint: Dovetail, layout: Layout, reach: float) -> Bit | None:
    """The widest straight bit that passes between the tails and reaches near their baseline."""
    room = _narrowest(_pared_spaces(layout, joint.sizes.pare), 0.0) - 2.0 * FLANK_ROOM
    fit = Want("upright_walls", kit.the_machine, width=room, edges=reach - FLOOR_ROOM).met_by(kit.bits)
    return max(fit, key=lambda bit: (bit.diameter, bit.cutting_length), default=None)


def _tails_flat(joint: Dovetail, kit: Kit) -> Way:
    says, layout, thickness = _says(joint), joint.layout, joint.tail_board.thickness
    narrowest = _passage(_pared_spaces(layout, joint.sizes.pare), layout.length)
    faults = _holding(kit.the_machine, joint.tail_board, "flat", layout.length, says)
    flank = layout.length - joint.sizes.pare
    bit, reasons = _straight(kit, joint, narrowest, thickness, "the tails", says, flank, _least_at_lap(joint, kit))
    if faults or bit is None:
        return Way("tails", "flat", None, None, layout, (*faults, *reasons))
    corner = "are relieved" if joint.entry.corners == "relieved" else "are left for the chisel"
    return Way(
        "tails",
        "flat",
        bit,
        None,
        layout,
        (
            f"{bit.name} keeps the drawn slope of {describe_slope(max(layout.slopes))}",
            f"corners of radius {says(bit.radius)} at the baseline {corner}",
        ),
    )


def _pins(joint: Dovetail, layout: Layout, kit: Kit, setup: Setup, tails: Way | None) -> Way:
    says, sizes = _says(joint), joint.sizes
    sockets = layout.sockets(sizes.clearance - sizes.pare)
    depth = sizes.pin_length - sizes.pare if setup == "upright" else joint.pin_board.thickness
    along = depth if setup == "upright" else sizes.pin_length
    faults = _holding(kit.the_machine, joint.pin_board, setup, along, says)
    narrowest = _passage(sockets, layout.length) if setup == "upright" else min(s.least_width for s in sockets)
    flank = sizes.pin_length - sizes.pare if setup == "flat" else math.inf
    if sizes.lap:
        flank = layout.length - sizes.pare
    beside = 0.0
    if sizes.lap and tails is not None and tails.setup == "flat" and tails.bit is not None:
        beside = corner_reach(tails.bit.radius, relieved=joint.entry.corners == "relieved")
    bit, reasons = _straight(kit, joint, narrowest, depth, "the pins", says, flank, beside)

    undercut = _pins_undercut(joint, layout, kit) if setup == "flat" and not sizes.lap else None
    if undercut and undercut.possible and not faults:
        return undercut
    not_at_once = undercut.reasons if undercut else ()
    if setup == "flat" and sizes.lap:
        faults.append("its sockets stop at the lap: they are cut from the inside face, with the end up")
    elif setup == "flat" and not sizes.pare and sizes.clearance < joint.scallop:
        faults.append(
            f"its slope would be cut in terraces that leave up to {_fine(joint, joint.scallop)} on a pin, and the "
            f"clearance of {_fine(joint, sizes.clearance)} has no room for them; give a clearance of at least "
            f"{_fine(joint, joint.scallop)}, something to pare, or cut the pins upright"
        )
    if faults or bit is None:
        return Way("pins", setup, None, None, layout, (*faults, *reasons, *not_at_once))
    corner = "are relieved" if joint.entry.corners == "relieved" else "are left for the chisel"
    if setup == "upright":
        reasons = [f"{bit.name} cuts the pins exact"]
        if sizes.lap:
            rounded = joint.entry.corners == "rounded"
            at_lap = "stay, and the tails are rounded to match" if rounded else corner
            reasons.append(f"corners of radius {says(bit.radius)} at the lap {at_lap}")
        return Way("pins", setup, bit, None, layout, tuple(reasons))
    return Way(
        "pins",
        setup,
        bit,
        None,
        layout,
        (
            f"{bit.name} cuts the slope in terraces that leave at most {says(joint.scallop)}",
            f"corners of radius {says(bit.radius)} at the bottom of the sockets {corner}",
            *not_at_once,
        ),
    )


def _pins_undercut(joint: Dovetail, layout: Layout, kit: Kit) -> Way:
    """Pins flat with a dovetail bit, or why none cuts them so."""
    sizes, length = joint.sizes, layout.length
    strips = layout.sockets(sizes.clearance - sizes.pare)
    room = min(strip.least_width for strip in strips) - 2.0 * STOCK
    fit = Want("upright_walls", kit.the_machine, width=room, edges=length - WEB).met_by(kit.bits)
    flank = MOST_CORNER * (sizes.pin_length - sizes.pare)
    straight = max(
        (bit for bit in fit if ROUNDED * bit.radius <= flank),
        key=lambda b: (b.diameter, -b.cutting_length),
        default=None,
    )
    passed, reasons = [], []
    for bit in _candidates(kit, joint, "undercuts"):
        fault = _undercut_fault(bit, joint, layout, strips, kit.the_machine)
        if fault:
            reasons.append(f"{bit.name} cannot cut them in one pass: {fault}")
        else:
            passed.append(bit)
    if straight is None:
        reasons = ["no straight bit of the kit opens the sockets for a dovetail bit"]
    if not passed or straight is None:
        return Way("pins", "flat", None, None, layout, tuple(reasons))
    bit = min(passed, key=lambda b: (round(off_the_wall(strips, b, length), 4), b.diameter))
    return Way(
        "pins",
        "flat",
        bit,
        straight,
        layout,
        (
            f"{bit.name} cuts each wall in one pass with the inside face up, as the sockets widen downward by its own "
            f"slope of {describe_slope(bit.angle)}",
            f"{straight.name} opens them and cuts their floors",
            "a chisel squares the corners at their floors",
        ),
    )


def _undercut_fault(bit: Bit, joint: Dovetail, layout: Layout, strips: tuple[Strip, ...], machine: Machine) -> str:
    """Why a dovetail bit cannot cut the walls of sockets that lie flat, or ""."""
    says, sizes, length = _says(joint), joint.sizes, layout.length
    lacks = Want("undercuts", machine, edges=length).lacks(bit)
    if "collet" in lacks:
        return f"no collet of the machine takes its shank of {says(bit.shank)}"
    if "edges" in lacks:
        return f"it cuts {says(bit.cutting_length)} high, and the board is {says(length)} thick"
    most = joint.scallop if sizes.pare else min(joint.scallop, sizes.clearance)
    off = off_the_wall(strips, bit, length)
    if min(layout.slopes) <= 0.0:
        return "a wall does not slope as it would have to"
    if off > most + SAME:
        slopes = [describe_slope(each) for each in sorted({round(abs(each), 5) for each in layout.slopes})]
        drawn = slopes[0] if len(slopes) == 1 else f"{slopes[0]} to {slopes[-1]}"
        return (
            f"its slope of {describe_slope(bit.angle)} leaves up to {_fine(joint, off)} on walls of {drawn}, and "
            f"the fit bears {_fine(joint, most)}; a drawn slope of {format_angle(bit.angle)} would suit it"
        )
    run = min((each.high - each.low for each in (wall_runs(strip, bit, length) for strip in strips)), default=0.0)
    if run < 0.0:
        return f"it is {says(bit.diameter)} at its tip, and the narrowest socket lacks {says(-run)} for it"
    if joint.entry.corners == "relieved":
        beyond = says(relief_beyond(bit, length))
        return f"relieving a corner over its whole height it would cut {beyond} past the baseline at the outside face"
    if bit.radius + OFF_FLOOR > MOST_CORNER * (sizes.pin_length - sizes.pare):
        return f"it leaves {says(bit.radius)} before the floor of sockets {says(sizes.pin_length)} deep"
    return ""


def _fine(joint: Dovetail, mm: float) -> str:
    return format_length(mm, joint.unit, 3 if joint.unit == "mm" else 4)


def _straight(
    kit: Kit, joint: Dovetail, narrowest: float, depth: float, between: str, says: Says, flank: float, beside: float
) -> tuple[Bit | None, list[str]]:
    """The widest straight bit that passes and reaches, or why none does.

    flank: length of the flanks that end in a corner which the bit leaves round, or relieves; inf where none do.
    beside: what the other board's corners take at their other end, as where tails lie flat and end at a lap.
    """
    relieved = joint.entry.corners == "relieved"
    most, too = MOST_CORNER * flank, ""
    if beside:
        most = min(most, (MOST_RELIEVED if relieved else MOST_ROUNDED) * flank - beside)
        too = f", and the other board's corners at least {says(beside)} at their other end"
    passed, reasons = [], []
    want = Want("upright_walls", kit.the_machine, width=narrowest, edges=depth)
    for bit in _candidates(kit, joint, "upright_walls"):
        lacks = want.lacks(bit)
        if "collet" in lacks:
            reasons.append(f"{bit.name}: no collet of the machine takes its shank of {says(bit.shank)}")
        elif "width" in lacks:
            reasons.append(
                f"{bit.name}: it is {says(bit.diameter)} wide, and {says(narrowest)} is all there is between {between}"
            )
        elif "edges" in lacks:
            reasons.append(f"{bit.name}: it cuts {says(bit.cutting_length)} deep, and {says(depth)} is needed")
        elif (reach := corner_reach(bit.radius, relieved=relieved)) > most:
            reasons.append(
                f"{bit.name}: its {'relieved' if relieved else 'round'} corners take {says(reach)} of flanks that are "
                f"{says(flank)} long{too}; a bit of at most {says(max(0.0, bit.diameter * most / reach))} leaves "
                "some"
            )
        else:
            passed.append(bit)
    if not passed:
        return None, reasons or ["the kit has no straight bit"]
    return max(passed, key=lambda bit: (bit.diameter, -bit.cutting_length)), reasons


def _least_at_lap(joint: Dovetail, kit: Kit) -> float:
    """What the corners of the narrowest bit that could cut the sockets take of a flank at the lap; 0 without one."""
    if not joint.sizes.lap:
        return 0.0
    able = Want("upright_walls", kit.the_machine, edges=joint.sizes.pin_length - joint.sizes.pare).met_by(kit.bits)
    narrowest = min((bit.radius for bit in able), default=0.0)
    return corner_reach(narrowest, relieved=joint.entry.corners == "relieved")


def _candidates(kit: Kit, joint: Dovetail, ability: Ability) -> list[Bit]:
    """Bits of an ability: only the one that the job names, where it names one that has it."""
    bits = Want(ability).met_by(kit.bits)
    named = [bit for bit in bits if bit.name == joint.entry.bit]
    return named or bits


def _holding(machine: Machine, board: Board, setup: Setup, depth: float, says: Says) -> list[str]:
    """Why the machine cannot hold the board, or not reach all of its end; empty where it can.

    depth: along the grain, mm. A long board may overhang the machine: only the moves have to fit its travel.
    """
    if setup == "upright":
        return holding_faults(machine, board, depth, says)
    x, y, z = machine.travel
    wanted = (
        ("y", board.width + 2.0 * LEAD, y),
        ("x", depth + 2.0 * LEAD, x),
        ("z", board.thickness + machine.clear_height, z),
    )
    return [
        f"{board.name} needs {says(need)} of travel in {axis}, and the machine has {says(has)}"
        for axis, need, has in wanted
        if need > has + SAME
    ]


def _pared_spaces(layout: Layout, pare: float) -> Iterable[Strip]:
    return [space.grown(-pare, layout.length) for space in layout.spaces if not space.half]


def _narrowest(strips: Iterable[Strip], share: float) -> float:
    """The least width at a share of the length; infinite where there is no strip, as with a single tail."""
    return min((strip.width_at(share) for strip in strips), default=math.inf)


def _passage(strips: Iterable[Strip], length: float) -> float:
    """The widest bit that goes along either flank of every strip without touching the other, mm."""

    def through(strip: Strip) -> float:
        return strip.least_width * math.cos(max(abs(strip.lower.lean(length)), abs(strip.upper.lean(length))))

    return min((through(strip) for strip in strips), default=math.inf)


def _says(joint: Dovetail) -> Says:
    return lambda mm: format_length(mm, joint.unit)
