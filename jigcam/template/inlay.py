"""Recess and plug from one opening, and parts around a pattern: what bit and bushing leave, as exact regions.

For an opening T, a bit d and a bushing B: within T the bushing's centre goes over T ⊖ disc(B/2), and the bit cuts that
⊕ disc(d/2): the recess. Riding along the same wall to leave a plug standing inside, the bit's inner edge is
(B + d)/2 from the wall: the plug is T ⊖ disc((B + d)/2). Recess by B₁ and plug by B₂ are alike where B₁ − B₂ = 2d; what
is lacking is the gap between them. The tightest corner of T is B₁/2, of the recess d/2, and of the plug B₁/2 − (B₂ +
d)/2 = d/2; a corner of T that points inward leaves both rounded at (B₁ − d)/2. Around a pattern P the part is P ⊕
disc(o). All derived; mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product

from jigcam.geometry import Region, offset
from jigcam.kit import Bit, Bushing, Kit
from jigcam.template import bushing as sums
from jigcam.template.pairs import Need, Pair, Verdict, judge
from jigcam.values import dataclass

PROUD = 1.0
"""The plug is cut this much deeper than its recess, mm, so that it stands proud and is planed flush."""
FIT = 0.15
"""A gap further than this from the wanted clearance is no fit, mm."""


def recess_in(opening: Region, bit: float, bushing: float) -> Region:
    """All that a bit in a bushing cuts within an opening."""
    return offset(offset(opening, -bushing / 2.0), bit / 2.0)


def plug_in(opening: Region, bit: float, bushing: float) -> Region:
    """What stands within the path of a bit whose bushing follows the wall of an opening all round."""
    return offset(opening, -(bushing + bit) / 2.0)


def pattern_for(part: Region, bit: float, bushing: float) -> Region:
    """The pattern around which bit and bushing leave a part: the part less the offset."""
    return offset(part, -sums.offset(bit, bushing))


def part_around(pattern: Region, bit: float, bushing: float) -> Region:
    """The part that bit and bushing leave around a pattern; sharp corners of the pattern come out rounded at o."""
    return offset(offset(pattern, bushing / 2.0), -bit / 2.0)


@dataclass(frozen=True, slots=True)
class Inlay:
    """One bit with two bushings: the pair that cuts the recess, and the one that leaves the plug."""

    recess: Pair
    plug: Pair

    @property
    def gap(self) -> float:
        """Recess less plug across, mm, by the true differences where they were measured; negative is interference.

        Recess T − (B₁ − d), plug T − (B₂ + d) = T − (B₂ − d) − 2d.
        """
        return 2.0 * self.plug.bit.diameter + self.plug.difference - self.recess.difference

    def __str__(self) -> str:
        return f"{self.recess.bit.name}: recess with {self.recess.bushing.name}, plug with {self.plug.bushing.name}"


@dataclass(frozen=True, slots=True)
class InlayVerdict:
    """What an inlay's tools would do: verdicts of recess and plug; off: the gap less the one that is wanted, mm."""

    inlay: Inlay
    recess: Verdict
    plug: Verdict
    off: float

    @property
    def ok(self) -> bool:
        """Whether nothing stops either, and the gap fits."""
        return self.recess.ok and self.plug.ok and abs(self.off) <= FIT

    @property
    def reason(self) -> str:
        """The first reason why not, or ""."""
        return next((f.says for verdict in (self.recess, self.plug) for f in verdict.findings if f.level == "stop"), "")


def rank_inlays(
    kit: Kit,
    need: Need,
    clearance: float,
    *,
    bits: Iterable[Bit] | None = None,
    recess: Iterable[Bushing] | None = None,
    plug: Iterable[Bushing] | None = None,
) -> tuple[InlayVerdict, ...]:
    """Every bit with two bushings whose gap comes within `FIT` of the clearance, judged for a recess; best first.

    need: of the recess, its width that of its narrowest place. bits, recess, plug: only these; None: all of the kit.
    """
    deeper = Need(need.width, need.depth + PROUD, voice=need.voice, what="cut around the key")
    found = []
    straight = [bit for bit in (kit.bits if bits is None else bits) if bit.upright_walls]
    for bit, first, second in product(
        straight, kit.bushings if recess is None else recess, kit.bushings if plug is None else plug
    ):
        inlay = Inlay(Pair.of(bit, first, kit), Pair.of(bit, second, kit))
        off = inlay.gap - clearance
        if first.outside > second.outside and abs(off) <= FIT:
            verdict = InlayVerdict(inlay, judge(inlay.recess, kit, need), judge(inlay.plug, kit, deeper), off)
            found.append(verdict)

    def rank(each: InlayVerdict) -> tuple[bool, float, int, float, float, str]:
        cautions = len(each.recess.findings) + len(each.plug.findings)
        pair = each.inlay.recess
        return not each.ok, round(abs(each.off), 2), cautions, -pair.bit.diameter, pair.offset, str(each.inlay)

    return tuple(sorted(found, key=rank))
