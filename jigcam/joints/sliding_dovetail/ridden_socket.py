"""A socket as a router cuts it in a template: both bushings ride the openings as milled, from the text of their file.

A dovetail bit whose bushing rides an opening cuts, at every height above its tip, what discs of its radius there about
the bushing's centres cover. At all heights together that is the socket, which is compared with the drawing, and into
which the tail is put. The straight bit before it has to stay within the mouth. Frame: of the face, mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, rectangle
from jigcam.joints.sliding_dovetail.solids import Socket
from jigcam.proof import Corner, Ride, ride
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Bit, Bushing, Kit
    from jigcam.units import Voice

HEIGHTS = (0.0, 0.5, 1.0)
"""Heights above the bottom at which the socket is compared with its drawing, in its depths: between them flanks of bit
and drawing are straight."""


@dataclass(frozen=True)
class RiddenSocket:
    """What a dovetail bit cuts, its bushing's centre anywhere in `centres`. matrix: 3×4, from a frame that is shared to
    that of the face. depth: of its tip below the face."""

    centres: Region
    bit: Bit
    depth: float
    matrix: np.ndarray

    def gone(self, points: np.ndarray) -> np.ndarray:
        """(k,) whether the wood at points (k, 3) of the shared frame is cut away."""
        placed = points @ self.matrix[:, :3].T + self.matrix[:, 3]
        high = placed[:, 2] + self.depth
        within = (high >= 0.0) & (placed[:, 2] <= 0.0)
        gone = np.zeros(len(points), bool)
        if within.any():
            radii = self.bit.radius_at(high[within])
            gone[within] = self.centres.signed_distance(placed[within, :2]) > -radii
        return gone


@dataclass(frozen=True)
class SocketRides:
    """The rides of a socket. flanks: of the dovetail bit, from the bottom up; before: of the straight bit, if any."""

    flanks: tuple[Ride, ...]
    before: Ride | None
    findings: tuple[Finding, ...]

    @property
    def gouge(self) -> float:
        """Deepest bite of either bit beyond the drawing, mm."""
        return float(max(each.gouge_mm for each in (*self.flanks, *((self.before,) if self.before else ()))))

    @property
    def left(self) -> float:
        """Thickest wood that the dovetail bit leaves, mm."""
        return max(each.left_mm for each in self.flanks)

    @property
    def corners(self) -> tuple[Corner, ...]:
        """Left for the chisel at the bottom."""
        return self.flanks[0].left_for_chisel


def ride_socket(
    joint: SlidingDovetail,
    opening: Region,
    dovetail: tuple[Bit, Bushing],
    straight: tuple[Region, Bit, Bushing] | None,
    kit: Kit,
    voice: Voice,
    *,
    milled_with: float,
) -> SocketRides:
    """Both bits in their openings as milled, laid on the board. opening: of the dovetail bit; straight: the opening of
    the bit that goes first, with its bit and bushing. milled_with: the bit that milled them, mm."""
    shape, board = joint.shape, rectangle(0.0, 0.0, joint.board.length, joint.board.width)
    bit, bushing = dovetail
    off = kit.the_router.eccentricity or 0.0
    must = Socket(shape, joint.band, round_to=bit.radius)
    flanks = []
    for share in HEIGHTS:
        height = share * shape.depth
        flanks.append(
            ride(
                opening,
                bushing.outside,
                2.0 * float(bit.radius_at(height)),
                must.section(height - shape.depth),
                board,
                centreline=_middle(joint),
                eccentricity=off,
                milled_with=milled_with,
                depth=shape.depth - height,
                where=f"{joint.name}, dovetail bit {voice.length(height)} above the bottom",
                units=voice.units,
            )
        )
    before = None
    if straight is not None:
        region, its, leads = straight
        where = f"{joint.name}, straight bit in the mouth"
        mouth = must.section(0.0)
        before = ride(
            region, leads.outside, its.diameter, mouth, board, eccentricity=off, where=where, units=voice.units
        )
    said: list[Finding] = [finding for each in flanks for finding in each.findings]
    if before is not None:
        # What the straight bit leaves is for the dovetail bit.
        said += [each for each in before.findings if each.rule in ("ride-gouge", "bushing-does-not-pass")]
    return SocketRides(tuple(flanks), before, tuple(_once(said)))


def _middle(joint: SlidingDovetail) -> Path:
    """The line half way between the flanks at the bottom, from end to end."""
    shape, ends = joint.shape, joint.on_board
    low, high = shape.low(0.0), shape.high(0.0)
    return Path.through([joint.band.at(s, (low.at(s) + high.at(s)) / 2.0) for s in ends])


def _once(findings: Sequence[Finding]) -> list[Finding]:
    """The first of those that say the same at other heights."""
    seen: dict[tuple[str, str], Finding] = {}
    for each in findings:
        seen.setdefault((each.rule, each.says), each)
    return list(seen.values())
