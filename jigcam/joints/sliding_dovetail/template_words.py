"""A socket by template in words: its tools, the way in at the open end, the straight bit, then the dovetail bit."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from jigcam.findings import Finding
from jigcam.joints.sliding_dovetail.guided_socket import BACKER, fitted_from_below
from jigcam.joints.sliding_dovetail.solids import CLEAR_SIDE, Socket
from jigcam.making.blocks import section, table
from jigcam.making.template_words import strip_words
from jigcam.making.words import bit_words, blank_words, bushing_words, finished_rows, router_speed
from jigcam.template import bushing as sums
from jigcam.template.hand import base_lines, hand_lines
from jigcam.template.pair_words import Sums
from jigcam.template.turning import laying_line
from jigcam.units.setting import Known
from jigcam.wood.band import at_hand, sides, toward

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.socket_sheet import SocketSheet
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.template import FenceStrip
    from jigcam.units import Voice

SAID = frozenset({"index-line", "sights", "fence", "stop-block", "screws", "marks-by-hand"})
"""Rules whose findings these words have said."""
HOLE_SPARE = 1.0
"""Room all round the tip of the bit in the hole that is bored for it, mm (common practice, no source)."""


class WayIn(NamedTuple):
    """An open end of the socket, where the dovetail bit goes in and out. Face frame, mm.

    end: of the socket, "start" or "finish". side: of the board beyond which the bit hangs free, in words. beyond: how
    far its axis then is from that side. strip: the name of the strip under the sheet that lies there, or "". place: of
    its axis where the sheet lies as milled.
    """

    end: str
    side: str
    beyond: float
    strip: str
    place: tuple[float, float]


def ways_in(sheet: SocketSheet) -> tuple[WayIn, ...]:
    """The open ends, the one at which the tail comes in first."""
    joint, bit = sheet.joint, sheet.dovetail.bit
    shape, board = joint.shape, joint.board
    stations = Socket(shape, joint.band, over=sheet.tools.socket.beyond_edge).stretch()
    found = []
    for end, station, inward, stopped in (
        ("start", stations[0], 1.0, shape.stopped_start),
        ("finish", stations[1], -1.0, shape.stopped_finish),
    ):
        if stopped:
            continue
        x, y = joint.band.at(station + inward * bit.radius)
        off = (-x, x - board.length, -y, y - board.width)
        side = max(range(4), key=lambda each: off[each])
        in_sheet = x - sheet.step[0], y - sheet.step[1]
        strip = next((name for name, each in sheet.strips if _holds(each, in_sheet)), "")
        found.append(WayIn(end, sides(joint.face)[side], off[side], strip, in_sheet))
    return tuple(sorted(found, key=lambda each: (each.end == "finish") != shape.enters_at_finish))


def _holds(strip: FenceStrip, place: tuple[float, float]) -> bool:
    x0, y0, x1, y1 = strip.box
    return x0 <= place[0] <= x1 and y0 <= place[1] <= y1


def tools_table(sheet: SocketSheet, kit: Kit, voice: Voice) -> list[Block]:
    """What is run in the template, in the order of the work, and its openings."""
    plan, before = sheet.dovetail, sheet.clearing
    rows = [("blank", f"{blank_words(plan.blank, voice, sawn=plan.sawn)}, {kit.the_sheet.material}")]
    rows += finished_rows(plan, voice)
    passes = [("first", before), ("then", plan)] if before is not None else [("bit", plan)]
    for name, each in passes:
        if each is not None:
            rows.append((name, f"{bit_words(each, kit, voice)}, in {bushing_words(each, kit, voice)}"))
            rows.append(
                ("", f"{voice.rule(each.stack.projection)} below the base: {voice.rule(each.stack.depth)} deep")
            )
            rows.append(("", router_speed(each.bit, kit, voice)))
    narrows = ", narrowing as the socket does" if sheet.joint.shape.taper else ""
    own = f"{voice.rule(sheet.tools.socket.opening)} wide{narrows}: the bottom of the socket and two offsets"
    offset = Sums.of(sheet.tools.socket.opening - 2.0 * plan.offset, 2.0 * plan.offset, voice).offset
    rows.append(("opening", f"{own}, {offset} at each wall: (bushing - bit) / 2"))
    if before is not None and sheet.shared is None:
        rows.append(("", "both bits ride in it"))
    elif before is not None:
        wide = voice.rule(before.cut.width + 2.0 * before.offset)
        rows.append(("another", f"{wide} wide for the straight bit; the sheet is moved between the bits"))
    least = min(each.support.fraction for each in (plan, *([before] if before is not None else [])))
    rows.append(("base", f"{100 * least:.0f} % of it rests on the sheet at the worst place"))
    return table("The template for the socket", rows)


def pair_findings(sheet: SocketSheet, voice: Voice, *, preclear: bool) -> list[Finding]:
    """Why these pairs: the dovetail bit's, and that of the straight bit in the same opening or in another."""
    says, shape, name = voice.length, sheet.joint.shape, sheet.joint.name
    pair, before = sheet.tools.socket, sheet.tools.clearing
    play = sums.play(shape.base, pair.bit.diameter)
    text = (
        f"{pair.pair}: the opening is {says(pair.opening)} wide where the tail goes in, and the bushing has "
        f"{says(play)} of play there; of the bits whose angle comes nearest to the drawing it is the widest, and those "
        "that share their opening with a straight bit come before the others"
    )
    found = [Finding("note", "pair", name, text)]
    mouth = min(shape.necks)
    if before is None:
        if preclear:
            text = (
                f"no straight bit of the kit goes through the mouth, {says(mouth)} wide, before the dovetail bit, "
                "which takes its full section at once, so feed it slowly"
            )
            found.append(Finding("caution", "sliding-preclear", name, text))
        return found
    if sheet.tools.shared:
        text = (
            f"{before.pair} goes first, in the same opening, where it cuts {says(before.cut)}: the mouth, "
            f"{says(mouth)} wide, keeps wood at both edges, as bushing and bit differ by "
            f"{says(before.pair.difference)} and those of the dovetail bit by {says(pair.pair.difference)}"
        )
        return [*found, Finding("note", "sliding-preclear", name, text)]
    there = sums.cut_size(pair.opening - shape.taper, before.bit.diameter, before.bushing.outside)
    why = (
        f"in that of the dovetail bit it would cut {says(there)}, and the mouth is {says(mouth)} wide"
        if there > before.cut
        else f"{before.bushing.name} has no play in that of the dovetail bit"
    )
    text = (
        f"{before.pair} goes first, in an opening of its own, where it cuts {says(before.cut)}: {why}, nor does any "
        "other straight bit of the kit share it; the sheet holds the distance of the openings"
    )
    return [*found, Finding("note", "sliding-preclear", name, text)]


