"""Rabbets: a step along an end or an edge of a board, right through or stopped, cut on the machine.

The *shoulder* is the wall of the step, its *cheek* the floor. A rabbet without `from` and `length` runs from corner to
corner; an end of it that lies within the board is stopped, and keeps the radius of the bit at the shoulder until a
chisel has been there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, Annotated, Any, Literal, Self

import numpy as np
from pydantic import Field, model_validator

from jigcam.document.fields import LARGEST, Size, a_length
from jigcam.document.reading import Misfit
from jigcam.errors import InputError, Refused
from jigcam.findings import Finding, Level, Rule, stops
from jigcam.geometry import Path, Region, apply, intersection, rectangle
from jigcam.job.board import Board, Face
from jigcam.job.entry import BoardName, Entry
from jigcam.making.kind import Kind
from jigcam.making.plan import Outcome, Plan
from jigcam.wood.band import sides
from jigcam.wood.practice import PRACTICE, SLACK
from jigcam.wood.solid import Prism
from jigcam.wood.taken import Taken

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.drawing.model import View
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

BEYOND = 2.0
"""How far the step is drawn off the board at its edge and its open ends, mm."""
DEEPEST = 2 / 3
"""Share of the thickness that a rabbet takes at most (common practice, no source)."""
WIDEST = 1 / 2
"""Share of the board across its edge up to which a step is a rabbet (common practice, no source)."""

HOLD = ("Clamps outside the path; the bit goes down beside it: let the edge overhang, or use a spoilboard.",)
RULES = {
    "thin-left": Rule(("stop",), "Less wood is left under it than holds.", "Less depth, or a thicker board."),
    "too-wide": Rule(("caution",), "It takes more than half of the board.", "Less width."),
}


class RabbetEntry(Entry):
    """A rabbet in the frame of `face`, mm.

    along: the end or edge that it follows, as the board names it. width: inward from there. depth: below the face.
    start (`from` in files): where it begins, from the lower or the left corner as seen; None: at the corner. length:
    from there; None: to the other corner.
    """

    kind: Literal["rabbet"] = "rabbet"
    way: Literal["template", "direct"] = "direct"
    board: BoardName
    face: Face
    along: Literal["left", "right", "lower", "upper"]
    width: Size
    depth: Size
    start: Annotated[float, a_length("a place", 0.0, LARGEST)] | None = Field(default=None, alias="from")
    length: Size | None = None

    @model_validator(mode="after")
    def _is_cut_directly(self) -> Self:
        told = {"way": '"template"' if self.way == "template" else None, "bushing": self.bushing and repr(self.bushing)}
        what = "a rabbet is cut on the machine, without template or bushing"
        mend = 'way = "direct" works; or leave the key out'
        faults = [
            ((key,), InputError(what, found=found, wanted='"direct"' if key == "way" else "no bushing", mend=mend))
            for key, found in told.items()
            if found
        ]
        if faults:
            raise Misfit(*faults)
        return self


@dataclass(frozen=True, slots=True)
class Rabbet:
    """A rabbet as its job asks for it. Face frame, mm.

    e is the distance inward from its edge, t the place along it from the lower or the left corner as seen. start,
    length: along t.
    """

    name: str
    board: Board
    face: Face
    along: str
    width: float
    depth: float
    start: float
    length: float
    findings: tuple[Finding, ...] = ()

    @property
    def sides(self) -> tuple[float, float]:
        """The board's size along the edge, and across it."""
        length, width = self.board.length, self.board.width
        return (width, length) if self.along in ("left", "right") else (length, width)

    @property
    def stretch(self) -> tuple[float, float]:
        """t of both ends."""
        return self.start, self.start + self.length

    @property
    def open_ends(self) -> tuple[bool, bool]:
        """Whether it runs off the board at low and at high t."""
        low, high = self.stretch
        return low <= SLACK, high >= self.sides[0] - SLACK

    @property
    def matrix(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        """From (e, t) to the face frame. Seen from the inside, the left end is on the right."""
        at = [side.split()[0] for side in sides(self.face)].index(self.along)
        return (
            ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
            ((-1.0, 0.0, self.board.length), (0.0, 1.0, 0.0)),
            ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
            ((0.0, 1.0, 0.0), (-1.0, 0.0, self.board.width)),
        )[at]

    @property
    def solid(self) -> Prism:
        """What is removed; it reaches off the board at its edge and at open ends."""
        (low, high), (first, last) = self.stretch, self.open_ends
        step = rectangle(-BEYOND, low - BEYOND * first, self.width, high + BEYOND * last)
        return Prism(step.transformed(self.matrix), self.depth)

    def taken(self) -> tuple[Taken, ...]:
        """The step in its board; a through one shows in the end grain of no other board."""
        return (Taken(self.name, self.board, self.face, self.solid, what="the rabbet"),)


def rabbet(entry: RabbetEntry, job: Job) -> Rabbet:
    """The rabbet of a job's entry, judged by the rules of the trade: see its findings.

    Raises InputError where the entry names a board that the job does not have (a job from a file has been checked).
    """
    board = job.board(entry.board)
    side = board.width if entry.along in ("left", "right") else board.length
    start = entry.start or 0.0
    length = side - start if entry.length is None else entry.length
    sizes = (entry.name, board, entry.face, entry.along, entry.width, entry.depth, start, length)
    return Rabbet(*sizes, findings=tuple(_findings(Rabbet(*sizes), job.voice.length)))


def _findings(it: Rabbet, says: Callable[[float], str]) -> Iterator[Finding]:
    """What the trade has to say about it. says: a length in words."""
    board, (side, across), (low, high) = it.board, it.sides, it.stretch

    def told(level: Level, rule: str, what: str) -> Finding:
        return Finding(level, rule, it.name, what)

    if high > side + SLACK or it.length < SLACK or it.width > across - SLACK:
        what = f"the rabbet begins at {says(low)} along the edge, ends at {says(high)} and goes {says(it.width)} inward"
        where = f"{board.name} is {says(side)} long there and {says(across)} across"
        yield told("stop", "off-board", f"{what}, and {where}: shorten it, or move it")
        return
    deep = f"the rabbet is {says(it.depth)} deep in a board of {says(board.thickness)}"
    left = board.thickness - it.depth
    if it.depth > DEEPEST * board.thickness + SLACK:
        most = says(DEEPEST * board.thickness)
        yield told("stop", "too-deep", f"{deep}: two thirds ({most}) is the most (common practice); cut it shallower")
    elif it.depth > PRACTICE.deepest * board.thickness + SLACK:
        half = says(PRACTICE.deepest * board.thickness)
        yield told("caution", "deep", f"{deep}: more than a half ({half}) weakens the edge (common practice)")
    if left < PRACTICE.least_left - SLACK:
        least = says(PRACTICE.least_left)
        yield told("stop", "thin-left", f"{deep}: only {says(max(left, 0.0))} is left, and {least} has to be")
    if it.width > WIDEST * across + SLACK:
        what = f"the rabbet takes {says(it.width)} of {says(across)} across {board.name}"
        yield told("caution", "too-wide", f"{what}: more than a half thins the board, a rabbet takes less")
    ends = [wood for wood, is_open in zip((low, side - high), it.open_ends, strict=True) if not is_open]
    for where, wood in [("at a stopped end", end) for end in ends] + [("behind the shoulder", across - it.width)]:
        if wood < PRACTICE.short_grain - SLACK:
            what = f"only {says(wood)} of wood stands {where} of {board.name}"
            yield told("caution", "short-grain", f"{what}: under {says(PRACTICE.short_grain)} it may break out")


@dataclass(frozen=True)
class RabbetFit:
    """A rabbet as it was cut, mm: least and greatest of what its shoulder and its cheek measure, beside the drawing."""

    drawn: tuple[float, float]
    width: tuple[float, float]
    depth: tuple[float, float]

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        drawn, width, depth = ([round(mm, 4) for mm in pair] for pair in (self.drawn, self.width, self.depth))
        return {"width_drawn_mm": drawn[0], "width_mm": width, "depth_drawn_mm": drawn[1], "depth_mm": depth}

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        return [f"{voice.span(*self.width)} wide, {voice.span(*self.depth)} deep"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        parts = (("width to the shoulder", 0, self.width), ("depth to the cheek", 1, self.depth))
        says = "the {} of the rabbet measures {} as cut, {} drawn"
        return [says.format(what, voice.span(*cut), voice.length(self.drawn[k])) for what, k, cut in parts]


def _fit(it: Rabbet, file: GcodeFile, text: str, kit: Kit) -> RabbetFit:
    """Measured in the virtual cut of a text at five places along, clear of the corners of stopped ends."""
    from jigcam.making.measured_cut import MeasuredCut

    cut = MeasuredCut.of(file, text, kit.machine)
    radius = max(bit.radius for bit in file.tools.values())
    low, high = (radius * (not is_open) + SLACK for is_open in it.open_ends)
    middle = it.start + 0.5 * it.length
    along = np.linspace(it.start + low, it.start + it.length - high, 5) if low + high < it.length else [middle]

    def at(e: float) -> np.ndarray:
        return apply(it.matrix, [(e, t) for t in along])

    near = it.width - min(0.5, 0.25 * it.width)  # beside the shoulder, mm, where it is the nearest wall
    section = cut.section(-0.5 * it.depth)
    widths = near + section.signed_distance(at(near)) if not section.is_empty else np.zeros(1)
    depths = cut.depths(np.vstack([at(share * it.width) for share in (0.1, 0.5, 0.9)]))
    return RabbetFit(
        (it.width, it.depth), (float(widths.min()), float(widths.max())), (float(depths.min()), float(depths.max()))
    )


@dataclass(frozen=True)
class DirectRabbet(Plan):
    """A rabbet cut on the machine in one setup."""

    rabbet: Rabbet

    def drawings(self) -> Mapping[str, Drawing]:
        """The step on its board's face, and a section across it."""
        from jigcam.drawing import Drawing

        it = self.rabbet
        facts = [("board", f"{it.board.name}, {it.face} face"), ("along", it.along)]
        facts += [("width", self.voice.rule(it.width)), ("depth", self.voice.rule(it.depth))]
        views = (_face_view(it, self.voice.units), _section_view(it))
        return {"rabbet": Drawing(it.name, (views,), self.voice.units, tuple(facts))}

    def joint_words(self) -> list[str]:
        """The joint."""
        from jigcam.making.words import board_words, table

        it, size = self.rabbet, self.voice.rule
        corner, where = ("lower", "end") if it.along in ("left", "right") else ("left", "edge")
        first, last = ("open" if is_open else "stopped" for is_open in it.open_ends)
        rows = [
            ("board", board_words(it.board, it.face, self.voice)),
            ("along", f"its {it.along} {where}"),
            ("starts at", f"{size(it.start)} from the {corner} corner, as seen on the {it.face} face, lower edge down"),
            ("length", f"{size(it.length)}; {first} at its start, {last} at its finish"),
            ("width", size(it.width)),
            ("depth", size(it.depth)),
        ]
        return table("The joint", rows)

    def bench_words(self, number: int) -> list[str]:
        """What is left for the chisel."""
        from jigcam.making.words import section

        work = "Square the corners at the stopped ends with a chisel, from the shoulder outward."
        return [] if all(self.rabbet.open_ends) else section(f"{number}. At the bench", [work])

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Width and depth as the file cuts them."""
        (file,) = files
        return Outcome(fit=_fit(self.rabbet, file, texts[file.file], self.kit))


def _plan(it: Rabbet, entry: RabbetEntry, job: Job, kit: Kit) -> DirectRabbet:
    """The setup that cuts a rabbet. Raises `Refused` where no bit can, or the path is larger than the machine."""
    from jigcam.making.flat import flat_setup
    from jigcam.toolpath.choice import direct_bit
    from jigcam.toolpath.feeds import choose
    from jigcam.toolpath.gap import Mouth
    from jigcam.toolpath.ledge import Ledge, ledge_operations
    from jigcam.toolpath.track import Cutter

    if stops(it.findings):
        raise Refused(f"{it.name}: the rabbet cannot be cut as drawn", it.findings)
    board, voice, through = it.board, job.voice, all(it.open_ends)
    # A stopped end is only reached by a bit that stands on the board with half of its width.
    room = inf if through else min(2.0 * it.width, it.length)
    bit, said = direct_bit(kit, room, it.depth, entry.bit, it.name, voice, "the room at a stopped end")
    cutter = Cutter(bit, choose(bit, board.wood, kit.machine, it.depth, voice=voice), kit.machine)
    ledge = Ledge(Mouth(it.matrix), it.width, *it.stretch, *it.open_ends)
    operations = ledge_operations(ledge, it.depth, cutter, voice)
    setup, far = flat_setup(
        board,
        cutter,
        operations,
        it.solid,
        file="rabbet",
        joint=it.name,
        voice=voice,
        face=it.face,
        hold=HOLD,
        right=it.matrix[0][0] < 0.0,
    )
    what = f"The bit leaves a radius of {job.voice.rule(bit.radius)} at the shoulder of stopped ends for the chisel."
    corners = () if through else (Finding("note", "corners-left", it.name, what),)
    return DirectRabbet(it.name, (setup,), (*it.findings, *said, *far, *corners), kit, job.voice, rabbet=it)


def _face_view(it: Rabbet, units: str) -> View:
    """The face that the step is cut in, lower edge down."""
    from jigcam.drawing import Axes, Dimension, Item, View
    from jigcam.drawing.scenes.board import edge_labels, outline, place_dimensions, window_on

    board = it.board
    seen = intersection(it.solid.region, rectangle(0.0, 0.0, board.length, board.width))
    window = window_on(board.length, board.width, seen.bounds)
    (low, high), aside = it.stretch, it.start + 0.35 * it.length
    places = [(it.width, low), (it.width, high), (0.0, aside), (it.width, aside)]
    start, end, edge, shoulder = ((float(x), float(y)) for x, y in apply(it.matrix, places))
    (a, b, _), (c, d, _) = it.matrix
    inward = 10.0 * (b * c - a * d)  # mm, to the left of the way from start to end
    dimensions = [Dimension(start, end, inward), Dimension(edge, shoulder, 0.0)]
    if not it.open_ends[0]:
        way = "y" if it.along in ("left", "right") else "x"
        dimensions += [each for each in place_dimensions(board, it.face, window, start, units) if each.along == way]
    items = (*outline(window), Item("cut", seen, True))
    axes = Axes(origin=None if window.cut[0] or window.cut[1] else (0.0, 0.0))
    caption = f"{it.face} face of {board.name}, lower edge down"
    return View(caption, items, tuple(edge_labels(board, it.face, window, units)), tuple(dimensions), (), axes)


def _section_view(it: Rabbet) -> View:
    """Across the edge, the face up, the edge on the left."""
    from jigcam.drawing import Dimension, Item, View
    from jigcam.drawing.scenes.board import break_line

    thick, far = it.board.thickness, it.width + max(1.5 * it.width, 20.0)
    step = [(far, 0.0), (it.width, 0.0), (it.width, -it.depth), (0.0, -it.depth), (0.0, -thick), (far, -thick)]
    items = (
        Item("stock", Region((Path.through(step, closed=True),)), True, outlined=False),
        Item("stock", Path.through(step)),
        Item("break", break_line((far, -thick), (far, 0.0), min(3.0, 0.1 * thick))),
    )
    dimensions = (
        Dimension((0.0, -it.depth), (it.width, 0.0), it.depth + 6.0, along="x"),
        Dimension((0.0, -it.depth), (0.0, 0.0), 8.0, along="y"),
        Dimension((0.0, -thick), (0.0, -it.depth), 8.0, along="y"),
        Dimension((far, -thick), (far, 0.0), -8.0, along="y"),
    )
    return View(f"across the {it.name}", items, (), dimensions, minor=True)


def _starter(units: str) -> str:
    """A commented job: the rabbet for the back of the cabinet."""
    sizes = {
        "in": ("inch-shop", 15.25, "11-1/4", "15/16", "1/4", "3/8", "1/2", 14.25, "straight 1/4"),
        "mm": ("metric-shop", 385, 285, 24, 6.5, 9.5, 12, 361, "straight 10"),
    }[units]
    said = (f'"{size}"' if isinstance(size, str) else str(size) for size in sizes)
    kit, length, width, thickness, inward, depth, start, run, bit = (text.ljust(22) for text in said)
    return f"""\
# A rabbet: a step along an end or an edge of a board, right through or stopped. A starting point: change what you need,
#   jigcam check rabbet.toml      computes and proves it, writes nothing
#   jigcam make  rabbet.toml      writes tool path, picture and setup sheet into out/
#
# Lengths: bare numbers are in `units`; text may carry its own: "1-3/8 in", "9.5 mm", "7/16".
# Directions are those you see looking square at the named face, lower edge down. Ends keep the names that they have on
# the outside face: seen from the inside, the left end is on the right.

job   = "Sheet-music cabinet"
units = "{units}"
kit   = {kit}  # what is in the shop: see `jigcam kit`; or the path of your own kit file

[boards.side]                   # measured, not nominal; its lower edge is the front of the cabinet
length    = {length.strip()}
width     = {width.strip()}
thickness = {thickness.strip()}
wood      = "black cherry"      # optional
sawn      = "quarter"           # optional: quarter | rift | flat

[[joints]]
name   = "back"                 # the cabinet's back lies in it
kind   = "rabbet"
board  = "side"
face   = "inside"               # outside | inside
along  = "upper"                # left | right: an end | lower | upper: an edge
width  = {inward} # inward from the edge: as thick as the back
depth  = {depth} # below the face: under half of the thickness
from   = {start} # from the left corner as seen (of an end: the lower one); left out: from the corner
length = {run} # left out: to the other corner. Stopped ends do not show outside
# bit  = {bit} # left out, jigcam chooses from the kit and says why
"""


KIND = Kind(RabbetEntry, rabbet, _plan, _starter, RULES)
