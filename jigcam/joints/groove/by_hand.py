"""A groove by hand: its lines on the board, then saw or plough, chisel and router plane, or the router along a
straight-edge."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import degrees
from typing import TYPE_CHECKING

from jigcam.joints.groove.lengthwise import GAUGE, gauged, lengthwise_walls, within
from jigcam.joints.groove.straight_edge import StraightEdge, fitting
from jigcam.joints.groove.walls import along_an_edge, first_wall, lengthwise, mirrored_first_wall, square_to_the_edge
from jigcam.joints.groove.words import groove_words, last_words
from jigcam.making.blocks import rows_words, section
from jigcam.making.plan import Outcome, Plan
from jigcam.units.ruled import marks_worth
from jigcam.units.setting import Known
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.joints.groove.groove import Groove, GroovePlace
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

SAW_ROOM = 40.0
"""mm of a stopped end that are chopped out first, so that the saw has where to go (common practice, no source)."""
NOTHING = 0.005
"""A clearance below this is none: it would be said as 0, mm."""
SAID = frozenset({"round-the-edge", "notch"})
"""Rules whose findings these words have said."""

Point = tuple[float, float]


@dataclass(frozen=True)
class HandGroove(Plan):
    """A groove made by hand. places: as drawn, and all others that are wanted."""

    groove: Groove
    places: tuple[GroovePlace, ...]

    def drawings(self) -> Mapping[str, Drawing]:
        """The groove on its board, for each hand."""
        from jigcam.joints.groove.hand_picture import scene_by_hand

        return {"groove": scene_by_hand(self.groove, self.places, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint."""
        return groove_words(self.groove, self.kit, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """All of the work."""
        return groove_by_hand(self.groove, self.kit, self.voice, number)

    @property
    def routed(self) -> bool:
        """Whether the router along a straight-edge is offered."""
        return StraightEdge.of(self.groove, self.kit) is not None

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return SAID

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Nothing is cut by files, so nothing is measured."""
        return Outcome()


def groove_by_hand(groove: Groove, kit: Kit, voice: Voice, number: int) -> list[Block]:
    """The work at the bench in numbered headings, from `number` on."""
    lines = _mark(groove, voice, number)
    number += 1
    routed = StraightEdge.of(groove, kit)
    # Told before the step that it replaces: who reads on as he works would have cut the walls already.
    either = [
        f"There are two ways to the walls, and one is enough: saw and chisel, this step, or the hand-held router along "
        f"a straight-edge, step {number + 1} in its place."
    ]
    lines += section(
        f"{number}. Cut the walls",
        [*(either if routed is not None else _no_router(groove, kit)), *_walls(groove, voice)],
    )
    number += 1
    if routed is not None:
        title = f"{number}. In place of step {number - 1}: rout it with the hand-held router along a straight-edge"
        each = ["Each groove of the row likewise, from its own lines."] if len(groove.row) > 1 else []
        lines += [*section(title, [*routed.lines(voice), *each]), *rows_words(routed.rows())]
        number += 1
    lines += section(f"{number}. Clear it and try the fit", _clear(groove, voice, routed is not None))
    if groove.both_faces:
        number += 1
        seen = sides(groove.faces[1])
        lines += section(
            f"{number}. The same in the {groove.faces[1]} face, behind",
            [
                f"The {groove.faces[1]} face up and the lower edge toward you: the {seen[0]} is now at your left hand, "
                f"and figures along are still from the {sides(groove.face)[0]}, at your right; carry each wall over "
                f"the edges with a square, so that both faces are marked from the same lines. {_turned(groove)}",
                *_ways_anew(routed),
            ],
        )
        if routed is not None:
            lines += rows_words(routed.mirrored(groove.faces[1]).rows())
    if groove.opposite_hand:
        left, right = sides(groove.face)[:2]
        lines += section(
            f"{number + 1}. The same for the opposite hand, in the mirrored board",
            [
                f"The {groove.face} face up and the lower edge toward you again, the {left} at your left hand: measure "
                f"every figure along the grain from the end at your right hand, the board's {right}, instead of its "
                f"{left}. {_turned(groove)}",
                *_ends_changed(groove),
                *_ways_anew(routed),
            ],
        )
        if routed is not None:
            lines += rows_words(routed.mirrored(groove.face).rows(f"{groove.face} face, " if groove.both_faces else ""))
            if groove.both_faces:
                lines += rows_words(routed.behind(groove.faces[1]).rows(f"{groove.faces[1]} face, "))
        number += 1
    return [*lines, *last_words(groove, kit, voice, number + 1)]


def _turned(groove: Groove) -> str:
    """What the mirrored lines ask of the bevel, and what stays."""
    figures = "igures from the lower edge stay."
    return f"F{figures}" if square_to_the_edge(groove) else f"Turn the bevel over; f{figures}"


def _ways_anew(routed: StraightEdge | None) -> list[str]:
    """That the router's ways are not those of the board, or the face, before: they follow."""
    if routed is None:
        return []
    return ["Routed, the ways are those below, and not those above: the straight-edge is at the left of each again."]


def _ends_changed(groove: Groove) -> Iterator[str]:
    """What the lines above, which name the board's ends, are in the mirrored board."""
    left, right = sides(groove.face)[:2]
    here, there = first_wall(groove), mirrored_first_wall(groove)
    walls = (
        f": the first wall is that to the {there.side}, the second lies toward the {there.waste}, and the waste too"
        if here.side != there.side
        else ""
    )
    yield f"The {right} and the {left} change places in every line above that says where something lies{walls}."
    if groove.both_faces:
        yield f"Then the {groove.faces[1]} face, behind, from the same {right}, which is there at your left hand."


def _no_router(groove: Groove, kit: Kit) -> list[str]:
    """Why no router is offered; nothing where the kit has none, and so nobody waits for it."""
    why = fitting(groove, kit)
    return [Known(f"The hand-held router is no way here: {why}.")] if kit.router and isinstance(why, str) else []


def _mark(groove: Groove, voice: Voice, number: int) -> list[Block]:
    """The lines, and how they are drawn."""
    left = sides(groove.face)[0]
    count = len(groove.row)
    rows: list[tuple[str, str]] = []
    for place_in_row, each in enumerate(groove.row, start=1):
        rows += _marks(each, f"{place_in_row} of {count}, " if count > 1 else "", voice)
    lines = [
        f"Lay the board before you, its {groove.face} face up, the lower edge toward you: the {left} is at your left "
        f"hand. Figures along are from that {left}, figures up from the lower edge. {marks_worth(voice.units)}: boards "
        "that stand opposite get the same figures, so that what lies between them is level.",
        *_both_walls(groove, voice),
    ]
    if runs_out := list(_open_sides(groove)):
        lines.append(
            f"Set a marking gauge to {voice.ruled(groove.depth)}, the depth, and scribe it from the {groove.face} face "
            f"on the {' and the '.join(runs_out)}, where the groove runs out."
        )
    title = f"{number}. Mark the groove{'s, all from the same end' if count > 1 else ''}"
    return [*section(title, lines), *rows_words(rows)]


def _marks(groove: Groove, of: str, voice: Voice) -> Iterator[tuple[str, str]]:
    """What is marked by the rule: the first wall and the ends. of: the groove's number in its row."""

    def place(point: Point) -> str:
        return f"{voice.ruled(point[0])} along, {voice.ruled(point[1])} up"

    wall = first_wall(groove)
    yield (
        f"{of}first wall, to the {wall.side}",
        f"from {place(wall.start)}; to {place(wall.finish)}; waste toward the {wall.waste}",
    )
    for end, point in _stops(groove):
        if groove.ends == "round":
            yield (
                f"{of}{end}, round",
                f"half a circle from wall to wall, its centre half way between them, abreast of the {end} of that line",
            )
            continue
        at = place(point)
        if square_to_the_edge(groove):
            at = f"{voice.ruled(point[0])} along" if along_an_edge(groove) else f"{voice.ruled(point[1])} up"
        yield f"{of}{end} of the groove", f"its extreme end at {at}, square to the walls"


def _both_walls(groove: Groove, voice: Voice) -> Iterator[str]:
    """Both walls marked, one at its figures, the other from it."""
    mate, room = groove.mate.board, groove.mate.clearance
    gap = f"{voice.length(room)} of card or paper" if room >= NOTHING else ""
    by_mate = bool(mate) and room > -NOTHING
    if within(groove, GAUGE):
        apart = f"by {mate} itself{f' and {gap}' if gap else ''}" if by_mate else "by a calliper"
        yield from gauged(groove, apart, voice)
        return
    angle = f"{degrees(groove.band.angle) % 180.0:.4g}"
    tool = f"a bevel set to {angle}° from the lower edge"
    if square_to_the_edge(groove):
        tool = "a straight-edge" if along_an_edge(groove) else "a square"
    yield f"Knife the first wall along {tool}, at its figures below: only this wall is laid out by the rule."
    wide = (
        f"The second wall is {voice.rule(groove.width)} from the first, toward the {first_wall(groove).waste}, and "
        "comes from no figure"
    )
    until = ""
    if stops := [end for end, _ in _stops(groove)]:
        begins = ", where the round begins" if groove.ends == "round" else ""
        until = f", at the stopped {' and '.join(stops)} no further than abreast of the first line's end{begins}"
    clear = f", {gap}, the clearance, between it and the line" if gap else ""
    yield (
        f"{wide}: stand {mate} on the first line{clear}, and knife along its other side{until}."
        if by_mate
        else f"{wide}: plane a strip to that width by a calliper, as a gauge, lay it along the first line, and knife "
        f"along its other side{until}."
    )


def _stops(groove: Groove, inset: float = 0.0) -> Iterator[tuple[str, Point]]:
    """The stopped ends, and where on the centreline they are, `inset` inward of the extreme end."""
    if not groove.open_start:
        yield "start", groove.band.at(inset)
    if not groove.open_finish:
        yield "finish", groove.band.at(groove.length - inset)


def _open_sides(groove: Groove) -> Iterator[str]:
    """The edges and ends of the board at which the groove runs out, by name, that of its start first."""
    names = sides(groove.face)
    span = groove.band.line_span() or (0.0, groove.length)
    for is_open, s in ((groove.open_start, span[0]), (groove.open_finish, span[1])):
        if is_open:
            distances = groove.band.distances([groove.band.at(s)])
            yield names[distances.index(min(distances))]


def _walls(groove: Groove, voice: Voice) -> Iterator[str]:
    stops = [end for end, _ in _stops(groove)]
    depth = voice.ruled(groove.depth)
    between = "on the waste side of its line, between the two, with the line left standing"
    if stops and groove.ends == "round":
        ends = "both ends" if len(stops) == 2 else f"the stopped {stops[0]}"
        yield (
            f"Bore {ends} first, {depth} deep, with a flat-bottomed bit of {voice.up_to(groove.width)} or less, about "
            "the middle of the round; pare the round to its line when the walls stand."
        )
    if lengthwise(groove):
        yield from lengthwise_walls(groove, stops, voice)
        return
    if len(stops) == 2:
        yield (
            f"Both ends are stopped, so no saw runs through: chop along each wall with a wide chisel, bevel toward the "
            f"waste, {between}, and deepen it in shavings to {depth}; a depth gauge, or a rule stood in it, shows it."
        )
        return
    if stops:
        yield (
            f"Chop out the last {voice.about(min(SAW_ROOM, groove.length / 2.0))} at the stopped {stops[0]} first, to "
            "full depth, so that the saw has room there."
        )
    yield (
        f"Clamp a straight batten along each line, and saw each wall {between}, down to the gauge's line where the "
        f"groove runs out, {depth} deep; a strip of tape on the saw shows the depth."
    )


def _clear(groove: Groove, voice: Voice, routed: bool) -> Iterator[str]:
    """How the waste comes out. routed: whether a router may have taken it already."""
    depth = voice.ruled(groove.depth)
    stops = [end for end, _ in _stops(groove)]
    if lengthwise(groove):
        way = "across the grain, with the bevel down"
    elif not stops:
        way = "from each end of the groove toward its middle, so that nothing breaks out where it runs out"
    elif len(stops) == 1:
        way = (
            f"from the open end toward the stopped {stops[0]}; the last of it there comes out back toward the open "
            "end, and nothing is levered against the stopped end"
        )
    else:
        way = (
            "with the bevel down, from the middle toward each stopped end and no further than its line: nothing can be "
            "driven out at the ends, and nothing is levered against them"
        )
    waste = "What waste is left comes out" if lengthwise(groove) else "Chisel the waste out"
    if routed and not lengthwise(groove):
        sawn = "chopped" if len(stops) == 2 else "sawn"
        left = " Routed, it has none left but at its stopped ends." if stops else " Routed, it has none left."
        yield (
            f"If it was {sawn} and not routed, chisel the waste out in thin layers, {way}. Then level the bottom with "
            f"a router plane set to {depth}.{left}"
        )
    else:
        yield f"{waste} in thin layers, {way}. Level the bottom with a router plane set to {depth}."
    if stops and groove.ends != "round":
        yield "Chop the stopped ends square to their line, the last shaving straight down."
    mate = groove.mate
    enters = (
        f"{mate.board}, {voice.rule(mate.thickness)} thick, goes"
        if mate.board
        else f"a strip planed to the groove's width, {voice.rule(groove.width)}, goes"
    )
    yield f"Pare the walls until {enters} in by hand all the way: it may neither drop in nor want a hammer."