def socket_words(sheet: SocketSheet, kit: Kit, voice: Voice, number: int) -> tuple[list[Block], int]:
    """The work up to the finished socket, in headings numbered from `number`, and the number after them."""
    first = sheet.plans[0]
    tried = [each for each in (sheet.clearing, sheet.dovetail) if each is not None]
    lines = strip_words(number, first, voice, sheet.shared, tried)
    number += 1
    lines += section(f"{number}. Make way for the bits where they go in", list(_way_lines(sheet, voice)))
    number += 1
    before, base = sheet.clearing, kit.the_router.base_radius
    if before is not None:
        fit = f"Fit {before.bushing.name} and {before.bit.name}, unplugged."
        how = [laying_line(before, voice, sheet.plans), fit, *hand_lines(before, voice, base)]
        how.append(
            Known(
                f"This leaves {voice.length(CLEAR_SIDE)} or more at the bottom and at both edges of the mouth for the "
                "dovetail bit."
            )
        )
        lines += section(f"{number}. Clear the socket with the straight bit", how)
        number += 1
    lines += section(f"{number}. Cut the socket with the dovetail bit", list(_dovetail_lines(sheet, kit, voice)))
    return lines, number + 1


def _way_lines(sheet: SocketSheet, voice: Voice) -> Iterator[str]:
    """The hole in the strip, or the slip against the edge, at each open end."""
    bit, board = sheet.dovetail.bit, sheet.joint.board
    for way in ways_in(sheet):
        if way.strip:
            yield (
                f"The {way.strip} lies where the bits go in at the {way.end} of the socket. Mark the end of the "
                f"dovetail bit's opening on it, and bore a hole right through it there, at least "
                f"{voice.at_least(bit.diameter + 2.0 * HOLE_SPARE)} across, its middle on the middle of the opening "
                f"and {voice.rule(way.beyond)} from the edge that bears against the board: in it the bit hangs free. "
                f"What stands between the hole and the board backs the {way.side} of {board.name} against breaking "
                "out; both bits cut through it."
            )
        else:
            yield (
                f"At the {way.end} of the socket clamp or tape a slip of waste wood, at most {voice.up_to(BACKER)} "
                f"thick, under the sheet against the {way.side} of {board.name}, flush with its "
                f"{sheet.joint.face} face, against breaking out: both bits cut through it. Nothing else may be "
                f"below the end of the opening, where the dovetail bit hangs free with its axis "
                f"{voice.rule(way.beyond)} from that edge."
            )


