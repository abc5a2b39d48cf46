"""The pages of a board's drawing: all its views to scale on as few pages as hold them, a title block on each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.flow import LEFT, RIGHT, Flow
from jigcam.drawing.leaf import Leaf
from jigcam.drawing.paper import Paper
from jigcam.drawing.sized import scale_words
from jigcam.drawing.title_block import HIGH, Fields, title_block

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
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
SMALL = 2.2
"""Height of the capitals of notes, mm."""
TOLD = ("hand", "figures")
"""Facts that have no field in the title block."""


@dataclass(frozen=True)
class _Filled:
    """One way to lay a board's drawing out. smaller: steps by which its scales are less than they could be."""

    flow: Flow
    scale: float
    smaller: int

    @property
    def cost(self) -> float:
        return self.flow.cost + SMALLER * self.smaller


def board_pages(job: Job, board: str, drawing: Drawing, paper: Paper) -> list[Leaf]:
    """Its pages, standing or lying, whichever takes fewer."""
    best: _Filled | None = None
    for each in _ways(job, board, drawing, paper):
        if best is None or each.cost < best.cost:
            best = each
        if best.flow.pages == 1:
            break
    assert best is not None, "there is always a first way"
    leaves = best.flow.leaves
    return [
        Leaf(leaf.paper, partial(_page, leaf, fields(job, board, best, number, len(leaves)), job), leaf.mark)
        for number, leaf in enumerate(leaves, start=1)
    ]


def _ways(job: Job, board: str, drawing: Drawing, paper: Paper) -> Iterator[_Filled]:
    lying = Paper(paper.name, paper.height, paper.width)
    scales = SCALES[job.units]
    one = job.boards[board]
    sides = (lying, paper) if one.length > one.width else (paper, lying)
    largest: dict[str, int] = {}
    for step in (0, 1):
        for name, side in zip("ab", sides, strict=True):
            first = min(largest.get(name, 0) + step, len(scales) - 1)
            flow = Flow(side, f"{job.title}: drawing of a board", foot=HIGH)
            flow.mark(f"Board: {board}")
            flow.title(board)
            flow.rows([row for row in drawing.facts if row[0] in TOLD], size=SMALL + 0.2)
            flow.skip(2.0)
            high = flow.high - HIGH - ROOM
            faces, *others = drawing.rows
            scale = flow.picture(replace(drawing, rows=(faces,)), high, scales=scales[first:], legend=not others)
            flow.picture(replace(drawing, rows=tuple(others)), high, scales=scales)
            flow.points(drawing.notes, size=SMALL)
            if not step:
                largest[name] = scales.index(scale)
            yield _Filled(flow, scale, scales.index(scale) - min(largest.values()))


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
