"""Routing by hand with a template: the way along each wall, the passes and their settings, the ends, the base.

The bit turns clockwise, seen from above. Inside an opening the router goes clockwise, around a pattern anticlockwise:
the cut pulls the bushing against the wall, which in an opening lies on the left of the way (several makers' manuals;
common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from jigcam.template.advice import LEAST_SUPPORT
from jigcam.template.pairs import LITTLE_PLAY
from jigcam.template.plan import TemplatePlan
from jigcam.units import Voice
from jigcam.units.setting import Known, ToSet
from jigcam.wood.band import at_hand, sides, toward

SHORTEST = 8.0
"""mm; shorter straight walls are part of an end."""


@dataclass(frozen=True, slots=True)
class DepthSetting:
    """One setting of the depth, mm. below: of the bit's tip under the base; depth: of the cut; takes: of wood."""

    below: float
    depth: float
    takes: float


@dataclass(frozen=True, slots=True)
class OpeningWall:
    """A straight wall of the opening. side: where it lies; toward: where the router goes along it; length, mm."""

    side: str
    toward: str
    length: float


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A side of the sheet that ends within the base's reach: a strip at least that wide (mm) carries it there."""

    side: str
    width: float


def passes(plan: TemplatePlan) -> tuple[DepthSetting, ...]:
    """The settings in turn, the last at full depth."""
    depths = plan.stack.passes()
    before = (0.0, *depths[:-1])
    return tuple(DepthSetting(plan.stack.sheet + d, d, d - b) for d, b in zip(depths, before, strict=True))


def walls(plan: TemplatePlan) -> tuple[OpeningWall, ...]:
    """The straight walls of the opening in the order in which a router that goes clockwise meets them."""
    found = []
    for loop in plan.opening.loops:
        back = loop.reversed()  # loops have the inside on their left; clockwise has the wall there
        points, count = back.vertices, len(back.vertices)
        for i in range(count):
            (x, y, bulge), (u, v, _) = points[i], points[(i + 1) % count]
            length = hypot(u - x, v - y)
            if bulge == 0.0 and length >= SHORTEST:
                way = ((u - x) / length, (v - y) / length)
                found.append(
                    OpeningWall(toward(-way[1], way[0], plan.cut.face), toward(*way, plan.cut.face), float(length))
                )
    return tuple(found)


def shortfalls(plan: TemplatePlan, base_radius: float) -> tuple[Shortfall, ...]:
    """Sides of the sheet beyond which the base hangs over somewhere on its ride."""
    ride, sheet = plan.ride.bounds, plan.sheet.bounds
    reach = (ride[0] - sheet[0], sheet[2] - ride[2], ride[1] - sheet[1], sheet[3] - ride[3])
    names = sides(plan.cut.face)
    return tuple(
        Shortfall(name, base_radius - each) for name, each in zip(names, reach, strict=True) if each < base_radius - 0.5
    )


def fitting_line(plan: TemplatePlan) -> str:
    """What goes into the router."""
    return f"Unplug the router; fit {plan.bushing.name} in its base, and {plan.bit.name}, shank well in the collet."


def hand_lines(plan: TemplatePlan, voice: Voice, base_radius: float | None = None) -> list[str]:
    """What to do at the bench, a sentence each, in the order of the work: the router off, then pass by pass.

    base_radius: of the router; None leaves the strips beside it out.
    """
    cut, face = plan.cut, plan.cut.face
    first, *deeper = _settings(plan, voice)
    lines = [*_tried(plan, voice), "Keep one side of the router's base facing the same way all round."]
    lines += [*base_lines(plan, voice, base_radius), first, *_way_in(plan)]
    lines.append("Go clockwise round the opening, seen from above, so that the cut pulls the bushing against the wall:")
    # Both flanks of a waist face the same way, and are said once.
    lines += dict.fromkeys(
        f"  along the wall toward the {way_at_hand(wall.side, face)}, move toward the {way_at_hand(wall.toward, face)}."
        for wall in walls(plan)
    )
    lines += _stops(plan)
    play = cut.width - plan.bit.diameter
    if play > 1e-6:
        lines.append(
            f"The {cut.what} is as wide as drawn only once the bushing has gone along both walls. Follow one wall, and "
            f"come back along the other{', then clear what stands between' if play > cut.width / 2.0 else ''}."
        )
    lines.append("Switch off in the opening, and let the bit stop before lifting it out.")
    for each in deeper:
        lines += ["Unplug the router.", each, "Plug it in, and go in, round and out as before."]
    return lines


