"""A setup sheet as pages to print: a clamping a page, its picture first, numbers large, the work with boxes to tick."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import takewhile
from typing import TYPE_CHECKING

from jigcam.drawing.flow import BODY, CAPTION, STEP, Flow
from jigcam.drawing.flow_settling import TIGHTEST
from jigcam.drawing.page_view import page_view
from jigcam.making.blocks import Block, HeadedTable, Heading, Lines, Points, Rows, Sentence
from jigcam.making.clamping_picture import clamping_picture
from jigcam.units.setting import ToSet

if TYPE_CHECKING:
    from jigcam.drawing.leaf import Leaf
    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import Paper
    from jigcam.making.setup_sheet import Part, SetupSheet, Topic
    from jigcam.units import Voice

LARGE = ("bit", "speed", "time")
"""Values of a file that are read at arm's length."""
BESIDE = {"speed": "feed"}
"""What the rest of such a value is about, which stands small: speeds go on with feeds."""
LARGEST, GOOD, LEAST, BROKEN = 150.0, 90.0, 56.0, 85.0
"""Height of the picture of a clamping with its captions, mm: what the words leave of the page, from what is
good, or from the least where words are as close as they may, to the largest; where they leave less, further files go
on to a second page, and it leaves room for the first."""
FILE = 90.0
"""Room that a further file of a clamping wants with the change of bits before it, or it begins a page, mm."""
LEAD: tuple[Topic, ...] = ("joint", "watch", "trial")
"""What is read before the first cut."""
REASONS: tuple[Topic, ...] = ("proof", "why")
REASONS_TITLE = "What was proved, and why so"
LEGEND = 10.0
"""Room for what its lines mean, mm."""
VIEW = 92.0
"""Height of a view of the joint or of its template at most, mm."""
TEMPLATE = 150.0
"""Of the template as it lies on the board: it has the most figures."""
SMALL = 2.2
"""Height of the capitals of what is read once, mm."""
SET = 62.0
"""Room for a heading, the numbers to be set below it, and the first of their sentences, mm: numbers alone at a foot
would be set for nobody."""
ABOVE = 26.0
"""Room that is left for a sentence, so that it does not stand alone above the table that it speaks of, mm."""


def sheet_pages(
    sheet: SetupSheet,
    drawings: Mapping[str, Drawing],
    paper: Paper,
    voice: Voice,
    *,
    cautions: bool = True,
    reasons: bool = True,
) -> list[Leaf]:
    """The pages. drawings: of the joint, by stem. cautions, reasons: False where they, or what was proved and why it is
    made so, stand elsewhere in the same file."""
    flow = Flow(paper, sheet.title)
    flow.mark(sheet.name)
    left_out = {*(() if cautions else ("safety",)), *(() if reasons else REASONS)}
    parts = [each for each in sheet.parts if each.topic not in left_out]
    total = [block for each in parts if each.topic == "time" for block in each.blocks]
    lead = [*takewhile(lambda each: each.topic in LEAD, parts)]
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
            else:
                _blocks(to, part.blocks)

    def bench(to: Flow) -> None:
        for part in parts:
            if part.topic == "bench":
                _bench(to, part.blocks, templates)
            elif part.topic not in (*LEAD, "clamping", "time"):
                _blocks(to, part.blocks, size=SMALL if part.topic in ("why", "safety") else BODY)

    flow.settle(joint, looser=True)
    clampings = [part for part in parts if part.topic == "clamping"]
    for part in parts[len(lead) :]:
        if part.topic == "clamping" and part is not clampings[-1]:
            flow.page()
            flow.settle(partial(_clamping, part, _picture(part, voice)))
        elif part.topic == "trial":
            flow.settle(partial(_boxed, blocks=part.blocks))
    flow.page()
    if clampings:
        _last(flow, partial(_clamping, clampings[-1], _picture(clampings[-1], voice)), bench)
    else:
        flow.settle(bench)
    return flow.leaves


