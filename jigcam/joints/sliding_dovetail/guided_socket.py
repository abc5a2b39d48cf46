"""A socket by template: which dovetail bit goes with which bushing, and which straight bit clears it before.

Both bits ride in one opening where they can. An opening T wide lets a bit of diameter d in a bushing B cut T − (B − d)
wide. At its tip the dovetail bit has to cut the bottom of the socket; the straight bit has to stay within the mouth,
which is narrower by 2 · depth · tan α, and keep off its edges. So pairs of one difference B − d do not share an opening
here, as the straight one would cut away the mouth: it has to be of a larger difference, as a thinner bit in the same
bushing is. Derived, from the sums of `template.bushing`. mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import degrees
from typing import TYPE_CHECKING

from jigcam.joints.sliding_dovetail.choice import OTHER_ANGLE
from jigcam.joints.sliding_dovetail.solids import CLEAR_SIDE
from jigcam.template import bushing as sums
from jigcam.template.pairs import NO_PLAY, SLACK, Pair
from jigcam.template.stack import COLLAR_SPARE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.joints.sliding_dovetail.shape import Shape
    from jigcam.kit import Bit, Bushing, Kit, Router
    from jigcam.units import Voice

PASSES = 0.2
"""Room all round a part of a bit that turns in a bushing, mm, where no chips go by (common practice, no source)."""
BACKER = 6.0
"""How far the rim of the bit is clear of the board's edge where it hangs before it goes in, mm: room for a slip of
waste that backs the edge (1/4 in: common practice, no source)."""


@dataclass(frozen=True, slots=True)
class SocketPair:
    """A dovetail bit and a bushing that ride a socket. opening: its width where the tail comes in. from_below: see
    `fitted_from_below`.

    drops: whether the bit's tip goes down through the opening; else it could come in only where the sheet is open.
    """

    pair: Pair
    opening: float
    from_below: bool

    @property
    def bit(self) -> Bit:
        """Of the pair."""
        return self.pair.bit

    @property
    def bushing(self) -> Bushing:
        """Of the pair."""
        return self.pair.bushing

    @property
    def drops(self) -> bool:
        """Whether the tip goes down through the opening at the end where it hangs off the board."""
        return self.bit.diameter + 2.0 * PASSES <= self.opening

    @property
    def beyond_edge(self) -> float:
        """How far the socket's bottom has to be carried on over the open edge, so that the bit stands free of it."""
        return self.bit.diameter + BACKER


@dataclass(frozen=True, slots=True)
class ClearingPair:
    """A straight bit that goes first. opening: that it rides in; cut: how wide it cuts there, at the narrow end."""

    pair: Pair
    opening: float
    cut: float

    @property
    def bit(self) -> Bit:
        """Of the pair."""
        return self.pair.bit

    @property
    def bushing(self) -> Bushing:
        """Of the pair."""
        return self.pair.bushing


@dataclass(frozen=True, slots=True)
class SocketTools:
    """What cuts a socket by template. clearing: the straight pair before it, None without one; shared: whether it rides
    in the same opening."""

    socket: SocketPair
    clearing: ClearingPair | None
    shared: bool


def fitted_from_below(bit: Bit, bushing: Bushing) -> bool:
    """Whether the bit has to be put into the collet from below, when the bushing is on: its tip does not pass."""
    return bit.diameter + 2.0 * PASSES > bushing.inside


def goes_in(bit: Bit, bushing: Bushing, *, sheet: float, depth: float, router: Router) -> bool:
    """Whether a dovetail bit turns free in a bushing at its depth: the collar's rim is by neck or shank, not by flanks.

    sheet: thickness of the template. The collar's rim stands sheet − collar above the board, and so depth more above
    the bit's tip; from there on up the bit has to be thinner than the collar is inside.
    """
    rim = depth + sheet - bushing.collar
    if sheet - bushing.collar < COLLAR_SPARE - SLACK or router.reach(bit) < sheet + depth:
        return False
    flanks = 2.0 * float(bit.radius_at(rim)) if rim < bit.cutting_length else 0.0
    return bit.cutting_length >= depth and max(flanks, bit.shank) + 2.0 * PASSES <= bushing.inside


def socket_pairs(
    shape: Shape, kit: Kit, bits: Sequence[Bit], bushings: Sequence[Bushing] | None = None
) -> tuple[SocketPair, ...]:
    """Every dovetail bit of these in every bushing that rides the socket, widest bit first.

    The bottom has to be wider than the bit by the play of the bushing. bushings: only these; None: all of the kit.
    Raises `Refused` where the kit has no router or no sheet stock.
    """
    router, sheet = kit.the_router, kit.the_sheet.thickness
    found = []
    for bit, bushing in product(bits, kit.bushings if bushings is None else bushings):
        if not (bit.undercuts and router.takes(bit)):
            continue
        pair = Pair.of(bit, bushing, kit)
        if sums.play(shape.least_base, pair.bit.diameter) >= NO_PLAY and goes_in(
            bit, bushing, sheet=sheet, depth=shape.depth, router=router
        ):
            opening = sums.opening_size(shape.base, pair.bit.diameter, pair.bushing.outside)
            found.append(SocketPair(pair, opening, fitted_from_below(bit, bushing)))
    return tuple(sorted(found, key=lambda each: (-each.bit.diameter, each.from_below, each.bushing.outside)))