def _dovetail_lines(sheet: SocketSheet, kit: Kit, voice: Voice) -> Iterator[str]:
    """Cautions first; then the bit, its depth, and its way."""
    joint, plan, before = sheet.joint, sheet.dovetail, sheet.clearing
    shape, bit = joint.shape, plan.bit
    ways = ways_in(sheet)
    ends = " or ".join(f"the {way.side} of {joint.board.name}, at the {way.end} of the socket" for way in ways)
    yield (
        f"Caution: {bit.name} is wider at its tip than the mouth of the socket. Never lift the router, and never raise "
        "the bit, while it is in the board: it would tear up the mouth, and the template with it."
    )
    yield (
        f"Caution: it goes in and comes out only over {ends}. Switch on where it hangs free beyond that edge, and off "
        "only when it hangs there again; lift it out when it stands still."
    )
    if sheet.shared is not None and before is not None:
        yield _moved_line(sheet, voice)
    elif before is None:
        yield laying_line(plan, voice)
    else:
        yield "The sheet stays where it is, and so do the strips beside it."
    yield from _fitting(sheet, voice)
    yield (
        f"Set its tip {voice.rule(plan.stack.projection)} below the base, {voice.rule(plan.stack.sheet)} of sheet "
        f"and {voice.rule(shape.depth)} of socket, and lock it: the whole depth in one pass. Try it in an offcut of "
        "the same thickness first."
    )
    yield (
        "With the motor off let the bit down through the end of the opening, where it hangs free beyond the edge, and "
        "turn it by hand: it touches nothing."
    )
    yield from _walls(sheet, ways[0])
    if len(ways) == 1:
        stopped = "start" if shape.stopped_start else "finish"
        yield (
            f"The opening itself is the stop at the socket's {stopped}: the bushing comes to rest there, and the bit "
            "leaves as it came in."
        )
    else:
        yield f"At the {ways[1].end} of the socket go on until the bit hangs free beyond the edge, then turn back."
    play = sums.play(shape.base, bit.diameter)
    between = (
        "; what stands between is cut by more ways in and out, beside each other"
        if play > bit.diameter - 2.0 * shape.depth * shape.lean
        else ""
    )
    yield (
        f"The bushing has {voice.length(play)} of play in the opening, which is so much wider than it: follow one wall "
        f"in, and the other out{between}."
    )
    yield "Keep one side of the router's base facing the same way all round."
    yield "Clear the chips out of the socket, and go round once more at the same setting."
    if before is None or sheet.shared is not None:
        yield from base_lines(plan, voice, kit.the_router.base_radius)


def _walls(sheet: SocketSheet, way: WayIn) -> Iterator[str]:
    """In along the wall that lies on the left of the way, and back along the other: clockwise, seen from above."""
    face = sheet.joint.face
    inward = 1.0 if way.end == "start" else -1.0
    x, y = (inward * each for each in sheet.joint.band.along)
    into, back, left, right = (at_hand(toward(*each, face), face) for each in ((x, y), (-x, -y), (-y, x), (y, -x)))
    yield (
        f"Go in, toward the {into}, along the wall of the opening toward the {left}; come back, toward the {back}, "
        f"along the wall toward the {right}: clockwise, seen from above, so that the cut pulls the bushing against the "
        "wall."
    )


def _fitting(sheet: SocketSheet, voice: Voice) -> Iterator[str]:
    """How bit and bushing come together in the router."""
    plan, before = sheet.dovetail, sheet.clearing
    bit, bushing, says = plan.bit, plan.bushing, voice.rule
    stays = before is not None and before.bushing.name == bushing.name
    if fitted_from_below(bit, bushing):
        held = f"{bushing.name} stays in the base" if stays else f"Put {bushing.name} into the base first"
        yield (
            f"Unplug. {held}; then, with the base off the motor, or the motor let down until the collet is within "
            f"reach, put {bit.name} up through the bushing from below, shank first: its tip, {says(bit.diameter)}, "
            f"does not pass the bushing, which is {says(bushing.inside)} inside. To take them out, take the bit out "
            "first, downward; never draw the bit up into the bushing."
        )
        return
    held = f"{bushing.name} stays in the base" if stays else f"Fit {bushing.name}"
    yield (
        f"Unplug. {held}, and fit {bit.name}: its tip, {says(bit.diameter)}, passes the bushing, which is "
        f"{says(bushing.inside)} inside."
    )


def _moved_line(sheet: SocketSheet, voice: Voice) -> str:
    """How the sheet is moved from its place for the straight bit to that for the dovetail bit."""
    plan, (dx, dy) = sheet.dovetail, sheet.step
    size = hypot(dx, dy)
    way = toward(dx / size, dy / size, sheet.joint.face)
    by = [
        f"its line on one drawn {voice.rule(index.distance + (dx, dy)[index.side // 2])} from the "
        f"{sides(sheet.joint.face)[index.side]}"
        for index in plan.indexes
        if (dx, dy)[index.side // 2]
    ]
    kept = [f"the fence stays against the {sides(sheet.joint.face)[plan.fence.side]}"] if plan.fence else []
    return (
        f"Move the sheet {voice.rule(size)} toward the {way} without turning it, so that the other opening lies "
        f"over the socket: {', and '.join([*by, *kept])}; clamp it again."
    )
