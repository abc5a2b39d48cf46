"""A dovetailed corner as it is laid out: both boards' ends with every line's place, and the corner put together.

Frame of all views but the last: the outside face of the tail board, lower edge down. The end grain of the pin board is
seen the same way, as it meets that end, so that tails and pins stand at the same heights in both.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.dovetails.corner_picture import EndFrame, put_together, seen_on_lower_edges
from jigcam.dovetails.judging import describe_slope
from jigcam.dovetails.solids import FromBehind
from jigcam.drawing.model import Drawing, Item, Label, View
from jigcam.drawing.scenes.board import break_line
from jigcam.geometry import Path, Region, difference, intersection, union
from jigcam.units import format_length

if TYPE_CHECKING:
    from jigcam.dovetails.choice import DovetailChoice
    from jigcam.dovetails.cuts import EndCut
    from jigcam.dovetails.handwork import MarkedLine
    from jigcam.dovetails.layout import Strip
    from jigcam.dovetails.solids import End

TICK = 5.0
"""How far the line of a running figure stands out, mm."""
ROOM = 30.0
"""How much of the tail board is shown past the baseline, mm: room for the figures of the baseline."""
SPECK = 1e-4
"""Areas smaller than this are rounding, mm²."""


def scene_dovetail(plan: DovetailChoice, *, units: str = "mm") -> Drawing:
    """The first corner of a joint, with the layout that both boards get: its slope is that of the bit that cuts it.

    Waste is drawn as the machine cuts it; where a shaving is left to pare, the lines to pare to are drawn in it.
    """
    joint, layout = plan.joint, plan.layout
    tails_end, pins_end = joint.ends[0]
    frame = EndFrame(tails_end, joint.tail_board.length, layout.length)
    lying = _outside_of_pins(plan, pins_end)
    layouts = (tail_view(plan, frame, units), pin_view(plan, frame, pins_end, units), *([lying] if lying else []))
    rows = (layouts, (put_together(plan, frame), seen_on_lower_edges(plan, frame)))
    return Drawing(joint.name, rows, units, _facts(plan, units), _notes(plan, units))


def tail_view(plan: DovetailChoice, frame: EndFrame, units: str) -> View:
    """The outside face of the tail board at its end; tails that are cut already have no waste any more."""
    joint, layout = plan.joint, plan.layout
    width, length = layout.width, layout.length
    far = min(length + ROOM, joint.tail_board.length)
    board = frame.box(0.0, far, 0.0, width)
    cut = _cut(plan, "tails", frame.end)
    items: list[Item] = []
    if cut is None and not joint.measured:
        items += [*_broken(board, frame, far, width)]
        items += [Item("waste", frame.strip(space, length, length), True) for space in layout.spaces]
    elif cut is None:
        gaps = [frame.strip(space, length, length) for space in layout.spaces]
        items += _broken(difference(board, union(*gaps)), frame, far, width)
    else:
        items += _broken(board, frame, far, width)
        items += _waste(cut, board, [frame.strip(strip, length, cut.floor) for strip in cut.strips])
        if joint.sizes.pare:
            items += [Item("target", frame.line(*wall)) for space in layout.spaces for wall in _walls(space, length)]
    necks = [(tail.lower.base, tail.upper.base) for tail in layout.tails]
    items += [Item("scribed", frame.line((length, low), (length, high))) for low, high in necks]
    labels = [
        Label(*frame.at(length / 2, (tail.lower.end + tail.upper.end) / 2), str(number), "on", weight=3)
        for number, tail in enumerate(layout.tails, 1)
    ]
    outward, inward = frame.sides
    labels += [
        Label(*frame.at(0.0, width + 5.0), f"{frame.end} end", outward, weight=4),
        Label(*frame.at(length, width + 5.0), "baseline", inward, weight=4),
        Label(*frame.at((length + far) / 2, 0.0), "lower edge", "below", weight=2),
    ]
    more, words = _figures(plan, frame, layout.tails, plan.hand.tail_lines, units)
    items += more
    labels += words
    dimensions = (frame.across(0.0, length, -9.0),)
    caption = f"outside face of {joint.tail_board.name}, {frame.end} end"
    return View(caption, tuple(items), tuple(labels), dimensions)


def pin_view(plan: DovetailChoice, frame: EndFrame, end: End, units: str) -> View:
    """The end grain of the pin board, seen as it meets the tails."""
    joint, layout = plan.joint, plan.layout
    width, length = layout.width, layout.length
    lap = joint.sizes.lap
    board = frame.box(-lap, length, 0.0, width)
    cut = _cut(plan, "pins", end)
    sockets = layout.sockets(joint.sizes.clearance)
    waste = [frame.strip(strip, length, length) for strip in (cut.strips if cut else sockets)]
    items = [Item("grain", difference(board, union(*waste)), True)]
    items += [Item("waste", region, True) for region in waste]
    if joint.sizes.pare:
        items += [
            Item("target", frame.line((0.0, flank.end), (length, flank.base)))
            for socket in sockets
            for flank in (socket.lower, socket.upper)
        ]
    outward, inward = frame.sides
    labels = [
        Label(*frame.at(-lap, width + 5.0), "outside face", outward, weight=4),
        Label(*frame.at(length, width + 5.0), "inside face", inward, weight=4),
        Label(*frame.at(length / 2, 0.0), "lower edge", "below", weight=2),
    ]
    more, words = _figures(plan, frame, sockets, plan.hand.pin_lines, units)
    items += more
    labels += words
    caption = f"end grain of {joint.pin_board.name}, {end} end"
    dimensions = [frame.across(0.0, length, -9.0)]
    if lap:
        dimensions.append(frame.across(-lap, 0.0, -9.0))
    return View(caption, tuple(items), tuple(labels), tuple(dimensions))


def _outside_of_pins(plan: DovetailChoice, end: End) -> View | None:
    """The outside face of a pin board that is cut lying flat: where its bit leaves corners round, or cuts past them."""
    cut = _cut(plan, "outside of pins", end) or _cut(plan, "pins", end)
    if cut is None or cut.setup != "flat":
        return None
    board, layout, length = plan.joint.pin_board, plan.layout, plan.joint.sizes.pin_length
    frame = EndFrame(end, board.length, length)
    far = frame.far(board.length)
    face = frame.box(0.0, far, 0.0, layout.width)
    items = [*_broken(face, frame, far, layout.width)]
    if walls := _cut(plan, "pins", end) if cut.steps else None:
        whole = intersection(FromBehind(walls.solid, board.length, board.thickness).section(0.0), face)
        items.append(Item("waste", whole, True))
    else:
        items += _waste(cut, face, [])
    if walls and plan.corner_left:
        near = frame.box(cut.floor - plan.corner_left.along, cut.floor, 0.0, layout.width)
        left = difference(intersection(whole, near), cut.needed.section(0.0))
        items += [Item("left", part, True) for part in left.parts if part.area > SPECK]
    items += [
        Item("behind", frame.line((0.0, flank.base), (cut.floor, flank.base)))
        for strip in cut.strips
        for flank in (strip.lower, strip.upper)
    ]
    items.append(Item("scribed", frame.line((length, 0.0), (length, layout.width))))
    labels = (
        Label(*frame.at((length + far) / 2, 0.0), "lower edge", "below", weight=2),
        Label(*frame.at(0.0, layout.width + 2.0), f"{end} end", "above", weight=4),
    )
    caption = f"outside face of {board.name}, {end} end, from the machine"
    return View(caption, tuple(items), labels, (frame.across(0.0, length, -9.0),))


def _waste(cut: EndCut, board: Region, upright: list[Region]) -> list[Item]:
    """The waste of a cut on the face; where the board lies flat, with corners as the bit leaves or relieves them."""
    if cut.setup == "upright":
        return [Item("waste", intersection(region, board), True) for region in upright]
    whole = intersection(cut.solid.section(0.0), board)
    corners = (
        [
            part
            for part in difference(whole, intersection(cut.needed.section(0.0), board)).parts
            if part.area > SPECK and not cut.relieved
        ]
        if cut.corners and cut.plumb
        else []
    )
    return [Item("waste", whole, True), *(Item("left", corner, True) for corner in corners)]


def _cut(plan: DovetailChoice, purpose: str, end: End) -> EndCut | None:
    return next((cut for cut in plan.cuts if cut.purpose == purpose and cut.end == end), None)


def _broken(region: Region, frame: EndFrame, far: float, width: float) -> list[Item]:
    """A board's outline, with a break where it goes on along its grain."""
    x = frame.at(far, 0.0)[0]
    items: list[Item] = []
    for loop in region.loops:
        points = [(float(p[0]), float(p[1])) for p in loop.points()]
        at = next((k for k, p in enumerate(points) if abs(p[0] - x) < 1e-6 and abs(points[k - 1][0] - x) < 1e-6), None)
        items.append(Item("stock", loop if at is None else Path.through(points[at:] + points[:at])))
    return [*items, Item("break", break_line((x, 0.0), (x, width), min(3.0, 0.05 * width)))]


