"""The pages of a board's drawing: all its views to scale on as few pages as hold them, a title block on each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from typing import TYPE_CHECKING

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.flow import LEFT, RIGHT, Flow
from jigcam.drawing.leaf import Leaf
from jigcam.drawing.paper import Paper
from jigcam.drawing.sized import fitted, scale_words
from jigcam.drawing.title_block import HIGH, Fields, title_block

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing, View
    from jigcam.drawing.title_block import Angle
    from jigcam.job import Job
    from jigcam.units import Unit

SCALES: Mapping[Unit, tuple[float, ...]] = {
    "in": (1.0, 1 / 2, 1 / 4, 1 / 8, 1 / 16),
    "mm": (1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20),
}
"""Halves in inches (common practice), those of ISO 5455 in millimetres (from memory)."""
ANGLES: Mapping[Unit, Angle] = {"in": "third", "mm": "first"}
"""The projection of the trade where lengths are in inches (ASME Y14.3) and in millimetres (ISO 5456-2), from memory."""
ROOM = 40.0
"""Of the height of a page, what title and caption take above and below the first view, mm."""
SMALLER = 0.7
"""A face in a scale that is one step smaller is worth it where that saves a page, and more than that is not."""
LESS = 0.3
"""The same of the other views."""
SMALL = 2.2
"""Height of the capitals of notes, mm."""
TOLD = ("hand", "figures")
"""Facts that have no field in the title block."""


@dataclass(frozen=True)
class _Way:
    """One way to lay a board's drawing out.

    side: the paper as it lies. smaller, ends, sections: by how many steps their scales, and that of the face, are less
    than they could be. sections_first: before the ends. together: other views stand beside the face, where they find
    room.
    """

    side: Paper
    smaller: int
    ends: int
    sections: int
    sections_first: bool
    together: bool

    @property
    def cost(self) -> float:
        """What it gives up, in pages."""
        less = LESS * (self.ends + self.sections)
        return SMALLER * self.smaller + less + 0.01 * self.sections_first + 0.02 * self.together


@dataclass(frozen=True)
class _Filled:
    """A board's drawing laid out. scale: of its face. cost: pages, and what was given up to have no more of them."""

    flow: Flow
    scale: float
    cost: float


def board_pages(job: Job, board: str, drawing: Drawing, paper: Paper) -> list[Leaf]:
    """Its pages: of the ways to lay it out, one that takes few of them, and shows its face large."""
    lying = Paper(paper.name, paper.height, paper.width)
    one = job.boards[board]
    sides = (lying, paper) if one.length > one.width else (paper, lying)
    largest = min(_scale_of_face(drawing, side, SCALES[job.units]) for side in sides)
    best: _Filled | None = None
    for way in _ways(sides):
        if best is None or 1.0 + way.cost < best.cost:
            filled = _filled(job, board, drawing, way, largest)
            best = filled if best is None or filled.cost < best.cost else best
    assert best is not None, "there is always a first way"
    leaves = best.flow.leaves
    return [
        Leaf(leaf.paper, partial(_page, leaf, fields(job, board, best, number, len(leaves)), job), leaf.mark)
        for number, leaf in enumerate(leaves, start=1)
    ]


def _ways(sides: Sequence[Paper]) -> list[_Way]:
    """All that are tried, those first that give up least."""
    found = [_Way(*each) for each in product(sides, (0, 1), (0, 1, 2), (0, 1), (False, True), (False, True))]
    return sorted(found, key=lambda way: way.cost)


def _scale_of_face(drawing: Drawing, side: Paper, scales: Sequence[float]) -> int:
    """The place among the scales of the largest at which the face finds room on such a page."""
    flow = Flow(side, "", foot=HIGH)
    face = drawing.rows[0][0]
    return scales.index(fitted(face, drawing, flow.wide, flow.high - HIGH - ROOM, scales)[0])


def _filled(job: Job, board: str, drawing: Drawing, way: _Way, largest: int) -> _Filled:
    """The drawing laid out in that way. largest: the place of the largest scale of its face on any page."""
    flow = Flow(way.side, f"{job.title}: drawing of a board", foot=HIGH)
    flow.mark(f"Board: {board}")
    flow.title(board)
    flow.rows([row for row in drawing.facts if row[0] in TOLD], size=SMALL + 0.2)
    flow.skip(2.0)
    scales = SCALES[job.units]
    faces, *others = drawing.rows
    last = len(scales) - 1
    face_scales = scales[min(largest + way.smaller, last) :]

    def other_scales(view: View) -> Sequence[float]:
        return scales[way.sections if view.minor else way.ends :]

    if way.sections_first:
        others = sorted(others, key=lambda row: not row[0].minor)
    high = flow.high - HIGH - ROOM
    if way.together:
        scale = flow.picture(
            replace(drawing, rows=(faces, *others)),
            high,
            scales=lambda view: face_scales if view is faces[0] else other_scales(view),
        )
    else:
        scale = flow.picture(replace(drawing, rows=(faces,)), high, scales=face_scales, legend=not others)
        flow.picture(replace(drawing, rows=tuple(others)), high, scales=other_scales)
    flow.points(drawing.notes, size=SMALL)
    return _Filled(flow, scale, flow.cost + way.cost + SMALLER * (scales.index(scale) - largest - way.smaller))


def fields(job: Job, board: str, filled: _Filled, number: int, count: int) -> Fields:
    """What the title block says."""
    one, paper = job.boards[board], filled.flow.paper
    lying = "lying" if paper.width > paper.height else "standing"
    wood = f"{one.wood or 'not said'}{f', {one.sawn} sawn' if one.sawn else ''}"
    return (
        (("board", board), ("piece", job.title)),
        (("size", job.voice.size(one.length, one.width, one.thickness)), ("material", wood)),
        (("scale", f"{scale_words(filled.scale).removeprefix('scale ')}, or as told"), ("lengths in", _unit(job))),
        (("sheet", f"{number} of {count}"), ("paper", f"{paper.name}, {lying}")),
    )


def _unit(job: Job) -> str:
    return "inches" if job.units == "in" else "millimetres"


def _page(leaf: Leaf, told: Fields, job: Job, canvas: Canvas) -> None:
    leaf.draw(canvas)
    title_block(canvas, leaf.paper, LEFT, RIGHT, told, ANGLES[job.units])
