"""Pictures of pieces: outlines and edges, names that do not overlap, boards that are clear of each other when pulled
apart, and which way a piece stands."""

from __future__ import annotations

import io
import re
from itertools import combinations, product

import ezdxf
import numpy as np
import pytest

from jigcam.drawing import dxf, svg, terminal
from jigcam.drawing.plate import Plate
from jigcam.job import Board
from jigcam.piece.board_shape import board_shape
from jigcam.piece.picture import PicturedBoard, piece_drawing, piece_view
from jigcam.piece.pulled_apart import Joining, pulled_apart
from jigcam.piece.standing import StandingBoard, seen_from, standing, turns
from jigcam.units import Voice


def box(name: str, size: tuple[float, float, float], at: tuple[float, float, float]) -> PicturedBoard:
    """A plain board with its sides along the axes of space, its least corner there."""
    board = Board(name=name, length=size[0], width=size[1], thickness=size[2])
    return PicturedBoard(name, board_shape(board, []).moved(np.eye(3), np.array(at) + np.array([0.0, 0.0, size[2]]), 0))


def corners(size: tuple[float, float, float], at: tuple[float, float, float]) -> np.ndarray:
    return np.array([np.array(at) + np.array(size) * share for share in product((0.0, 1.0), repeat=3)])


def test_a_board_has_six_edges_for_its_outline_and_three_within() -> None:
    view = piece_view("a board", [box("side", (300.0, 200.0, 20.0), (0.0, 0.0, 0.0))])
    length = {role: sum(i.shape.length for i in view.items if i.role == role) for role in ("stock", "arris")}
    # Isometric: every edge as long as it is; three of twelve are out of sight.
    assert length["stock"] == pytest.approx(2 * (300.0 + 200.0 + 20.0))
    assert length["arris"] == pytest.approx(300.0 + 200.0 + 20.0)
    (label,) = view.labels
    assert label.text == "side"
    # Drawn as long lines, not as pieces.
    assert len([item for item in view.items if item.role == "stock"]) == 1


def test_what_stands_in_front_hides_what_is_behind() -> None:
    small = box("small", (50.0, 20.0, 50.0), (100.0, 60.0, 30.0))
    tall = box("tall", (300.0, 20.0, 300.0), (0.0, 0.0, 0.0))
    assert [label.text for label in piece_view("", [small, tall]).labels] == ["tall"]
    beside = box("small", (50.0, 20.0, 50.0), (100.0, 60.0, 330.0))
    assert {label.text for label in piece_view("", [beside, tall]).labels} == {"small", "tall"}


def test_names_do_not_overlap_on_paper() -> None:
    slats = [box(f"slat number {n}", (300.0, 100.0, 6.0), (0.0, 0.0, 14.0 * n)) for n in range(12)]
    drawing = piece_drawing("slats", [piece_view("slats", slats)], Voice("mm"))
    assert drawing.smaller == 5.0
    words = Plate(drawing.on_paper.views[0], "mm").ink.words
    assert len(words) == 12
    for one, other in combinations(words, 2):
        (x0, y0), (x1, y1) = one.corners.min(axis=0), one.corners.max(axis=0)
        (u0, v0), (u1, v1) = other.corners.min(axis=0), other.corners.max(axis=0)
        assert min(x1 - u0, u1 - x0, y1 - v0, v1 - y0) <= 0.5, (one.text, other.text)


def test_a_drawing_smaller_than_the_piece_says_so_on_paper_and_keeps_true_size_elsewhere() -> None:
    view = piece_view("a long board", [box("side", (1200.0, 300.0, 20.0), (0.0, 0.0, 0.0))])
    drawing = piece_drawing("side", [view], Voice("mm"))
    assert drawing.smaller == 10.0
    assert "this bar measures 100 mm and stands for 1000 mm" in svg.render(drawing)
    assert "1:10, see the bar" in svg.render(drawing)
    assert "├" in terminal.render(drawing, 80)
    document = ezdxf.read(io.StringIO(dxf.render(drawing).decode()))
    lines = [list(each.get_points("xy")) for each in document.modelspace().query('LWPOLYLINE[layer=="stock"]')]
    wide = np.ptp(np.vstack(lines)[:, 0])
    assert wide == pytest.approx((1200.0 + 300.0) * np.cos(np.pi / 6.0))  # true size, not a tenth of it


# A tray of four walls on a bottom: the bottom goes up into them, then two slats are laid in from above.
SIZES = [(300.0, 10.0, 80.0), (300.0, 10.0, 80.0), (10.0, 180.0, 80.0), (10.0, 180.0, 80.0), (50.0, 180.0, 9.0)]
PLACES = [(0.0, 0.0, 0.0), (0.0, 190.0, 0.0), (0.0, 10.0, 0.0), (290.0, 10.0, 0.0), (100.0, 10.0, 0.0)]
STEPS = [
    Joining(frozenset({2}), frozenset({0}), np.array([0.0, -1.0, 0.0])),
    Joining(frozenset({3}), frozenset({0, 2}), np.array([0.0, -1.0, 0.0])),
    Joining(frozenset({1}), frozenset({0, 2, 3}), np.array([0.0, -1.0, 0.0])),
    Joining(frozenset({4}), frozenset({0, 1, 2, 3}), np.array([0.0, 0.0, -1.0])),
]


