"""Rides as the page plays them: the router in the openings as the file mills them, wherever the sheet is laid.

A film has all that is done on one face of one board of one hand: bit after bit, place after place. Its *stages* say
from which stroke on the sheet lies where, and which bushing rides in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.characters import one_line
from jigcam.geometry import Region, intersection, offset, rectangle, union
from jigcam.making.template import milled_opening
from jigcam.player.film import proof_of, stock_of, title_block, tool_of
from jigcam.player.hand_way import HandWay
from jigcam.player.numbers import column, loops_of, plain
from jigcam.player.sections import sections_of
from jigcam.player.timing import TICKS
from jigcam.proof import Corner, CrossSection, Removal, Stock, Target, around, ride
from jigcam.proof.envelope import Envelope
from jigcam.template.hand import DepthSetting
from jigcam.template.laying import is_turned
from jigcam.units import Voice

if TYPE_CHECKING:
    from jigcam.kit import Bit, Kit
    from jigcam.making.handwork import HandWork, Laid
    from jigcam.making.made_joint import MadeJoint

FLANKS = (0.0, 0.5, 1.0)
"""Heights above the bottom at which a bit that is not straight is compared with the drawing, in depths of the cut:
between them its flanks and those of the drawing are straight."""


def rides_of(joint: MadeJoint, kit: Kit, voice: Voice) -> Iterator[dict[str, Any]]:
    """The rides of a joint, or of all joints of a sheet; none where no template is milled. mm and rad, face frame."""
    works = joint.plan.handwork
    if not any(file.setup.clamping == "template" for file in joint.files):
        return
    openings = [milled_opening(work.template, joint.files, joint.texts, kit) for work in works]
    turns = [_Turn(work, opening, laid) for work, opening in zip(works, openings, strict=True) for laid in work.laid]
    by_site = dict.fromkeys(turn.site for turn in turns)
    for site in by_site:
        here = tuple(turn for turn in turns if turn.site == site)
        yield _Riding(here, joint.joints, tuple(openings), kit, voice).film()


@dataclass(frozen=True)
class _Turn:
    """One opening in one place: what is milled, and how the sheet lies."""

    work: HandWork
    opening: Region
    laid: Laid

    @property
    def site(self) -> tuple[str, str, str, str, bool]:
        """Whose cuts are shown together."""
        cut = self.laid.cut
        joint = cut.joint if not self.work.first else cut.joint.removesuffix(", straight bit")
        return joint.removesuffix(", dovetail bit"), cut.board.name, cut.side, cut.hand, self.work.around

    @property
    def name(self) -> str:
        """What is made there, among the others."""
        return self.laid.name or f"the {self.work.part}"

    @property
    def milled(self) -> Region:
        """The opening where it lies, in the frame of the face."""
        return self.opening.transformed(self.laid.move)


@dataclass
class _Judgement:
    """What the proof finds in all places together, and the ground that is cleared: centre regions with their bits."""

    gouge: float = 0.0
    left: float = 0.0
    corners: list[Corner] = field(default_factory=list)
    cleared: list[tuple[Region, Bit, float, bool]] = field(default_factory=list)


@dataclass(frozen=True)
class _Riding:
    """The film of some turns. joints: of the sheet; openings: all of it, as milled."""

    turns: tuple[_Turn, ...]
    joints: tuple[str, ...]
    openings: tuple[Region, ...]
    kit: Kit
    voice: Voice

    def film(self) -> dict[str, Any]:
        """As `film.film` has it, with sheet and stages."""
        first, board = self.turns[0], self.turns[0].laid.cut.board
        stock = Stock(0.0, 0.0, board.length, board.width, board.thickness)
        found, way, stages = _Judgement(), HandWay(), []
        lines = ["The bushing rides the opening as its file mills it, clockwise seen from above."]
        tools = {bit: number for number, bit in enumerate(dict.fromkeys(turn.work.bit for turn in self.turns), 1)}
        for turn in self.turns:
            centres = self._judged(turn, found)
            stages.append({**self._stage(turn), "from": len(way)})
            lines += self._begun(turn)
            way.tool = tools[turn.work.bit]
            for number, setting in enumerate(turn.laid.settings, start=1):
                lines.append(f"Pass {number}: {_setting(setting, self.voice)}.")
                way.step = len(lines)
                self._passed(way, turn, centres, setting.depth)
        depth = max(turn.laid.cut.solid.depth for turn in self.turns)
        target = Target(stock, tuple(_drawn(turn) for turn in self.turns if not turn.work.first))
        heights, drawings = sections_of(target, _RiddenGround(found, stock).at)
        template, strokes = first.work.template, way.columns()
        return {
            "kind": "ride",
            "name": one_line(self._name()),
            "group": one_line(", ".join(self.joints)),
            "facts": title_block(self._facts(depth)),
            "stock": stock_of(stock),
            "text": "\n".join(map(one_line, lines)),
            "strokes": strokes,
            "tools": {str(number): tool_of(Envelope(bit)) for bit, number in tools.items()},
            "seconds": round(sum(strokes["ticks"]) / TICKS),
            "heights": heights,
            "drawings": drawings,
            "marks": [],
            "keepOuts": [],
            "base": plain(self.kit.the_router.base_radius),
            "sheet": {
                "outline": loops_of(template.sheet),
                "opening": [loop for opening in dict.fromkeys(self.openings) for loop in loops_of(opening)],
                "thick": plain(template.stack.sheet),
            },
            "stages": stages,
            "proof": proof_of(found.gouge, found.left, depth, tuple(found.corners)),
        }

    def _judged(self, turn: _Turn, found: _Judgement) -> Region:
        """Where the bushing's centre goes; `found` gets what the proof says of it."""
        work, cut = turn.work, turn.laid.cut
        bit, bushing, depth = work.bit, work.bushing.outside, cut.solid.depth
        if work.around:
            round_ = around(turn.milled, bushing, bit.diameter, cut.solid.section(0.0))
            found.gouge, found.left = max(found.gouge, round_.gouge_mm), max(found.left, round_.left_mm)
            found.cleared.append((round_.centres, bit, depth, True))
            return round_.centres
        cutter = work.template.cutter
        face = rectangle(0.0, 0.0, cut.board.length, cut.board.width)
        rides = [
            ride(
                turn.milled,
                bushing,
                2.0 * float(bit.radius_at(share * depth)),
                cut.solid.section((share - 1.0) * depth),
                face,
                milled_with=cutter.diameter if cutter else 0.0,
                depth=(1.0 - share) * depth,
                where=cut.joint,
                units=self.voice.units,
            )
            for share in ((0.0,) if bit.upright_walls else FLANKS)
        ]
        found.gouge = max(found.gouge, *(each.gouge_mm for each in rides))
        if not work.first:
            found.left = max(found.left, *(each.left_mm for each in rides))
            found.corners += rides[0].left_for_chisel
        found.cleared.append((rides[0].centres, bit, depth, False))
        return rides[0].centres

    def _passed(self, way: HandWay, turn: _Turn, centres: Region, depth: float) -> None:
        work, board = turn.work, turn.laid.cut.board
        if work.around:
            way.goes_round(centres, depth)
        elif work.bit.undercuts:
            way.undercuts(centres, rectangle(0.0, 0.0, board.length, board.width), work.bit.diameter, depth)
        else:
            way.clears(centres, work.bit.diameter, depth)

    def _stage(self, turn: _Turn) -> dict[str, Any]:
        bushing = turn.work.bushing
        return {
            "name": one_line(turn.name),
            "at": column(np.array(turn.laid.move).T.ravel()),
            "bushing": {"radius": plain(bushing.outside / 2.0), "collar": plain(bushing.collar)},
        }

    def _begun(self, turn: _Turn) -> Iterator[str]:
        """What is done before the passes of a turn."""
        work = turn.work
        if len(self.turns) > 1 or work.around:
            lies = "The sheet lies for" if turn is self.turns[0] else "Next,"
            yield f"{lies} {turn.name}: {work.bit.name} in {work.bushing.name}."
        if work.around:
            yield "Once round with the bushing against the wall: what stands inside is the key. Then it is sawn off."

    def _name(self) -> str:
        """What the film is called in the list of all."""
        joint, board, side, hand, _ = self.turns[0].site
        made = [turn for turn in self.turns if not turn.work.first]
        part = made[0].work.part
        if made[0].work.around:
            return f"{joint}: {part} from stock, by hand in the template"
        many = f"{len(made)} {_several(part)}" if len(made) > 1 else part
        return f"{joint}: {many} in {board}, {side}, by hand in the template, {hand}"

    def _facts(self, depth: float) -> list[tuple[str, str]]:
        turn, voice = self.turns[0], self.voice
        joint, board, side, hand, by_round = turn.site
        turned = [is_turned(each.laid.move) for each in self.turns]
        faces = [f"{'marked' if over else 'unmarked'} face on the board" for over in dict.fromkeys(turned)]
        made = [each for each in self.turns if not each.work.first]
        steps = list(dict.fromkeys(len(each.laid.settings) for each in made))
        passes = f", in {steps[0]} pass{'es' if steps[0] > 1 else ''}" if len(steps) == 1 else ""
        pairs = dict.fromkeys((each.work.bit, each.work.bushing) for each in self.turns)
        place = [
            ("board", f"{board}, {side}"),
            ("hand", f"{hand}{', the sheet turned over' if hand == 'opposite' and turned[0] else ''}"),
        ]
        stock = made[0].laid.cut.board
        grain = f"at least {voice.size(stock.length, stock.width, stock.thickness)}, the grain along the key"
        return [
            ("by hand", f"the router in the template: {joint}"),
            ("makes", _several(made[0].work.part) if len(made) > 1 else made[0].work.part),
            *([("stock", grain)] if by_round else place),
            ("sheet", "; ".join(faces)),
            *(("bushing", f"{b.name}, {voice.rule(b.outside)} outside, with {bit.name}") for bit, b in pairs),
            ("depth", f"{voice.rule(depth)}{passes}"),
            ("places", f"{len(made)}, one after the other: the sheet is moved on" if len(made) > 1 else ""),
            ("view", "seen from above, through the sheet, looking square at the board"),
        ]