def _walls(space: Strip, length: float) -> list[list[tuple[float, float]]]:
    """The lines of a space's walls, (u, s), edges of the board apart."""
    flanks = [[(0.0, flank.end), (length, flank.base)] for flank in (space.lower, space.upper) if not flank.edge]
    return [*flanks, [(length, space.lower.base), (length, space.upper.base)]]


def _figures(
    plan: DovetailChoice, frame: EndFrame, strips: Sequence[Strip], lines: Sequence[MarkedLine], units: str
) -> tuple[list[Item], list[Label]]:
    """Where both flanks of each strip lie at the end, and where at the baseline.

    lines: the same flanks on the sheet; by hand the figures are theirs, as a rule is read, else they are as drawn.
    """
    flanks = [flank for strip in strips for flank in (strip.lower, strip.upper)]
    end, base = [flank.end for flank in flanks], [flank.base for flank in flanks]
    by_hand = plan.tails is None and plan.pins is None
    says_end, says_base = (
        ([line.end.read for line in lines], [line.base.read for line in lines]) if by_hand else (end, base)
    )
    at_end = _running(frame, 0.0, -1.0, end, says_end, units)
    at_base = _running(frame, frame.length, 1.0, base, says_base, units)
    return at_end[0] + at_base[0], at_end[1] + at_base[1]