def clearing_pair(shape: Shape, kit: Kit, opening: float | None = None) -> ClearingPair | None:
    """The thickest straight bit that clears the socket before, in the bushing that lets it cut most; None without one.

    opening: to ride in, at its narrow end; None: one of its own, as wide as gives just what is to be cleared. Raises
    `Refused` as above.
    """
    router, sheet = kit.the_router, kit.the_sheet.thickness
    widest = min(shape.necks) - 2.0 * CLEAR_SIDE
    found = []
    for bit, bushing in product(kit.bits, kit.bushings):
        if not (
            bit.upright_walls
            and router.takes(bit)
            and bit.cutting_length >= shape.depth - CLEAR_SIDE
            and router.reach(bit) >= sheet + shape.depth - CLEAR_SIDE
            and sums.chip_room(bit, bushing) > SLACK
            and sheet - bushing.collar >= COLLAR_SPARE - SLACK
        ):
            continue
        pair = Pair.of(bit, bushing, kit)
        d, outside = pair.bit.diameter, pair.bushing.outside
        own = sums.opening_size(widest, d, outside)
        cut = sums.cut_size(own if opening is None else opening, d, outside)
        if sums.play(cut, d) >= NO_PLAY and cut <= widest + SLACK:
            found.append(ClearingPair(pair, own if opening is None else opening, cut))
    return max(found, key=lambda each: (each.bit.diameter, each.cut, -each.bushing.outside), default=None)


def socket_tools(
    joint: SlidingDovetail, kit: Kit, bits: Sequence[Bit], bushings: Sequence[Bushing], *, preclear: bool
) -> SocketTools | None:
    """The bit nearest to the angle drawn; of these one that shares its opening with a straight bit; the widest of them.

    None where nothing rides the socket. Raises `Refused` as `socket_pairs`.
    """
    found: list[tuple[tuple[float | bool, ...], int, SocketPair, ClearingPair | None]] = []
    for pair in socket_pairs(joint.shape, kit, [bit for bit in bits if _angled(bit, joint)], bushings):
        if not pair.drops:
            continue
        off = round(abs(pair.bit.angle - joint.shape.flank), 6) if joint.flank_asked else 0.0
        shape = joint.shape.sloped(pair.bit.angle)
        clearing = clearing_pair(shape, kit, pair.opening - shape.taper) if preclear else None
        rank = (off, preclear and clearing is None, -pair.bit.diameter, pair.from_below, pair.bushing.outside)
        found.append((rank, len(found), pair, clearing))
    if not found:
        return None
    _, _, pair, clearing = min(found, key=lambda each: each[:2])
    if clearing is not None or not preclear:
        return SocketTools(pair, clearing, shared=clearing is not None)
    return SocketTools(pair, clearing_pair(joint.shape.sloped(pair.bit.angle), kit), shared=False)


def _angled(bit: Bit, joint: SlidingDovetail) -> bool:
    return not joint.flank_asked or abs(bit.angle - joint.shape.flank) <= OTHER_ANGLE


def fault_of(bit: Bit, joint: SlidingDovetail, kit: Kit, bushings: Sequence[Bushing], voice: Voice) -> str:
    """Why a dovetail bit rides the socket in none of the bushings. Raises `Refused` as `socket_pairs`."""
    shape, says, router, sheet = joint.shape, voice.length, kit.the_router, kit.the_sheet.thickness
    if not bit.undercuts:
        return f"it is a {bit.kind} bit"
    if not _angled(bit, joint):
        return f"its flank is {degrees(bit.angle):.3g}° and {degrees(shape.flank):.3g}° is drawn"
    if not router.takes(bit):
        return f"no collet of the router takes its shank of {says(bit.shank)}"
    tip = kit.as_measured(bit).diameter
    if sums.play(shape.least_base, tip) < NO_PLAY:
        return f"it is {says(tip)} at its tip and the bottom {says(shape.least_base)} wide, and the bushing wants play"
    if bit.cutting_length < shape.depth:
        return f"its edges are {says(bit.cutting_length)} high and the socket {says(shape.depth)} deep"
    if router.reach(bit) < sheet + shape.depth:
        return (
            f"it reaches {says(router.reach(bit))} below the base, and sheet and socket want "
            f"{says(sheet + shape.depth)}: take a thinner sheet"
        )
    turns = [each for each in bushings if goes_in(bit, each, sheet=sheet, depth=shape.depth, router=router)]
    if not turns:
        return (
            f"it turns free in no bushing whose collar is at least {says(COLLAR_SPARE)} shorter than the sheet: its "
            f"shank is {says(bit.shank)}"
        )
    return (
        f"its tip does not go down through the opening of {' or '.join(each.name for each in turns)}: a bushing that "
        f"is wider outside makes a wider one"
    )
