"""A ride as the page plays it: the router goes round in the opening as the file mills it, once for each hand.

The way is the page's own, one of many that a hand may take: pass by pass at the depths of the setup sheet, each from
the inside out and then along the walls, clockwise as seen from above, which has the wall on the left.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.characters import one_line
from jigcam.geometry import Path, Region, identity, intersection, mirror_x, offset, rectangle
from jigcam.making.template import milled_opening
from jigcam.player.film import proof_of, stock_of, title_block, tool_of
from jigcam.player.numbers import TURNS, column, loops_of, plain, runs
from jigcam.player.sections import sections_of
from jigcam.player.strokes import WAY_AIR, WAY_CUT
from jigcam.proof import CrossSection, Removal, Ride, Stock, Target, ride
from jigcam.proof.envelope import Envelope
from jigcam.proof.strokes import Strokes
from jigcam.template.hand import DepthSetting, passes
from jigcam.units import Voice
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.kit import Kit
    from jigcam.making.made_joint import MadeJoint
    from jigcam.template import TemplatePlan

BESIDE = 0.45
"""Distance of the ways inside an opening from each other, of the bit's diameter: no rib stands between two."""
BY_HAND = 1500.0
"""How fast a hand is shown to go, mm/min (a picture's pace, no setting)."""
ABOVE = 3.0
"""How far the bit is shown above the board between passes, mm."""
STRAIGHT = 9
"""Places looked at along a way from one round to the next."""


def rides_of(joint: MadeJoint, kit: Kit, voice: Voice) -> Iterator[dict[str, Any]]:
    """The rides of a joint, or of all joints of a sheet; none where no template is milled. mm and rad, face frame."""
    if not joint.files:
        return
    for plan in joint.plan.templates:
        opening = milled_opening(plan, joint.files, joint.texts, kit)
        for turned in (False, True) if _turned_over(joint, plan) else (False,):
            yield _ride_film(plan, opening, turned, kit, voice)


def _turned_over(joint: MadeJoint, plan: TemplatePlan) -> bool:
    """Whether the sheet is turned over for the opposite hand of a cut."""
    guides = [
        setup.facts.get("guides", {}).get(plan.cut.joint, setup.facts.get("guide", {})) for setup in joint.plan.setups
    ]
    return any("turned_over_for_opposite_hand" in guide for guide in guides)


def _ride_film(plan: TemplatePlan, opening: Region, turned: bool, kit: Kit, voice: Voice) -> dict[str, Any]:
    cut, board = plan.cut, plan.cut.board
    matrix = mirror_x(board.length) if turned else identity()
    milled, face = opening.transformed(matrix), rectangle(0.0, 0.0, board.length, board.width)
    drawn = cut.solid.section(0.0).transformed(matrix)
    found = ride(
        milled,
        plan.bushing.outside,
        plan.bit.diameter,
        drawn,
        face,
        milled_with=plan.cutter.diameter if plan.cutter else 0.0,
        depth=cut.solid.depth,
        where=cut.joint,
        units=voice.units,
    )
    stock = Stock(0.0, 0.0, board.length, board.width, board.thickness)
    target = Target(stock, (Removal.prism(cut.what, drawn, cut.solid.depth),))
    heights, drawings = sections_of(target, _RiddenGround(intersection(found.cut, face), cut.solid.depth).at)
    settings = passes(plan)
    steps = [
        "The bushing rides the opening as its file mills it, clockwise seen from above.",
        *(f"Pass {number}: {_setting(each, voice)}." for number, each in enumerate(settings, start=1)),
    ]
    count = len(settings)
    hand = "opposite" if turned else cut.hand
    up = f"{'marked' if turned else 'unmarked'} face on the board"
    facts = [
        ("by hand", f"the router in the template: {cut.joint}"),
        ("board", f"{board.name}, {cut.side}"),
        ("hand", f"{hand}{', the sheet turned over' if turned else ''}"),
        ("sheet", up),
        ("bushing", f"{plan.bushing.name}, {voice.rule(plan.bushing.outside)} outside"),
        ("depth", f"{voice.rule(cut.solid.depth)} in {count} pass{'es' if count > 1 else ''}"),
        ("moved", f"the sheet serves {len(plan.steps)} cuts; the first is shown" if len(plan.steps) > 1 else ""),
        ("view", "seen from above, through the sheet, looking square at the board"),
    ]
    return {
        "kind": "ride",
        "name": f"{cut.joint}: by hand in the template, {hand}",
        "facts": title_block(facts),
        "stock": stock_of(stock),
        "text": "\n".join(map(one_line, steps)),
        "strokes": _way(found, plan.bit.diameter, [each.depth for each in settings]),
        "tools": {"1": tool_of(Envelope(plan.bit))},
        "rapid": BY_HAND,
        "heights": heights,
        "drawings": drawings,
        "marks": [],
        "keepOuts": [],
        "bushing": {"radius": plain(plan.bushing.outside / 2.0), "collar": plain(plan.bushing.collar)},
        "base": plain(kit.the_router.base_radius),
        "sheet": {
            "outline": loops_of(plan.sheet.transformed(matrix)),
            "opening": loops_of(milled),
            "thick": plain(plan.stack.sheet),
        },
        "proof": proof_of(found.gouge_mm, found.left_mm, cut.solid.depth, found.left_for_chisel),
    }


