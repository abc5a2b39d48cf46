"""Boxes that run into each other, directional blocking graphs, and the order that follows: against puzzles, planar
hulls, and brute force over all ways to take a piece apart."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon

from jigcam.piece.blocking import Blocking, Hold, comes_off
from jigcam.piece.boxes import BoardBox, Boxes
from jigcam.piece.order import Order, assembly_order

FloatArray = npt.NDArray[np.float64]
X, Y, Z = np.eye(3)


def box(low: Sequence[float], high: Sequence[float], turn: float = 0.0) -> BoardBox:
    """From its lowest corner to its highest, then turned about the upright line through its middle."""
    a, b = np.asarray(low, float), np.asarray(high, float)
    cos, sin = np.cos(turn), np.sin(turn)
    spin = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
    return BoardBox((a + b) / 2.0, np.diag((b - a) / 2.0) @ spin.T)


def order(boxes: Sequence[BoardBox], holds: Sequence[tuple[int, int, Sequence[FloatArray]]]) -> Order:
    return assembly_order(Blocking.of(Boxes(boxes), [Hold(a, b, np.array(apart), "") for a, b, apart in holds]))


def moves(found: Order) -> list[tuple[tuple[int, ...], tuple[float, ...]]]:
    return [(step.moves, tuple(np.round(step.direction, 9))) for step in found.steps]


# ---- boxes


@given(
    st.lists(st.tuples(*[st.floats(-30.0, 30.0)] * 3, st.floats(0.0, 3.2)), min_size=2, max_size=2),
    st.floats(0.0, 6.3),
)
def test_a_box_pushed_past_another_meets_it_where_the_hull_of_its_way_does(
    places: list[tuple[float, float, float, float]], heading: float
) -> None:
    """Turned about the upright only: then a box is a rectangle times a span, and its way the hull of both its ends."""
    size = np.array([20.0, 8.0, 6.0])
    boxes = [box(np.array(at[:3]) - size / 2.0, np.array(at[:3]) + size / 2.0, at[3]) for at in places]
    direction = np.array([np.cos(heading), np.sin(heading), 0.0])
    plans = [
        np.array([b.middle + sx * b.halves[0] + sy * b.halves[1] for sx, sy in ((1, 1), (1, -1), (-1, -1), (-1, 1))])
        for b in boxes
    ]
    way = MultiPoint(np.vstack([plans[0][:, :2], plans[0][:, :2] + 500.0 * direction[:2]])).convex_hull
    common = way.intersection(Polygon(plans[1][:, :2]))
    tall = size[2] - abs(places[0][2] - places[1][2])
    clear = way.distance(Polygon(plans[1][:, :2])) > 0.1 or tall < 0.04
    deep = not common.buffer(-0.2).is_empty and tall > 0.2
    if deep or clear:
        assert bool(Boxes(boxes).meets(direction)[0, 1]) == bool(deep)
    swept = Boxes(boxes).along(direction)
    assert (swept[1][0, 1] > max(swept[0][0, 1], 0.0)) == bool(Boxes(boxes).meets(direction)[0, 1])


def test_faces_that_touch_slide_and_a_hundredth_of_an_inch_of_overlap_does_not() -> None:
    base = box((0, 0, 0), (100, 20, 20))
    on_it, in_it = box((0, 20, 0), (30, 40, 20)), box((0, 19.7, 0), (30, 40, 20))
    assert not Boxes([on_it, base]).meets(X)[0, 1]
    assert Boxes([in_it, base]).meets(X)[0, 1]
    assert Boxes([in_it, base]).overlap[0, 1] == pytest.approx(0.3)
    assert not Boxes([on_it, base]).meets(Y)[0, 1]
    assert Boxes([on_it, base]).meets(-Y)[0, 1]


# ---- what a cone of directions leaves


def test_sums_of_ways_out_of_a_groove_are_ways_out_and_sliding_dovetails_leave_their_line_alone() -> None:
    groove = np.array([Z, X])
    assert comes_off(groove, np.array([0.6, 0.0, 0.8]))
    assert comes_off(groove, X)
    assert not comes_off(groove, -X)
    assert not comes_off(groove, Y)
    assert comes_off(np.array([Y, -Y]), -Y)
    assert not comes_off(np.array([Y, -Y]), np.array([0.0, 0.8, 0.6]))


# ---- puzzles


def test_a_box_with_a_sliding_lid_closes_by_its_lid_along_its_grooves() -> None:
    """The pencil box (common practice, no source): lid in grooves of three walls, the fourth lower, so it slides in."""
    walls = [
        box((0, 0, 0), (200, 8, 60)),
        box((0, 72, 0), (200, 80, 60)),
        box((0, 8, 0), (8, 72, 60)),
        box((192, 8, 0), (200, 72, 48)),
    ]
    lid = box((4, 4, 50), (200, 76, 56))
    holds = [(0, 2, [Y]), (0, 3, [Y]), (1, 2, [-Y]), (1, 3, [-Y])]
    holds += [(0, 4, [Y, X]), (1, 4, [-Y, X]), (2, 4, [X])]
    found = order([*walls, lid], holds)
    assert found.locked == ()
    assert moves(found)[-1] == ((4,), (-1.0, 0.0, 0.0))
    assert found.steps[-1].onto == (0, 1, 2, 3)


def test_a_lid_in_grooves_of_all_four_walls_is_put_between_the_ends_first_and_both_long_walls_close_over_it() -> None:
    walls = [
        box((0, 0, 0), (200, 8, 60)),
        box((0, 72, 0), (200, 80, 60)),
        box((0, 8, 0), (8, 72, 60)),
        box((192, 8, 0), (200, 72, 60)),
    ]
    lid = box((4, 4, 50), (196, 76, 56))
    corners = [(0, 2, [Y]), (0, 3, [Y]), (1, 2, [-Y]), (1, 3, [-Y])]
    found = order([*walls, lid], [*corners, (0, 4, [Y]), (1, 4, [-Y]), (2, 4, [X]), (3, 4, [-X])])
    assert found.locked == ()
    place = {frozenset((*step.moves, *step.onto)): number for number, step in enumerate(found.steps)}
    assert place[frozenset({2, 3, 4})] < place[frozenset({0, 2, 3, 4})] < place[frozenset({0, 1, 2, 3, 4})]
    # With grooves that are open above it is dropped in last.
    opened = [*corners, (0, 4, [Y, Z]), (1, 4, [-Y, Z]), (2, 4, [X, Z]), (3, 4, [-X, Z])]
    assert moves(order([*walls, lid], opened))[-1] == ((4,), (0.0, 0.0, -1.0))
    # Two corners that go together the other way round, and no wall can come last.
    crossed = [(0, 2, [Y]), (0, 3, [X]), (1, 2, [-X]), (1, 3, [-Y])]
    locked = order([*walls, lid], [*crossed, (0, 4, [Y]), (1, 4, [-Y]), (2, 4, [X]), (3, 4, [-X])]).locked
    assert locked == ((0, 1, 2, 3, 4),)


def test_three_parts_that_each_come_off_another_by_an_axis_of_their_own_lock_each_other() -> None:
    """The three-way lock of burr puzzles (from memory): square to each other, no two share a way out."""
    sticks = [box((0, 0, 0), (60, 10, 10)), box((0, 0, 0), (10, 60, 10)), box((0, 0, 0), (10, 10, 60))]
    assert order(sticks, [(0, 1, [Y]), (1, 2, [Z]), (2, 0, [X])]).locked == ((0, 1, 2),)
    # A key that comes off both along one line opens it, as in each burr that can be put together.
    found = order(sticks, [(0, 1, [Y]), (1, 2, [X, -X]), (2, 0, [X])])
    assert found.locked == ()
    assert moves(found) == [((1,), (0.0, -1.0, 0.0)), ((2,), (1.0, 0.0, 0.0))]


def test_two_halves_are_put_together_each_for_itself_where_no_single_part_comes_off() -> None:
    """Wilson's and Latombe's reason for subassemblies: two pairs that close along x, then meet along y (memory)."""
    parts = [
        box((0, 0, 0), (50, 20, 20)),
        box((50, 0, 0), (100, 20, 20)),
        box((0, 20, 0), (50, 40, 20)),
        box((50, 20, 0), (100, 40, 20)),
    ]
    found = order(parts, [(0, 1, [X]), (2, 3, [X]), (0, 2, [Y]), (1, 3, [Y]), (0, 3, [Y]), (1, 2, [Y])])
    assert moves(found) == [
        ((1,), (-1.0, 0.0, 0.0)),
        ((3,), (-1.0, 0.0, 0.0)),
        ((2, 3), (0.0, -1.0, 0.0)),
    ]
    assert found.steps[-1].onto == (0, 1)


def test_frames_in_frames_go_in_from_the_middle_outward() -> None:
    """Nested frames: bars of each come along y and are covered by the next, which comes along x, and so on."""
    core = [box((-5, -5, 0), (5, 5, 10))]
    holds: list[tuple[int, int, Sequence[FloatArray]]] = []
    reach, inner = 5.0, [0]
    for ring in range(4):
        way = (Y, X)[ring % 2]
        cross = X if way is Y else Y
        bars = []
        for sign in (1.0, -1.0):
            middle = sign * (reach + 2.5) * way
            halves = (reach + 5.0) * cross + 2.5 * way + 5.0 * Z
            at = middle + 5.0 * Z
            core.append(box(at - halves, at + halves))
            bars.append(len(core) - 1)
            holds += [(inside, bars[-1], [sign * way]) for inside in inner]
        inner, reach = bars, reach + 5.0
    found = order(core, holds)
    assert found.locked == ()
    assert sorted(step.moves for step in found.steps) == [(n,) for n in range(1, 9)]
    place = {step.moves[0]: number for number, step in enumerate(found.steps)}
    assert all(place[a] < place[b] for a in range(1, 9) for b in range(1, 9) if (a - 1) // 2 < (b - 1) // 2)


def test_a_board_that_no_joint_holds_blocks_all_the_same() -> None:
    """A drawer rail behind a board that only stands before it: it has to come first."""
    back, rail, cover = box((0, 0, 0), (100, 10, 50)), box((0, 10, 20), (100, 30, 30)), box((0, 30, 0), (100, 40, 50))
    side = box((-10, 0, 0), (0, 40, 50))
    holds = [(0, 1, [Y]), (0, 3, [Y, -X]), (3, 2, [X])]
    found = order([back, rail, cover, side], holds)
    assert found.locked == ()
    # The cover leaves to the side; were it held along y it would have to leave before the rail in any case.
    held = order([back, rail, cover, side], [(0, 1, [Y]), (0, 3, [Y, -X]), (3, 2, [Y])])
    names = [step.moves for step in held.steps]
    assert names.index((1,)) < names.index((2,))


# ---- against brute force


def brute(blocking: Blocking, count: int) -> bool:
    """Whether some way to take it apart exists: all splits in all directions, the parts moved one against the other."""

    @lru_cache(None)
    def comes_apart(parts: frozenset[int]) -> bool:
        if len(parts) == 1:
            return True
        listed = sorted(parts)
        for bits in range(1, 2 ** len(listed) - 1):
            some = frozenset(part for place, part in enumerate(listed) if bits >> place & 1)
            for way in range(len(blocking.directions)):
                held = any(blocking.blocked[way][a] >> b & 1 for a in some for b in parts - some)
                if not held and comes_apart(some) and comes_apart(parts - some):
                    return True
        return False

    return comes_apart(frozenset(range(count)))


CONES = st.sampled_from([(X,), (-X,), (Y,), (-Y,), (X, -X), (Y, -Y), (Z,), (Z, X), (X, Y, -Y)])


@settings(max_examples=150)
@given(st.lists(st.tuples(*[st.integers(0, 3)] * 3), min_size=3, max_size=6, unique=True), st.data())
def test_an_order_is_found_just_where_one_exists(places: list[tuple[int, int, int]], data: st.DataObject) -> None:
    boxes = [box(10.0 * np.array(at), 10.0 * np.array(at) + 10.0) for at in places]
    holds = [
        Hold(data.draw(st.integers(0, number - 1)), number, np.array(data.draw(CONES)), "")
        for number in range(1, len(boxes))
    ]
    pairs = [(a, b) for a in range(len(boxes)) for b in range(a)]
    holds += [Hold(a, b, np.array(data.draw(CONES)), "") for a, b in data.draw(st.lists(st.sampled_from(pairs)))]
    blocking = Blocking.of(Boxes(boxes), holds)
    found = assembly_order(blocking)
    assert (found.locked == ()) == brute(blocking, len(boxes))
    together = {frozenset({number}) for number in range(len(boxes))}
    for part in found.locked:
        assert not brute_splits(blocking, part)
        together = {each for each in together if not each <= set(part)} | {frozenset(part)}
    for step in found.steps:
        some, rest = frozenset(step.moves), frozenset(step.onto)
        assert {some, rest} <= together
        together = (together - {some, rest}) | {some | rest}
        # Axis-aligned: on its way in a cube meets another whose two other spans it shares and that lies behind it.
        axis = int(np.abs(step.direction).argmax())
        for a in some:
            for b in rest:
                joined = [h for h in holds if {h.a, h.b} == {a, b}]
                if joined:
                    out = [-step.direction if h.b == a else step.direction for h in joined]
                    assert all(comes_off(h.apart, way) for h, way in zip(joined, out, strict=True))
                elif all(places[a][k] == places[b][k] for k in range(3) if k != axis):
                    assert (places[a][axis] - places[b][axis]) * step.direction[axis] < 0
    assert together == {frozenset(range(len(boxes)))}


def brute_splits(blocking: Blocking, part: Sequence[int]) -> bool:
    for bits in range(1, 2 ** len(part) - 1):
        some = [each for place, each in enumerate(part) if bits >> place & 1]
        rest = [each for each in part if each not in some]
        for way in range(len(blocking.directions)):
            if not any(blocking.blocked[way][a] >> b & 1 for a in some for b in rest):
                return True
    return False


# ---- growth


def carcase(shelves: int) -> tuple[list[BoardBox], list[Hold]]:
    """Two sides, top and bottom between them, and shelves in grooves that stop, alternately in ones that do not."""
    high = 30.0 * (shelves + 1)
    boxes = [box((0, 0, 0), (20, 300, high)), box((480, 0, 0), (500, 300, high))]
    boxes += [box((0, 0, -20), (500, 300, 0)), box((0, 0, high), (500, 300, high + 20))]
    holds = [Hold(0, n, np.array([X]), "") for n in (2, 3)] + [Hold(1, n, np.array([-X]), "") for n in (2, 3)]
    for shelf in range(shelves):
        boxes.append(box((12, 0, 30 * shelf + 20), (488, 300, 30 * shelf + 35)))
        back = [Y] if shelf % 2 else []
        holds += [Hold(0, 4 + shelf, np.array([X, *back]), ""), Hold(1, 4 + shelf, np.array([-X, *back]), "")]
    return boxes, holds


def test_work_grows_no_faster_than_the_square_of_the_boards() -> None:
    """Calls, of functions and of methods, as a time would depend on the machine: n^2 is 16-fold from 15 to 60 boards.
    What a call of numpy does here is a table of pairs, n^2 by itself."""

    def calls(count: int) -> int:
        boxes, holds = carcase(count - 4)
        found = 0

        def note(_frame: object, event: str, _what: object) -> None:
            nonlocal found
            found += event in ("call", "c_call")

        sys.setprofile(note)
        try:
            assert assembly_order(Blocking.of(Boxes(boxes), holds)).locked == ()
        finally:
            sys.setprofile(None)
        return found

    assert calls(60) < 16.0 * calls(15)
