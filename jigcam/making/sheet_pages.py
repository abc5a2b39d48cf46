"""A setup sheet as pages to print: a clamping a page, its picture first, numbers large, the work with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import takewhile
from typing import TYPE_CHECKING

from jigcam.drawing.flow import BODY, CAPTION, STEP, TIGHTEST, Flow
from jigcam.making.blocks import Block, HeadedTable, Heading, Lines, Points, Rows, Sentence
from jigcam.making.clamping_picture import clamping_picture
from jigcam.units.setting import ToSet

if TYPE_CHECKING:
    from jigcam.drawing.leaf import Leaf
    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import Paper
    from jigcam.making.setup_sheet import Part, SetupSheet
    from jigcam.units import Voice

LARGE = ("bit", "speed", "time")
"""Values of a file that are read at arm's length."""
BESIDE = {"speed": "feed"}
"""What the rest of such a value is about, which stands small: speeds go on with feeds."""
LARGEST, GOOD, LEAST, BROKEN = 150.0, 90.0, 62.0, 85.0
"""Height of the picture of a clamping with its captions, mm: what the words leave of the page, from what is
good, or from the least where words are as close as they may, to the largest; where they leave less, further files go
on to a second page, and it leaves room for the first."""
FILE = 90.0
"""Room that a further file of a clamping wants with the change of bits before it, or it begins a page, mm."""
LEGEND = 12.0
"""Room for what its lines mean, mm."""
VIEW = 92.0
"""Height of a view of the joint or of its template at most, mm."""
TEMPLATE = 150.0
"""Of the template as it lies on the board: it has the most figures."""
SMALL = 2.2
"""Height of the capitals of what is read once, mm."""


def sheet_pages(
    sheet: SetupSheet, drawings: Mapping[str, Drawing], paper: Paper, voice: Voice, *, cautions: bool = True
) -> list[Leaf]:
    """The pages. drawings: of the joint, by stem. cautions: False where they stand elsewhere in the same file."""
    flow = Flow(paper, sheet.title)
    flow.mark(sheet.name)
    parts = [each for each in sheet.parts if each.topic != "safety" or cautions]
    total = [block for each in parts if each.topic == "time" for block in each.blocks]
    lead = [*takewhile(lambda each: each.topic in ("joint", "trial"), parts)]
    templates = [each for each in drawings.values() if is_template(each)]
    pictures = [each for each in drawings.values() if not is_template(each)]

    def joint(to: Flow) -> None:
        to.title(sheet.name)
        to.words(sheet.made, size=SMALL)
        for part in lead:
            if part.topic == "joint":
                _blocks(to, [*part.blocks, *total])
                for drawing in pictures:
                    to.skip(3.0)
                    to.picture(drawing, VIEW)
            elif part.topic == "trial":
                _boxed(to, part.blocks)

    def bench(to: Flow) -> None:
        for part in parts:
            if part.topic == "bench":
                _bench(to, part.blocks, templates)
            elif part.topic not in ("joint", "trial", "clamping", "time"):
                _blocks(to, part.blocks, size=SMALL if part.topic in ("why", "safety") else BODY)

    flow.settle(joint)
    for part in parts[len(lead) :]:
        if part.topic == "clamping":
            flow.page()
            flow.settle(partial(_clamping, part, voice))
        elif part.topic == "trial":
            flow.settle(partial(_boxed, blocks=part.blocks))
    flow.page()
    flow.settle(bench)
    return flow.leaves


def _clamping(part: Part, voice: Voice, flow: Flow) -> None:
    """A page of its own: how the stock lies, then each file with its numbers and its box.

    The picture is as large as the words leave room for it; where they need more than a page, it is as large as it may.
    """
    assert part.setup is not None, "a clamping has its setup"
    trial = Flow(flow.paper, "", tight=flow.tight)
    _fill(trial, part, None, 0.0)
    free = trial.left - LEGEND if trial.pages == 1 else 0.0
    picture = clamping_picture(part.setup, part.files, voice)
    least = LEAST if flow.tight <= TIGHTEST else GOOD
    _fill(flow, part, picture, min(free, LARGEST) if free >= least else BROKEN)