def _settings(plan: TemplatePlan, voice: Voice) -> list[ToSet]:
    """The depth to set for each pass."""
    settings = passes(plan)
    count = len(settings)
    return [
        ToSet(
            f"Pass {number} of {count}: set the bit {voice.rule(each.below)} below the base; it takes "
            f"{voice.length(each.takes)} and leaves the {plan.cut.what} {voice.rule(each.depth)} deep.",
            f"pass {number} of {count}: bit below the base",
            voice.rule(each.below),
        )
        for number, each in enumerate(settings, 1)
    ]


def _tried(plan: TemplatePlan, voice: Voice) -> list[str]:
    """The bushing led round the opening before anything turns."""
    play = plan.cut.width - plan.bit.diameter
    has = f", with {voice.length(play)} of play in the opening, which is so much wider than it" if play > 1e-6 else ""
    lines = [
        "The router unplugged and its bit drawn up clear of the board, lead the bushing all round the opening: "
        f"it slides everywhere{has}."
    ]
    if 1e-6 < play < LITTLE_PLAY:
        lines.append(
            "Caution: that is little play, and chips or a swollen sheet take it up, so that the bushing binds: keep "
            "both free of chips, and do not force it."
        )
    return lines


def way_at_hand(name: str, face: str) -> str:
    """A direction as `toward` says it, with the hand at which its end is."""
    across, joined, along = name.rpartition(" and the ")
    return f"{across}{joined}{at_hand(along, face)}"


def base_lines(plan: TemplatePlan, voice: Voice, base_radius: float | None = None) -> list[str]:
    """Where the base has little under it, and what carries it beyond the sheet; as `hand_lines`."""
    lines = []
    held = plan.support
    if held.fraction < LEAST_SUPPORT:
        lines.append(
            f"At the worst place, with the bushing {voice.about(held.x)} along the grain and {voice.about(held.y)} "
            f"from the lower edge, {held.fraction:.0%} of the base rests on the sheet: press on that side."
        )
    for short in shortfalls(plan, base_radius) if base_radius else ():
        lines.append(
            f"Beyond the sheet's edge toward the {short.side} lay a strip as thick as the sheet, at least "
            f"{voice.at_least(short.width)} wide, for the base."
        )
    return lines


def _way_in(plan: TemplatePlan) -> list[str]:
    """How to get in, and out at an open end."""
    cut = plan.cut
    if cut.open_start or cut.open_finish:
        return [
            "Look first, with the router off and the bushing at the opening's end, beyond the open end of the cut: "
            "where the bit is clear of board and strips there, start it there and go in; where it stands partly over "
            f"wood, do not start it at depth: {_let_down(plan)}. Run out over the edge slowly, with a block behind it "
            "against breaking out."
        ]
    fixed = (
        "That takes a router whose base plunges: with a fixed base bore or chop room there first, to the depth and "
        "inside the lines, in which the bit turns free, and start in it."
    )
    if plan.bit.plunges:
        return [f"Lower the running bit into the middle of the opening, straight down, and move at once. {fixed}"]
    return [f"{plan.bit.name} does not cut at its centre: lower it while moving along the opening. {fixed}"]


def _let_down(plan: TemplatePlan) -> str:
    """How the running bit gets to its depth at an open end where it stands partly over wood."""
    if plan.bit.undercuts:
        return (
            "clear the wood under it first, by hand or with a straight bit and inside the lines, to the depth; "
            f"{plan.bit.name} is never lowered into wood, nor lifted out of its cut"
        )
    how = "lower it running there" if plan.bit.plunges else "lower it running there while moving along the opening"
    return f"{how}, which takes a router whose base plunges, or cut room for it there by hand first"


def _stops(plan: TemplatePlan) -> list[str]:
    """Where the opening itself stops the bushing."""
    cut = plan.cut
    stopped = [end for end, is_open in (("start", cut.open_start), ("finish", cut.open_finish)) if not is_open]
    if not stopped:
        return []
    ends = f"the {cut.what}'s {' and '.join(stopped)}"
    where = ends if cut.what in ("groove", "socket") else f"both ends of the {cut.what}"
    return [Known(f"The opening itself is the stop at {where}: the bushing comes to rest there.")]
