"""The picture of a piece: put together and pulled apart, isometric, with nothing drawn that is out of sight.

Boards stand there with their joints: tails, pins, sockets and grooves are seen where they come to a surface. Outlines
of boards are wide lines, edges within them narrow ones. What is simplified: see `board_shape`; and the clearance of
joints is not seen, as every part is drawn as it is designed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from jigcam.drawing.hidden_lines import Facet, SeenPart, front_solid, seen_parts
from jigcam.drawing.isometric import pictured
from jigcam.drawing.model import Drawing, Item, Label, View
from jigcam.geometry import Path

if TYPE_CHECKING:
    from jigcam.drawing.roles import Role
    from jigcam.piece.board_shape import BoardShape
    from jigcam.units import Unit, Voice

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
Corner = tuple[int, int]
"""A place of the picture in steps of `SAME`."""

SHORTEST: Final = 0.5
"""What is seen of an edge and shorter than this is seen through the clearance of a joint, mm."""
BESIDE: Final = 0.6
"""How far from an edge it is asked what lies on either side of it, mm."""
STEP: Final = 3.0
"""Two boards of which one lies so much deeper beside an edge are apart there: it is an outline, mm."""
SAME: Final = 0.02
"""Ends of lines that are so near are one corner, mm."""
GROUND: Final = 110
"""Places across the picture, along its longer side, at which it is asked which board is seen."""
PAPER: Final = (230.0, 165.0)
"""How wide and how high a picture may stand on paper, mm."""
SMALLER: Final[Mapping[Unit, tuple[float, ...]]] = {
    "in": (1.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 96.0),
    "mm": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0),
}
"""Scales of drawings that are smaller: those of ISO 5455, and those that an inch rule for drawings has (from
memory)."""


@dataclass(frozen=True, eq=False)
class PicturedBoard:
    """A board of the piece where it is drawn. shape: in space, x to the right, y away, z up, mm."""

    name: str
    shape: BoardShape


def piece_view(
    caption: str, boards: Sequence[PicturedBoard], ways: Sequence[FloatArray] = (), named: Set[str] | None = None
) -> View:
    """The boards as seen, with their names. ways: (k, 3), lines by which they come apart. named: the only boards that
    have their names; None for all."""
    turn = pictured(np.eye(3)).T
    shapes = [board.shape.moved(turn, np.zeros(3), number) for number, board in enumerate(boards)]
    facets = [facet for shape in shapes for facet in shape.facets if facet.faces_the_eye]
    edges = np.vstack([np.empty((0, 2, 3)), *(shape.edges for shape in shapes)])
    parts = seen_parts(edges, facets, SHORTEST)
    outlines = _outlines(parts, facets)
    items = [*_items("arris", [p for p, wide in zip(parts, outlines, strict=True) if not wide])]
    items += _items("stock", [p for p, wide in zip(parts, outlines, strict=True) if wide])
    legs = [pair for way in ways for pair in zip(pictured(way), pictured(way)[1:], strict=False)]
    items += _items("parting", seen_parts(np.array(legs).reshape(-1, 2, 3), facets, SHORTEST))
    labels = _labels(boards, facets, parts)
    return View(caption, tuple(items), tuple(each for each in labels if named is None or each.text in named))


def piece_drawing(title: str, views: Sequence[View], voice: Voice, facts: Sequence[tuple[str, str]] = ()) -> Drawing:
    """Views beside each other, in the largest scale in which each of them stands on a small sheet."""
    sides = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in (view.bounds for view in views)]
    least = max((max(wide / PAPER[0], high / PAPER[1]) for wide, high in sides), default=1.0)
    smaller = next((scale for scale in SMALLER[voice.units] if scale >= least), least)
    notes = (
        "Isometric (ISO 5456-3): along the three axes lengths are to scale, across them they are not. Edges out of "
        "sight are not drawn, and round ends of cuts are drawn in chords.",
    )
    return Drawing(title, (tuple(views),), voice.units, tuple(facts), notes, smaller)


def _outlines(parts: Sequence[SeenPart], facets: Sequence[Facet]) -> list[bool]:
    """Whether each part is the outline of a board: beside it there is nothing, or another board lies deeper."""
    if not parts:
        return []
    start, end = np.array([part.start for part in parts]), np.array([part.end for part in parts])
    way = (end - start)[:, :2]
    across = np.column_stack([-way[:, 1], way[:, 0]]) / np.hypot(*way.T)[:, None] * BESIDE
    middle = (start + end)[:, :2] / 2.0
    (left, w_left), (right, w_right) = (front_solid(middle + side * across, facets) for side in (1.0, -1.0))
    with np.errstate(invalid="ignore"):
        deeper = np.abs(w_left - w_right) > STEP
    return list((left != right) & ((left < 0) | (right < 0) | deeper))


def _items(role: Role, parts: Sequence[SeenPart]) -> list[Item]:
    return [Item(role, Path.through(points)) for points in _chains([(p.start[:2], p.end[:2]) for p in parts])]


def _chains(pieces: Sequence[tuple[FloatArray, FloatArray]]) -> Iterator[FloatArray]:
    """Straight pieces joined end to end into lines as long as they come, each piece once."""
    meet: dict[Corner, list[int]] = {}
    for number, piece in enumerate(pieces):
        for end in piece:
            meet.setdefault(_corner(end), []).append(number)
    left = set(range(len(pieces)))
    # From loose ends and forks first, so that lines begin and end there.
    begins = sorted(
        (corner for corner in meet if len(meet[corner]) != 2), key=lambda corner: len(meet[corner]) % 2 == 0
    )
    for corner in [*begins, *meet]:
        while any(number in left for number in meet[corner]):
            yield np.array(list(_chain(corner, pieces, meet, left)))


def _chain(
    corner: Corner, pieces: Sequence[tuple[FloatArray, FloatArray]], meet: Mapping[Corner, list[int]], left: set[int]
) -> Iterator[FloatArray]:
    """The corners of one line, from a corner on, to where it ends or forks; its pieces are then no longer left."""
    number = next((n for n in meet[corner] if n in left), None)
    if number is not None:
        yield next(end for end in pieces[number] if _corner(end) == corner)
    while number is not None:
        left.remove(number)
        a, b = pieces[number]
        end = b if _corner(a) == corner else a
        yield end
        corner = _corner(end)
        number = next((n for n in meet[corner] if n in left), None) if len(meet[corner]) == 2 else None


def _corner(point: FloatArray) -> Corner:
    return round(float(point[0]) / SAME), round(float(point[1]) / SAME)


def _labels(boards: Sequence[PicturedBoard], facets: Sequence[Facet], parts: Sequence[SeenPart]) -> tuple[Label, ...]:
    """Each board's name at the place where most of it is seen around; none where nothing of it is."""
    if not parts:
        return ()
    ends = np.array([place[:2] for part in parts for place in (part.start, part.end)])
    low, high = ends.min(axis=0), ends.max(axis=0)
    step = max(float((high - low).max()) / GROUND, 1e-6)
    u, v = (np.arange(a + step / 2.0, b + step, step) for a, b in zip(low, high, strict=True))
    places = np.stack(np.meshgrid(u, v), axis=-1)
    seen = front_solid(places.reshape(-1, 2), facets)[0].reshape(len(v), len(u))
    labels = []
    for number, board in enumerate(boards):
        room = _room(seen == number)
        if room.any():
            # Of the places with the most room the one in their middle.
            most = np.argwhere(room == room.max())
            row, column = most[int(np.abs(most - most.mean(axis=0)).sum(axis=1).argmin())]
            at = places[row, column]
            # Those with the least room have the fewest places for a name: they come first.
            weight = 1000 - int(room.max())
            labels.append(Label(float(at[0]), float(at[1]), board.name, "on", pointed=True, weight=weight))
    return tuple(labels)


def _room(mine: npt.NDArray[np.bool_]) -> IntArray:
    """How many steps it is from each place of a board to one that is none of it, up, down, left or right."""
    room = np.zeros(mine.shape, np.int64)
    rest = mine
    while rest.any():
        room += rest
        wide = np.pad(rest, 1)
        rest = rest & wide[:-2, 1:-1] & wide[2:, 1:-1] & wide[1:-1, :-2] & wide[1:-1, 2:]
    return room