@dataclass(frozen=True)
class _RiddenGround:
    """What rides take of a stock, at any height."""

    found: _Judgement
    stock: Stock

    def at(self, z: float) -> CrossSection:
        """What is gone at height z: what the bits cover about the centres of their bushings."""
        parts = []
        for centres, bit, depth, by_round in self.found.cleared:
            reach = float(bit.radius_at(z + depth)) if z >= -depth else 0.0
            if reach <= 0.0 or centres.is_empty:
                continue
            parts.append(_about_edge(centres, reach) if by_round else offset(centres, reach))
        if not parts:
            return CrossSection(z, 0.0, 0.0)
        gone = intersection(union(*parts) if len(parts) > 1 else parts[0], self.stock.region)
        return CrossSection(z, gone.area, gone.length)


def _about_edge(centres: Region, reach: float) -> Region:
    """All within reach of the edge of a region."""
    inside = offset(centres, -reach)
    return Region((*offset(centres, reach).loops, *(loop.reversed() for loop in inside.loops)))


def _several(part: str) -> str:
    """More than one of them."""
    return f"{part}es" if part.endswith("s") else f"{part}s"


def _drawn(turn: _Turn) -> Removal:
    """The cut of a turn as a drawing."""
    cut = turn.laid.cut
    return Removal(turn.name, cut.solid.section, cut.solid.levels(), prismatic=turn.work.bit.upright_walls)


def _setting(setting: DepthSetting, voice: Voice) -> str:
    return f"bit {voice.rule(setting.below)} below the base, {voice.rule(setting.depth)} deep"
