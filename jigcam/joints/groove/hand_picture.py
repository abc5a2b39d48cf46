"""A groove as it is laid out by hand: figures of its first wall and its stopped ends, from where the words have them.

Figures along run from the end at the left as seen; in a mirrored board, and in the face behind, from the same end of
the joint, which is then at the right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

from jigcam.drawing.model import Dimension, Drawing, View
from jigcam.drawing.scenes.board import end_names
from jigcam.joints.groove.picture import scene_groove, shown
from jigcam.joints.groove.walls import Point, along_an_edge, first_sign, first_wall, square_to_the_edge, wall_line
from jigcam.units.format import rule_division

if TYPE_CHECKING:
    from jigcam.drawing.scenes.board import Window
    from jigcam.joints.groove.groove import Groove, GroovePlace
    from jigcam.units import Voice

OFF = 9.0
"""By which the first line of figures stands off the board, mm on paper."""
APART = 7.0
"""Between lines of figures, mm on paper."""
SAME = 1e-6
"""mm; a figure as small is the edge itself."""

Figure = tuple[float, float, str]
"""Where along an axis of the frame as drawn and where on the other one, mm, and what is written."""


def scene_by_hand(groove: Groove, places: Sequence[GroovePlace], voice: Voice) -> Drawing:
    """Each face with the figures by which it is marked, and the section across the first groove. places: of
    the groove."""
    mate = groove.mate if groove.mate.board else None
    drawing = scene_groove([each.cut for each in places], units=voice.units, mate=mate)
    groups = [list(some) for _, some in groupby(places, key=lambda each: (each.cut.hand, each.cut.face))]
    rows = tuple((_figured(row[0], some, voice), *row[1:]) for row, some in zip(drawing.rows, groups, strict=True))
    width = voice.length(groove.width)
    by = groove.mate.board or "a strip of that width"
    note = f"Only first walls and ends are marked by figures; each second wall comes {width} from the first, by {by}."
    return replace(drawing, rows=rows, notes=(*drawing.notes, note))


def _figured(view: View, places: Sequence[GroovePlace], voice: Voice) -> View:
    """A face with the figures of the layout in place of those of the centreline; the length stays."""
    first = places[0]
    window, _ = shown(first.cut, [each.cut for each in places[1:]])
    line = first.cut.centreline
    kept = tuple(each for each in view.dimensions if (each.p0, each.p1) == (line.start, line.end))
    along, up = _figures([each.groove for each in places], voice)
    return replace(view, dimensions=(*kept, *_along(first, along, window), *_up(first, up, window)))


def _figures(row: Sequence[Groove], voice: Voice) -> tuple[list[Figure], list[Figure]]:
    """What is measured along and what up, the lesser first, each once; the second wall of a single groove too."""
    told: tuple[dict[float, Figure], dict[float, Figure]] = {}, {}

    def note(axis: int, point: Point, text: str = "") -> None:
        at = point[axis]
        figure = text or voice.ruled(at)
        told[axis].setdefault(round(at, 3), (at, point[1 - axis], figure))

    for groove in row:
        wall = first_wall(groove)
        ends = ((wall.start, groove.open_start), (wall.finish, groove.open_finish))
        if not square_to_the_edge(groove):
            for point, _ in ends:
                note(0, point)
                note(1, point)
            continue
        across = 1 if along_an_edge(groove) else 0
        note(across, wall.start)
        if len(row) == 1:
            # From the first wall as it is marked: its figure is not rounded for itself.
            second = rule_division(wall.start[across], voice.units) + groove.width
            note(across, wall_line(groove, -first_sign(groove)).start, voice.length(second))
        for point, is_open in ends:
            if not is_open:
                note(1 - across, point)
    board = row[0].board
    return _within(told[0].values(), board.length), _within(told[1].values(), board.width)


def _within(told: Iterable[Figure], limit: float) -> list[Figure]:
    """Those that are not the board's own edges, in order."""
    return sorted(each for each in told if SAME < each[0] < limit - SAME)


def _along(place: GroovePlace, figures: Sequence[Figure], window: Window) -> Iterator[Dimension]:
    """Below the board, from the end that the words name."""
    (x0, y0, x1, _), length = window.box, place.cut.board.length
    end = end_names(place.cut.face)[1 if place.mirrored else 0]
    for number, (at, y, text) in enumerate(figures):
        low, high = (length - at, x1) if place.mirrored else (x0, at)
        # The line stands off its first point, which is therefore the one at the lower edge.
        edge, wall = ((high, y0), (low, y)) if place.mirrored else ((low, y0), (high, y))
        yield Dimension(edge, wall, -(OFF + number * APART), f"{text} from {end}", "x")


def _up(place: GroovePlace, figures: Sequence[Figure], window: Window) -> Iterator[Dimension]:
    """Beside the board, from its lower edge."""
    x0, y0, _, _ = window.box
    for number, (at, x, text) in enumerate(figures):
        figure = f"{text} from lower edge" if window.cut[1] else text
        seen = place.cut.board.length - x if place.mirrored else x
        yield Dimension((x0, y0), (seen, at), OFF + number * APART, figure, "y")
