"""What a file makes a cutter do: its path on the stock seen from above, operations numbered in order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from jigcam.drawing.model import Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.roles import Role
from jigcam.gcode import ARC, RAPID
from jigcam.geometry import Path, Region, disc, rectangle
from jigcam.units import format_length
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.gcode import Reading

SAME_PLACE = 0.5
"""Cuts that start this near to each other are passes of one operation, mm."""
MOST = 60
"""Operations told of at most."""
CROWD = 20
"""Entries of one operation that are all numbered; of more, only the first and the last."""


@dataclass(frozen=True, slots=True)
class Flaw:
    """Somewhere to look: a point, what is wrong there, and by how much. kind: "gouge" or "left"."""

    x: float
    y: float
    says: str
    kind: Role = "gouge"


def scene_program(
    reading: Reading,
    *,
    stock: tuple[float, float, float] | None = None,
    units: str = "mm",
    title: str = "cutter's path",
    targets: Iterable[tuple[Role, Region]] = (),
    places: Sequence[Flaw] = (),
    on_sheet: bool = True,
    corner: tuple[float, float] = (0.0, 0.0),
) -> Drawing:
    """The motions of a file from above, in the file's frame.

    stock: size along x, y, z, its lower left corner at `corner`; left out, only the path is drawn. targets: shapes
    in the file's frame to lay beneath the path, with their roles. places: what the proof found. on_sheet: the stock
    is a blank of sheet stock; otherwise a board.
    """
    motions = reading.motions
    known = np.isfinite(motions["end"][:, :2]).all(axis=1) & np.isfinite(motions["start"][:, :2]).all(axis=1)
    items: list[Item] = []
    right, top = corner[0] + (stock[0] if stock else 0.0), corner[1] + (stock[1] if stock else 0.0)
    if stock:
        items.append(Item("blank" if on_sheet else "stock", rectangle(corner[0], corner[1], right, top)))
    items += [Item(role, region) for role, region in targets]
    items += [Item(role, path) for role, path in runs(motions[known])]
    found = [list(group) for _, group in groupby(enumerate(entries(reading), 1), key=lambda entry: entry[1][3])]
    labels = [
        Label(x, y, str(number), "near", True, weight=2)
        for group in found[:MOST]
        for number, (_, x, y, _) in (group if len(group) <= CROWD else (group[0], group[-1]))
    ]
    notes = [*map(_listed, found[:MOST]), *(["and more"] if len(found) > MOST else [])]
    for place in places:
        items.append(Item(place.kind, disc(place.x, place.y, 1.5), True))
        labels.append(Label(place.x, place.y, place.says, "near", True, weight=5, role=place.kind))
    dimensions: tuple[Dimension, ...] = ()
    if stock:
        dimensions = (
            Dimension(corner, (right, corner[1]), -9.0, along="x"),
            Dimension(corner, (corner[0], top), 9.0, along="y"),
        )
    cutting = motions[known & (motions["kind"] != RAPID)]
    facts = [("moves", str(len(motions)))]
    if stock:
        facts.insert(0, ("stock", " × ".join(format_length(side, units) for side in stock)))
    if len(cutting):
        facts.append(("deepest", format_length(float(np.nanmin(cutting["end"][:, 2])), units)))
    view = View(
        "seen from above, numbers where each operation enters",
        tuple(items),
        tuple(labels),
        dimensions,
        axes=Axes("X", "Y", (0.0, 0.0)),
    )
    return Drawing(title, ((view,),), units, tuple(facts), tuple(notes))


def _listed(same: Sequence[tuple[int, tuple[int, float, float, str]]]) -> str:
    """Numbered entries of one name that follow each other, in words on one line."""
    (first, (line, _, _, name)), (last, (last_line, *_)) = same[0], same[-1]
    words = f"{name.rstrip('.')}, " if name else ""
    return f"{first}: {words}line {line}" if first == last else f"{first} to {last}: {words}lines {line} to {last_line}"


def runs(motions: np.ndarray) -> Iterator[tuple[Role, Path]]:
    """The motions as paths: each run of cutting moves that follow each other is one, and so is each run of rapids.

    Moves straight up or down leave no path. Arcs of the xy plane stay arcs; of other planes, their chords are drawn.
    """
    table = _with_half_turns(motions)
    moving = np.hypot(*(table[:, 2:4] - table[:, :2]).T) > 1e-9
    table = table[moving]
    if not len(table):
        return
    new = np.ones(len(table), bool)
    new[1:] = (table[1:, 5] != table[:-1, 5]) | (np.abs(table[1:, :2] - table[:-1, 2:4]).max(axis=1) > 1e-6)
    for part in np.split(table, np.flatnonzero(new)[1:]):
        rows = np.vstack([part[:, [0, 1, 4]], [[*part[-1, 2:4], 0.0]]])
        yield ("path-rapid" if part[0, 5] else "path-cut"), Path(rows)


def _with_half_turns(motions: np.ndarray) -> np.ndarray:
    """Rows x0, y0, x1, y1, bulge, rapid; arcs of more than half a turn come as two."""
    start, end, centre = motions["start"][:, :2], motions["end"][:, :2], motions["centre"][:, :2]
    arc = (motions["kind"] == ARC) & (motions["plane"] == 0)
    sweep = np.where(arc, motions["sweep"], 0.0)
    rapid = (motions["kind"] == RAPID).astype(float)
    long = np.abs(sweep) > np.pi
    # Half way round, from the start turned about the centre.
    half = sweep / 2
    arm = start - centre
    middle = centre + np.column_stack(
        [arm[:, 0] * np.cos(half) - arm[:, 1] * np.sin(half), arm[:, 0] * np.sin(half) + arm[:, 1] * np.cos(half)]
    )
    first_end = np.where(long[:, None], middle, end)
    bulge = np.clip(np.tan(np.where(long, half, sweep) / 4), -1.0, 1.0)
    first = np.column_stack([start, first_end, bulge, rapid])
    second = np.column_stack([middle, end, bulge, rapid])[long]
    order = np.argsort(np.concatenate([np.arange(len(first)) * 2, np.flatnonzero(long) * 2 + 1]), kind="stable")
    return np.vstack([first, second])[order]


def entries(reading: Reading) -> Iterator[tuple[int, float, float, str]]:
    """Where each operation first cuts: line, x, y and the words of the last comment before it, on one line or more.

    An operation begins where, after a rapid, the tool starts to cut under another comment than before or at another
    place.
    """
    motions = reading.motions
    kinds = motions["kind"]
    begins = np.flatnonzero((kinds != RAPID) & np.r_[True, kinds[:-1] == RAPID])
    comments: list[tuple[int, str]] = []
    ended = -1
    for comment in reading.comments:
        if comment.line == ended + 1:
            comments[-1] = (comments[-1][0], f"{comments[-1][1]} {comment.text.strip()}")
        else:
            comments.append((comment.line, comment.text.strip()))
        ended = comment.line
    place, name = 0, ""
    last: tuple[str, float, float] | None = None
    for index in begins:
        line = int(motions["line"][index])
        while place < len(comments) and comments[place][0] <= line:
            name = comments[place][1]
            place += 1
        x, y = (float(v) for v in motions["start"][index][:2])
        if not (np.isfinite(x) and np.isfinite(y)):
            x, y = (float(v) for v in motions["end"][index][:2])
        if not (np.isfinite(x) and np.isfinite(y)):
            continue
        if last and last[0] == name and np.hypot(x - last[1], y - last[2]) < SAME_PLACE:
            continue
        last = (name, x, y)
        yield line, x, y, name