@dataclass(frozen=True)
class _RiddenGround:
    """What a ride takes of a board: the same region at all heights down to its depth, mm."""

    region: Region
    depth: float

    def at(self, z: float) -> CrossSection:
        """What is gone at height z."""
        if z < -self.depth:
            return CrossSection(z, 0.0, 0.0)
        return CrossSection(z, self.region.area, self.region.length)


def _setting(setting: DepthSetting, voice: Voice) -> str:
    return f"bit {voice.rule(setting.below)} below the base, {voice.rule(setting.depth)} deep"


def _way(found: Ride, bit: float, depths: Sequence[float]) -> dict[str, Any]:
    """The way of the bushing's centre as columns for the page. bit: its diameter, mm; depths: of the passes."""
    rounds = _rounds(found.centres, BESIDE * bit)
    way = _HandWay()
    for number, depth in enumerate(depths, start=1):
        way.step = 1 + number
        for loop in rounds:
            if way.at is None or way.z > 0.0 or not _clear(found.centres, way.at, loop.start):
                way.to(ABOVE)
                way.go(loop.start, WAY_AIR)
                way.to(-depth)
            else:
                way.go(loop.start, WAY_CUT)
            way.round(loop)
        way.to(ABOVE)
    return way.columns()


def _rounds(centres: Region, beside: float) -> list[Path]:
    """The rounds of one pass, from the inside out, each clockwise; the last runs along the walls."""
    found: list[Path] = []
    ground = centres
    while not ground.is_empty:
        found = [loop.reversed() for loop in ground.loops] + found
        ground = offset(ground, -beside)
    return found


def _clear(centres: Region, start: tuple[float, float], end: tuple[float, float]) -> bool:
    """Whether the bushing can go straight from one place to another within the opening."""
    share = np.linspace(0.0, 1.0, STRAIGHT)[1:-1, None]
    places = (1.0 - share) * np.array(start) + share * np.array(end)
    return bool((centres.signed_distance(places) >= 0.0).all())


class _HandWay:
    """Strokes one after the other: x0, y0, x1, y1, bulge, z0, z1, how each goes, and the step that it belongs to."""

    def __init__(self) -> None:
        self.at: tuple[float, float] | None = None
        self.z = ABOVE
        self.step = 1
        self._rows: list[tuple[float, ...]] = []

    def to(self, z: float) -> None:
        """Straight up or down."""
        if self.at is not None and z != self.z:
            self._rows.append((*self.at, *self.at, 0.0, self.z, z, WAY_CUT if z < self.z else WAY_AIR, self.step))
        self.z = z

    def go(self, place: tuple[float, float], how: int) -> None:
        """Straight across."""
        if self.at is not None and place != self.at:
            self._rows.append((*self.at, *place, 0.0, self.z, self.z, how, self.step))
        self.at = place

    def round(self, loop: Path) -> None:
        """Along a loop, from its start to its start."""
        self._rows += [(*row, self.z, self.z, WAY_CUT, self.step) for row in loop.segments().tolist()]
        self.at = loop.end

    def columns(self) -> dict[str, Any]:
        """As `strokes_of` has them."""
        rows = np.array(self._rows, float).reshape(-1, 9)
        strokes = Strokes.of_rows(rows[:, :5])
        first = [[0, *column(rows[0, [0, 1, 5]])]] if len(rows) else []
        return {
            "x": column(rows[:, 2]),
            "y": column(rows[:, 3]),
            "z": column(rows[:, 6]),
            "starts": first,
            "arcs": [
                [int(k), plain(strokes.centre[k, 0]), plain(strokes.centre[k, 1]), plain(strokes.sweep[k], TURNS)]
                for k in np.flatnonzero(strokes.arc)
            ],
            "line": runs(rows[:, 8]),
            "way": "".join(str(int(how)) for how in rows[:, 7]),
            "feed": [[0, BY_HAND]],
            "tool": [[0, 1]],
        }