def _running(
    frame: EndFrame, u: float, way: float, places: list[float], said: list[float], units: str
) -> tuple[list[Item], list[Label]]:
    """Figures of distances from the lower edge, each on a line of its own that stands out from the place it measures.

    way: +1 along the grain inward, −1 outward. said: the figure of each place, mm.
    """
    spot = frame.sides[1 if way > 0.0 else 0]
    items = [Item("dimension", frame.line((u + way, s), (u + way * TICK, s))) for s in places]
    labels = [
        Label(*frame.at(u + way * TICK, s), format_length(mm, units), spot, weight=3)
        for s, mm in zip(places, said, strict=True)
    ]
    return items, labels


def _facts(plan: DovetailChoice, units: str) -> tuple[tuple[str, str], ...]:
    joint, sizes, slopes = plan.joint, plan.joint.sizes, plan.layout.slopes
    ends = "; ".join(
        f"{tails} end of {joint.tail_board.name} to {pins} end of {joint.pin_board.name}" for tails, pins in joint.ends
    )
    alike = max(slopes) - min(slopes) < 1e-6
    facts = [
        ("corners" if len(joint.ends) > 1 else "corner", ends),
        ("boards", f"{format_length(plan.layout.width, units)} wide"),
        ("tails", f"{len(plan.layout.tails)}" + (", cut already, as measured" if joint.measured else "")),
        ("slope", " to ".join(map(describe_slope, slopes[:1] if alike else (min(slopes), max(slopes))))),
        ("clearance at each flank", format_length(sizes.clearance, units)),
    ]
    ways = (("tails cut", plan.tails), ("pins cut", plan.pins))
    facts += [(name, f"{way.setup}, {way.bit.name}") for name, way in ways if way is not None and way.bit]
    if sizes.rabbet:
        facts.append(("rabbet", f"{format_length(sizes.rabbet, units)} on the inside of {joint.tail_board.name}"))
    if sizes.pare and plan.cuts:
        facts.append(("to pare", f"{format_length(sizes.pare, units)} on every wall"))
    return tuple(facts)


def _notes(plan: DovetailChoice, units: str) -> tuple[str, ...]:
    joint = plan.joint
    (tails_end, pins_end), at = joint.ends[0], EndFrame(joint.ends[0][0], 0.0, 0.0).sides[0]
    notes = [
        "All views but the last have the lower edge down; figures beside the boards are distances from it.",
        f"{joint.tail_board.name} is seen on its outside face, its {tails_end} end at the {at}; the end grain of "
        f"{joint.pin_board.name} is its {pins_end} end, its outside face at the {at}.",
    ]
    if len(joint.ends) > 1:
        notes.append("The other corner has the same figures from the lower edge; its ends are these mirrored.")
    if joint.sizes.pare and plan.cuts:
        shaving = format_length(joint.sizes.pare, units)
        notes.append(f"The machine leaves {shaving} on every wall: pare to the dashed lines.")
    if joint.sizes.rabbet:
        notes.append("The rabbet reaches to the baseline, over the whole width.")
    corners = [cut for cut in plan.cuts if cut.corners]
    if any(not cut.relieved for cut in corners):
        if any(cut.rounded for cut in corners):
            notes.append("Corners at the lap stay round: round the ends of the tails to match.")
        if any(not cut.rounded and not cut.relieved for cut in corners):
            notes.append("The bit leaves inside corners round: the chisel squares them.")
    if any(cut.relieved for cut in corners):
        notes.append("Inside corners are relieved: the bit cuts past them, and nothing is left for the chisel.")
    return tuple(notes)
