"""A socket by template: which dovetail bit goes with which bushing, and whether a straight bit clears it before.

Both bits ride in one opening where they can. An opening T wide lets a bit of diameter d in a bushing B cut T − (B − d)
wide. At its tip the dovetail bit has to cut the bottom of the socket; the straight bit has to stay within the mouth,
which is narrower by 2 · depth · tan α, and keep off its edges. So pairs of one difference B − d do not share an opening
here, as the straight one would cut away the mouth: it has to be of a larger difference, as a thinner bit in the same
bushing is. Derived, from the sums of `template.bushing`. mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.joints.sliding_dovetail.solids import CLEAR_SIDE
from jigcam.template import bushing as sums
from jigcam.template.pairs import NO_PLAY, SLACK
from jigcam.template.stack import COLLAR_SPARE

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.shape import Shape
    from jigcam.kit import Bit, Bushing, Kit, Router

PASSES = 0.2
"""Room all round a part of a bit that turns in a bushing, mm, where no chips go by (common practice, no source)."""
RUN_OUT = 1.5
"""How far the rim of the bit is clear of the board's edge where it goes in and out, mm."""


@dataclass(frozen=True, slots=True)
class SocketPair:
    """A dovetail bit and a bushing that ride a socket. opening: its width. from_below: see `fitted_from_below`.

    drops: whether the bit's tip goes down through the opening; else bit and bushing come in at the open end of it.
    """

    bit: Bit
    bushing: Bushing
    opening: float
    from_below: bool

    @property
    def drops(self) -> bool:
        """Whether the tip goes down through the opening anywhere."""
        return self.bit.diameter + 2.0 * PASSES <= self.opening

    @property
    def beyond_edge(self) -> float:
        """How far the opening goes on over the open edge of the board, so that the bit stands free of it."""
        return self.bit.radius + RUN_OUT + self.bushing.outside / 2.0


@dataclass(frozen=True, slots=True)
class ClearingPair:
    """A straight bit that goes first. opening: that it rides in; cut: how wide it cuts there."""

    bit: Bit
    bushing: Bushing
    opening: float
    cut: float


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


def socket_pairs(shape: Shape, kit: Kit, bits: tuple[Bit, ...]) -> tuple[SocketPair, ...]:
    """Every dovetail bit of these in every bushing of the kit that rides the socket, widest bit first.

    The bottom has to be wider than the bit by the play of the bushing. Raises `Refused` where the kit has no router or
    no sheet stock.
    """
    router, sheet = kit.the_router, kit.the_sheet.thickness
    found = [
        SocketPair(
            bit,
            bushing,
            sums.opening_size(shape.base, bit.diameter, bushing.outside),
            fitted_from_below(bit, bushing),
        )
        for bit in bits
        for bushing in kit.bushings
        if bit.undercuts
        and router.takes(bit)
        and sums.play(shape.least_base, bit.diameter) >= NO_PLAY
        and goes_in(bit, bushing, sheet=sheet, depth=shape.depth, router=router)
    ]
    return tuple(sorted(found, key=lambda pair: (-pair.bit.diameter, pair.from_below, pair.bushing.outside)))


def clearing_pair(shape: Shape, kit: Kit, opening: float | None = None) -> ClearingPair | None:
    """The thickest straight bit that clears the socket before, in the bushing that lets it cut most; None without one.

    opening: to ride in; None: one of its own, as wide as gives just what is to be cleared. Raises `Refused` as above.
    """
    router, sheet = kit.the_router, kit.the_sheet.thickness
    widest = min(shape.necks) - 2.0 * CLEAR_SIDE
    found = []
    for bit in kit.bits:
        for bushing in kit.bushings:
            own = sums.opening_size(widest, bit.diameter, bushing.outside)
            cut = sums.cut_size(own if opening is None else opening, bit.diameter, bushing.outside)
            if (
                bit.upright_walls
                and router.takes(bit)
                and bit.cutting_length >= shape.depth - CLEAR_SIDE
                and router.reach(bit) >= sheet + shape.depth - CLEAR_SIDE
                and sums.chip_room(bit, bushing) > SLACK
                and sheet - bushing.collar >= COLLAR_SPARE - SLACK
                and sums.play(cut, bit.diameter) >= NO_PLAY
                and cut <= widest + SLACK
            ):
                found.append(ClearingPair(bit, bushing, own if opening is None else opening, cut))
    return max(found, key=lambda each: (each.bit.diameter, each.cut, -each.bushing.outside), default=None)
