"""How a template is made ready, in the order of the work: freed, marked, its strips held, looked over, tried in scrap.

Places on the sheet are from its left edge, across, and from its lower edge, up, as it lies with the marks up.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigcam.template.marking import INDEX
from jigcam.template.marks import Stroke, Text
from jigcam.template.tabs import TOP
from jigcam.units.setting import Known
from jigcam.wood.band import at_hand, sides

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.template import FenceStrip, SheetHole, TemplatePlan
    from jigcam.units import Voice

STRIPS = ("fence", "stop-block", "screws")
"""Rules whose findings say what is screwed under a sheet."""
LINES = ("index-line", "sights", "strip-too-deep")
"""Rules whose findings say what is drawn on the board, and what is under it."""
BY_HAND = "marks-by-hand"


class SheetPlaces:
    """Says places on a sheet."""

    def __init__(self, plan: TemplatePlan, voice: Voice) -> None:
        self.x0, self.y0, _, _ = plan.sheet.bounds
        self.voice = voice

    def across(self, x: float) -> str:
        """From the left edge."""
        return f"{self.voice.mark(x - self.x0)} across"

    def up(self, y: float) -> str:
        """From the lower edge."""
        return f"{self.voice.mark(y - self.y0)} up"

    def at(self, x: float, y: float) -> str:
        """Both."""
        return f"{self.across(x)} and {self.up(y)}"


def ready_lines(plan: TemplatePlan, findings: tuple[Finding, ...], voice: Voice) -> list[str]:
    """From the sheet as milled, or as sawn by hand, to one that can be laid; a sentence each."""
    places = SheetPlaces(plan, voice)

    def told(*rules: str) -> Iterator[str]:
        for rule in rules:
            for each in findings:
                if each.rule == rule:
                    yield f"{each.says[0].upper()}{each.says[1:]}."

    lines = list(freed_lines(plan, voice))
    if plan.marker is None:
        lines += _marks_by_hand(plan, places)
    else:
        lines += told(BY_HAND)
    lines += _by_pencil(plan)
    lines += told(*STRIPS)
    lines += _screw_places(plan, places)
    lines += _checks(plan, voice)
    lines += _sight_places(plan, places)
    return list(dict.fromkeys([*lines, *told(*LINES)]))


def _by_pencil(plan: TemplatePlan) -> Iterator[str]:
    """What tells a template from one for other tools, and is not engraved: a letter takes the machine over a second."""
    named = any(isinstance(mark, Text) and "BUSHING" in mark.string for mark in plan.marks)
    if not named:
        yield (
            f"Write on it, by pencil, {plan.bit.name} in {plan.bushing.name}, and the date: with another pair it cuts "
            "another width."
        )


def freed_lines(plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How a sheet that tabs hold in its blank is freed; nothing where none do."""
    if plan.tabs:
        yield (
            f"Saw the sheet free at its {len(plan.tabs)} tabs, each about {voice.about(plan.tabs[0].height)} thick "
            f"and {voice.about(TOP)} long at its top, and trim its edge flush."
        )


def _marks_by_hand(plan: TemplatePlan, places: SheetPlaces) -> Iterator[str]:
    """All that is drawn and written by hand on the face that is up, each thing with its place."""
    yield (
        "No bit of a machine engraves the marks: draw them now by hand, on the face that is up; places are from the "
        "sheet's left edge, across, and from its lower edge, up, that is the one toward the board's "
        f"{sides(plan.cut.face)[2]}:"
    )
    strokes = [mark for mark in plan.marks if isinstance(mark, Stroke)]
    for says, name in (("side of the board", "the board's {side}"), (INDEX, "the index line")):
        lines: dict[str, None] = {}
        for stroke in (each for each in strokes if each.says == says):
            (x, y), (u, v) = stroke.points[0], stroke.points[-1]
            upright = abs(u - x) < abs(v - y)
            what = name.format(side=_side_at(plan, x, y, upright))
            lines[f"  {what}: a line {places.across(x) if upright else places.up(y)}, all the way over;"] = None
        yield from lines
    ends = [stroke.points for stroke in strokes if stroke.says == "centreline"]
    if ends:
        ticks = "; and from ".join(f"{places.at(*line[0])} to {places.at(*line[-1])}" for line in ends)
        yield f"  the centreline of the {plan.cut.what}: from {ticks};"
    crosses = [hole for hole in plan.holes if hole.by_hand]
    if crosses:
        yield f"  a cross for each screw, in the places below ({len(crosses)} of them);"
    texts = [mark.string for mark in plan.marks if not isinstance(mark, Stroke)]
    if texts:
        yield f"  and where there is room write: {'; '.join(texts)}."


def _side_at(plan: TemplatePlan, x: float, y: float, upright: bool) -> str:
    """The side of the board that a line on the sheet lies over."""
    names, board = sides(plan.cut.face), plan.cut.board
    if upright:
        return at_hand(names[0 if abs(x) < abs(x - board.length) else 1], plan.cut.face)
    return names[2 if abs(y) < abs(y - board.width) else 3]


def _screw_places(plan: TemplatePlan, places: SheetPlaces) -> Iterator[str]:
    for what, strip in _strips(plan):
        holes = [hole for hole in plan.holes if hole.head and _within(strip, hole)]
        if holes:
            where = "; ".join(places.at(hole.x, hole.y) for hole in holes)
            yield Known(
                f"Screw hole{'s' * (len(holes) > 1)} of the {what}, from the sheet's left and lower edge: {where}."
            )


def _strips(plan: TemplatePlan) -> Iterator[tuple[str, FenceStrip]]:
    for what, strip in (("fence", plan.fence), ("stop block", plan.stop)):
        if strip is not None:
            yield what, strip


def _within(strip: FenceStrip, hole: SheetHole) -> bool:
    x0, y0, x1, y1 = strip.box
    return x0 <= hole.x <= x1 and y0 <= hole.y <= y1


def _checks(plan: TemplatePlan, voice: Voice) -> Iterator[str]:
    """How strips are looked over before the sheet is used (common practice)."""
    strips = list(_strips(plan))
    for what, strip in strips:
        wide, high = strip.box.size
        width = voice.rule(wide if strip.upright else high)
        yield (
            f"Check the {what}: from the sheet's edge to the side that bears it is {width} at both ends, or it is not "
            "parallel; loosen its screws, and shift it."
        )
    if len(strips) > 1:
        yield (
            "Check the corner between fence and stop block with a try square, which shows no light: they bear on the "
            "board's edge and end, and a sheet that is held askew cuts askew."
        )
    elif strips:
        yield (
            f"Check with a try square that the sheet's other edges stand square to the {strips[0][0]}: a sheet that is "
            "held askew cuts askew."
        )


def _sight_places(plan: TemplatePlan, places: SheetPlaces) -> Iterator[str]:
    """Which holes are sights, and on which line each is."""
    sights = [hole for hole in plan.holes if hole.says.startswith("sight")]
    for says in dict.fromkeys(hole.says for hole in sights):
        some = [hole for hole in sights if hole.says == says]
        line = says.removeprefix("sight on the ")
        if line == "centreline":
            line = f"centreline of the {plan.cut.what}"
        how = "" if plan.cutter else "drill "
        where = "; ".join(places.at(hole.x, hole.y) for hole in some)
        which = "Sight" if len(some) == 1 else "Sights"
        wide = places.voice.rule(some[0].diameter)
        text = f"{which} on the {line}: {how}{wide} wide, {where}."
        yield Known(text) if plan.cutter else text