def reason_pages(sheets: Sequence[SetupSheet], title: str, paper: Paper) -> list[Leaf]:
    """What was proved of each joint, and why it is made so, one after the other: pages to be read before the work."""
    flow = Flow(paper, title)
    flow.mark(REASONS_TITLE)

    def fill(to: Flow) -> None:
        to.title(REASONS_TITLE)
        for sheet in sheets:
            to.heading(sheet.name, keep=20.0)
            for part in sheet.parts:
                if part.topic in REASONS:
                    lower = [replace(each, minor=True) if isinstance(each, Heading) else each for each in part.blocks]
                    _blocks(to, lower, size=SMALL)

    flow.settle(fill)
    return flow.leaves


def _last(flow: Flow, clamping: Callable[..., None], bench: Callable[[Flow], None]) -> None:
    """The last clamping, and what is done after it: on a page of its own, unless it saves a page to go on below."""

    def apart(to: Flow) -> None:
        to.settle(clamping)
        to.page()
        to.settle(bench)

    def together(to: Flow) -> None:
        to.settle(partial(clamping, after=bench))

    flow.choose((apart, together))


def _picture(part: Part, voice: Voice) -> Drawing:
    assert part.setup is not None, "a clamping has its setup"
    return clamping_picture(part.setup, part.files, voice)


def _clamping(part: Part, picture: Drawing, flow: Flow, after: Callable[[Flow], None] | None = None) -> None:
    """A page of its own: how the stock lies, then each file with its numbers and its box.

    The picture is as large as the words leave room for it; where they need more than a page, it is as large as it may.
    after: writes what follows.
    """
    then = after or (lambda to: None)
    trial = Flow(flow.paper, "", tight=flow.tight)
    _fill(trial, part, None, 0.0)
    then(trial)
    free = trial.left - LEGEND if trial.pages == 1 else 0.0
    least = LEAST if flow.tight <= TIGHTEST else GOOD
    _fill(flow, part, picture, min(free, LARGEST) if free >= least else BROKEN)
    then(flow)


def _fill(flow: Flow, part: Part, picture: Drawing | None, high: float) -> None:
    """The page in order. picture: None while only the words are measured. high: of the picture, captions and all."""
    head, *rest = part.blocks
    assert isinstance(head, Heading)
    flow.title(head.text)
    if picture is not None:
        each, beside = high / len(picture.views), 0.45 * flow.wide
        if _scale(picture, flow.wide, each) < _scale(picture, beside, high):
            # Then the views stand beside each other, as minor ones do.
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


def _scale(picture: Drawing, wide: float, high: float) -> float:
    """The least of the scales that its views have in rooms of that size, captions and all; 0 where one finds none."""
    if len(picture.views) == 1:
        return 1.0
    views = [page_view(view, picture, wide, high - CAPTION, (), least=0.0) for view in picture.views]
    return min(each.scale if each.high <= high - CAPTION + 0.01 else 0.0 for each in views)


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
    for block, after in zip(blocks, (*blocks[1:], None), strict=True):
        if isinstance(block, Points):
            flow.figures(settings(block))
            flow.points(block.sentences, boxes=True)
        elif isinstance(block, Heading) and isinstance(after, Points) and settings(after):
            flow.need(SET)
            _block(flow, block, BODY)
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
            flow.heading(text, size=3.0 if minor else 3.6, keep=15.0)
        case Points(sentences):
            flow.points(sentences, size=size)
        case Rows(rows):
            flow.rows(rows, size=size)
        case HeadedTable(head, rows, left):
            flow.grid(head, rows, left=left, size=size)
        case Lines(lines):
            flow.lines(lines)
        case Sentence(text):
            flow.need(ABOVE)
            flow.skip(2.0)
            flow.words(text, size=size)


def marked(leaves: Sequence[Leaf]) -> Iterator[tuple[int, str]]:
    """Where parts begin: the place of the page among the leaves, from 0, and the name of the part."""
    for place, leaf in enumerate(leaves):
        if leaf.mark:
            yield place, leaf.mark