def test_boards_pulled_apart_are_clear_of_each_other_and_ways_lead_from_place_to_place() -> None:
    boxes = [corners(size, at) for size, at in zip(SIZES, PLACES, strict=True)]
    meets = [(0, 2, np.array([5.0, 10.0, 40.0])), (1, 2, np.array([5.0, 190.0, 40.0]))]
    apart = pulled_apart(boxes, STEPS, meets)
    moved = [points + by for points, by in zip(boxes, apart.moved, strict=True)]
    for one, other in combinations(moved, 2):
        gaps = np.maximum(one.min(axis=0) - other.max(axis=0), other.min(axis=0) - one.max(axis=0))
        assert gaps.max() > 5.0
    assert apart.moved[0].tolist() == [0.0, 0.0, 0.0]
    assert apart.moved[1][1] > apart.moved[2][1] > 0.0  # what came last goes furthest
    assert apart.moved[4][2] > 80.0
    assert len(apart.ways) == 2
    for (a, b, place), way in zip(meets, apart.ways, strict=True):
        ends = {tuple(np.round(place + apart.moved[n], 6)) for n in (a, b)}
        assert {tuple(np.round(way[0], 6)), tuple(np.round(way[-1], 6))} == ends


def test_boards_that_come_out_side_by_side_stay_side_by_side() -> None:
    case = [corners((300.0, 200.0, 10.0), (0.0, 0.0, z)) for z in (0.0, 300.0)]
    trays = [corners((300.0, 200.0, 10.0), (0.0, 0.0, z)) for z in (100.0, 200.0)]
    ahead = np.array([0.0, -1.0, 0.0])
    steps = [Joining(frozenset({1}), frozenset({0}), np.array([0.0, 0.0, -1.0]))]
    steps += [Joining(frozenset({n}), frozenset(range(n)), ahead) for n in (2, 3)]
    moved = pulled_apart([*case, *trays], steps, []).moved
    assert moved[2][1] == moved[3][1] > 0.0


def seen(name: str, *, middle: tuple[float, ...], along: tuple[float, ...], out: tuple[float, ...]) -> StandingBoard:
    x, z = np.array(along), np.array(out)
    return StandingBoard(name, 1, np.array(middle), x, np.cross(z, x), z)


def test_a_piece_stands_as_its_boards_are_called() -> None:
    assert len(list(turns())) == 24
    # Lying on its side, its back down: the turn brings the top up and the front to the front.
    boards = [
        seen("top", middle=(300.0, 0.0, 0.0), along=(0.0, 1.0, 0.0), out=(1.0, 0.0, 0.0)),
        seen("bottom", middle=(-300.0, 0.0, 0.0), along=(0.0, 1.0, 0.0), out=(-1.0, 0.0, 0.0)),
        seen("drawer front", middle=(0.0, 0.0, 200.0), along=(0.0, 1.0, 0.0), out=(0.0, 0.0, 1.0)),
        seen("left side", middle=(0.0, 250.0, 0.0), along=(1.0, 0.0, 0.0), out=(0.0, 1.0, 0.0)),
    ]
    turn = standing(boards)
    where = [turn @ board.middle for board in boards]
    assert np.allclose(where, [(0, 0, 300.0), (0, 0, -300.0), (0, -200.0, 0), (-250.0, 0, 0)])


def test_a_back_is_behind_whichever_of_its_faces_is_out_and_the_picture_says_so() -> None:
    """A back that lay in its rabbets with its outside face inward was drawn in front of the case, and nothing said that
    the case was seen from behind."""
    side = seen("side", middle=(0.0, 0.0, 0.0), along=(0.0, 0.0, 1.0), out=(-1.0, 0.0, 0.0))
    other = seen("side 2", middle=(400.0, 0.0, 0.0), along=(0.0, 0.0, 1.0), out=(1.0, 0.0, 0.0))
    shelf = seen("shelf", middle=(200.0, 0.0, 100.0), along=(1.0, 0.0, 0.0), out=(0.0, 0.0, 1.0))
    for y in (-60.0, 60.0):
        for out in (-1.0, 1.0):
            back = seen("back", middle=(200.0, y, 0.0), along=(1.0, 0.0, 0.0), out=(0.0, out, 0.0))
            boards = [side, other, shelf, back]
            turn = standing(boards, late=[3])
            assert (turn @ back.middle)[1] > (turn @ side.middle)[1]
            assert seen_from(turn, boards, [3]) == "seen from the front"
            assert seen_from(np.diag([-1.0, -1.0, 1.0]) @ turn, boards, [3]) == "seen from behind"
    # Without a back or a front the edges say it.
    words = seen_from(standing([side, other, shelf]), [side, other, shelf])
    assert re.fullmatch(r"seen from the side of the (lower|upper) edges", words)


def test_a_piece_without_telling_names_stands_on_its_lower_edges() -> None:
    boards = [
        seen("a", middle=(0.0, 0.0, 0.0), along=(1.0, 0.0, 0.0), out=(0.0, 0.0, 1.0)),
        seen("b", middle=(0.0, 0.0, -200.0), along=(-1.0, 0.0, 0.0), out=(0.0, 0.0, -1.0)),
    ]
    turn = standing(boards)
    assert all(np.allclose(turn @ board.upward, (0.0, 0.0, 1.0)) for board in boards)
