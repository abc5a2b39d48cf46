"""The plan for bow-tie keys: one template whose opening serves the recesses and, with the smaller bushing, the keys."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.geometry import Region, compose, offset, rotation, translation
from jigcam.job import Board
from jigcam.joints.key.key import Key
from jigcam.kit import Bit, Bushing, Kit
from jigcam.making.handwork import HandWork, Laid, laid_for, work_in
from jigcam.template.hand import DepthSetting, passes
from jigcam.template.inlay import FIT, PROUD, Inlay, InlayVerdict, plug_in, rank_inlays
from jigcam.template.laying import as_move
from jigcam.template.pairs import Need
from jigcam.template.plan import TemplatePlan, plan_template
from jigcam.units import Voice
from jigcam.wood.solid import Prism

STOCK_BEYOND = 10.0
"""How far the key stock is shown to reach beyond the opening, mm: any that carries the sheet will do."""
NOT_WORTH_A_WORD = 0.01
"""A gap this near to the wanted clearance is the wanted one, mm."""


@dataclass(frozen=True, slots=True)
class KeyTemplate:
    """A template for keys, laid for the first of them. plug: the key as it comes out, in the face frame."""

    key: Key
    inlay: Inlay
    template: TemplatePlan
    plug: Region
    findings: tuple[Finding, ...]

    def recesses(self) -> HandWork:
        """Each recess with the larger bushing; the sheet is moved from middle to middle."""
        pair, centres, (x0, y0) = self.inlay.recess, self.key.centres, self.key.centres[0]
        count = len(centres)
        cuts = [
            (
                self.key.cut(pair.bit.diameter, pair.bushing.outside, number),
                as_move(translation(x - x0, y - y0)),
                f"recess {number + 1} of {count}" if count > 1 else "",
                (0, number),
            )
            for number, (x, y) in enumerate(centres)
        ]
        return work_in(self.template, laid_for(self.template, cuts))

    def key_from_stock(self) -> HandWork:
        """A key with the smaller bushing, in stock under the sheet as it lies for the first recess; see `cut-the-key`.

        In the frame of the stock, x along its grain and the key; it reaches beyond the opening all round.
        """
        pair, template = self.inlay.plug, self.template
        turn = rotation(-self.key.angle)
        x0, y0, x1, y1 = offset(template.opening.transformed(turn), STOCK_BEYOND).bounds
        around = offset(self.plug, pair.bit.diameter)
        ring = Region((*around.loops, *(loop.reversed() for loop in self.plug.loops)))
        move = compose(turn, translation(-x0, -y0))
        depth = self.key.depth + PROUD
        stock = Board(name="key stock", length=x1 - x0, width=y1 - y0, thickness=depth + PROUD)
        line = template.cut.centreline.transformed(move)
        cut = replace(
            template.cut, board=stock, face="outside", solid=Prism(ring.transformed(move), depth), centreline=line
        )
        settings = passes(template)
        last = DepthSetting(template.stack.projection + PROUD, depth, PROUD)
        laid = Laid(cut, (*settings, last), as_move(move))
        return HandWork(template, pair.bit, pair.bushing, "key", (laid,), around=True)


def key_template(
    key: Key,
    kit: Kit,
    *,
    bit: Bit | None = None,
    bushing: Bushing | None = None,
    plug: Bushing | None = None,
    voice: Voice | None = None,
) -> KeyTemplate:
    """The template for keys with the tools of a kit.

    bit: for both; bushing: for the recess; plug: for the key; None: chosen from the kit, see `rank_inlays`. Raises
    `Refused`: no tools that serve, or no template; InputError for a bushing that is not of the kit.
    """
    voice = voice or kit.voice
    need = Need(key.waist, key.depth, voice=voice, what="recess")
    ranked = rank_inlays(
        kit,
        need,
        key.clearance,
        bits=[bit] if bit else None,
        recess=[bushing] if bushing else None,
        plug=[plug] if plug else None,
    )
    if not ranked or not ranked[0].ok:
        raise Refused(f"{key.name}: no keys can be cut", [_refusal(key, ranked, kit, voice)])
    best = ranked[0].inlay
    pair = best.recess
    cut = key.cut(pair.bit.diameter, pair.bushing.outside)
    template = plan_template(cut, kit, bit=pair.bit, bushing=kit.bushing(pair.bushing.name), voice=voice)
    said = tuple(_findings(key, ranked[0], ranked[1:], voice))
    # By the true differences: riding with B₂ the bit's inner edge is (B₂ − d)/2 + d from the wall.
    left = plug_in(template.opening, best.plug.bit.diameter, best.plug.bushing.outside)
    return KeyTemplate(key, best, template, left, (*template.findings, *said))


def _refusal(key: Key, ranked: tuple[InlayVerdict, ...], kit: Kit, voice: Voice) -> Finding:
    if ranked:
        says = f"no bit with two bushings of the kit will do; the nearest is {ranked[0].inlay}: {ranked[0].reason}"
        return Finding("stop", "no-inlay", key.name, says)
    straight = [bit for bit in kit.bits if bit.upright_walls]
    if not straight:
        return Finding("stop", "no-inlay", key.name, "the kit has no straight bit, and recess and key want one")
    wants = ", ".join(f"{bit.name} wants {voice.length(2.0 * bit.diameter)}" for bit in straight)
    return Finding(
        "stop",
        "no-inlay",
        key.name,
        "recess and key come from one opening where two bushings differ by two bit diameters (B1 - B2 = 2d, within "
        f"{voice.length(FIT)}), and no two that the kit has, or the job names, do: {wants}",
    )


def _findings(key: Key, best: InlayVerdict, rest: tuple[InlayVerdict, ...], voice: Voice) -> Iterator[Finding]:
    says = voice.length
    inlay = best.inlay
    bit, larger, smaller = inlay.recess.bit, inlay.recess.bushing, inlay.plug.bushing
    others = [each for each in rest if each.ok]
    next_best = f"; next best: {others[0].inlay}" if others else ""
    yield Finding(
        "note",
        "inlay",
        key.name,
        f"{inlay}: B1 - B2 is {says(larger.outside - smaller.outside)}, two bit diameters are "
        f"{says(2.0 * bit.diameter)}{next_best}",
    )
    yield Finding(
        "note",
        "inlay-corners",
        key.name,
        f"the four corners of recess and key come out at a radius of {says(bit.radius)}, half the bit; in the opening "
        f"they have {says(larger.outside / 2.0)}, half the larger bushing; the waist is rounded at "
        f"{says(inlay.recess.offset)}",
    )
    if abs(best.off) > NOT_WORTH_A_WORD:
        tight = inlay.gap < 0.0
        yield Finding(
            "caution" if tight else "note",
            "inlay-gap",
            key.name,
            f"the key comes out {says(abs(inlay.gap))} {'wider' if tight else 'narrower'} than its recess in all, and "
            f"{says(key.clearance)} is wanted: {'pare the key to fit' if tight else 'glue fills it'}",
        )
    yield Finding(
        "note",
        "cut-the-key",
        key.name,
        f"for the keys clamp the template on stock at least {says(key.depth + 2.0 * PROUD)} thick, its grain along the "
        f"key; with {smaller.name} keep the bushing against the wall all round, {says(PROUD)} deeper than the recess, "
        "never inward of the wall, and saw the key off its stock",
    )
    if len(key.centres) > 1:
        places = "; ".join(f"x {says(x)}, y {says(y)}" for x, y in key.centres)
        yield Finding(
            "note",
            "next-key",
            key.name,
            f"the template lies for the first key; lay it for the others by its centreline, middles at {places}",
        )
    if inlay.plug.measured is None and inlay.recess.measured is None:
        yield Finding(
            "note",
            "try-the-key",
            key.name,
            "cut one key and its recess in an offcut first: their gap holds the errors of both bushings and, twice, of "
            "the bit",
        )