def _fill(flow: Flow, part: Part, picture: Drawing | None, high: float) -> None:
    """The page in order. picture: None while only the words are measured. high: of the picture, captions and all."""
    head, *rest = part.blocks
    assert isinstance(head, Heading)
    flow.title(head.text)
    if picture is not None:
        each = high / len(picture.views)
        if each < LEAST:  # then the views stand beside each other, as minor ones do
            picture = replace(picture, rows=(tuple(replace(view, minor=True) for view in picture.views),))
            each = high
        flow.picture(picture, each - CAPTION)
    ran = False
    for block in rest:
        match block:
            case Heading(text, minor=True):
                flow.need(38.0)
                flow.skip(2.0)
                flow.points([f"Run {text}"], boxes=True, size=STEP + 0.4)
            case Rows(rows, minor=True):
                flow.figures(large_figures(rows))
                flow.rows(small_rows(rows), size=2.4)
            case Points(minor=True):  # with the file that it is done before
                flow.need(FILE if ran else 46.0)
                flow.skip(2.0)
                ran = True
                flow.points(block.sentences, boxes=True)
            case Points():
                flow.points(block.sentences, boxes=True)
            case _:
                _block(flow, block, BODY)


def large_figures(rows: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """The named values that stand large, each up to its first semicolon."""
    return [(name, value.partition(";")[0]) for name, value in rows if name in LARGE]


def small_rows(rows: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """What is left of the named values: the others whole, and what the large ones say after a semicolon."""
    rest = [
        (BESIDE.get(name, name), value.partition(";")[2].strip()) if name in LARGE else (name, value)
        for name, value in rows
    ]
    return [(name, value) for name, value in rest if value]


def is_template(drawing: Drawing) -> bool:
    """Whether a drawing shows a sheet that a router rides."""
    return any(item.role == "opening" for item in drawing.items)


def _bench(flow: Flow, blocks: Sequence[Block], templates: Sequence[Drawing]) -> None:
    """The work at the bench, in order, with boxes; numbers to be set large, above the sentences that have them.

    templates: as they lie on the board, from above.
    """
    for drawing in templates:
        flow.picture(drawing, TEMPLATE)
    _boxed(flow, blocks)


def _boxed(flow: Flow, blocks: Sequence[Block]) -> None:
    """Work with boxes to tick."""
    for block in blocks:
        if isinstance(block, Points):
            flow.figures(settings(block))
            flow.points(block.sentences, boxes=True)
        else:
            _block(flow, block, BODY)


def settings(block: Points) -> list[tuple[str, str]]:
    """The numbers that its sentences set."""
    return [(each.what, each.figure) for each in block.sentences if isinstance(each, ToSet)]


def _blocks(flow: Flow, blocks: Sequence[Block], size: float = BODY) -> None:
    for block in blocks:
        _block(flow, block, size)


def _block(flow: Flow, block: Block, size: float) -> None:
    match block:
        case Heading(text, minor):
            flow.heading(text, size=3.0 if minor else 3.6)
        case Points(sentences):
            flow.points(sentences, size=size)
        case Rows(rows):
            flow.rows(rows, size=size)
        case HeadedTable(head, rows, left):
            flow.grid(head, rows, left=left, size=size)
        case Lines(lines):
            flow.lines(lines)
        case Sentence(text):
            flow.skip(2.0)
            flow.words(text, size=size)


def marked(leaves: Sequence[Leaf]) -> Iterator[tuple[int, str]]:
    """Where parts begin: the place of the page among the leaves, from 0, and the name of the part."""
    for place, leaf in enumerate(leaves):
        if leaf.mark:
            yield place, leaf.mark
