"""The order of work as a sequence: what has to come first does, sheets stay whole, the rest is as the job has it."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from jigcam.piece.work_sequence import Relations, sequence


def ordered(sheets: list[list[int]], hard: dict[int, set[int]], soft: dict[int, set[int]] | None = None) -> list[int]:
    count = sum(map(len, sheets))
    relations = Relations(
        [hard.get(n, set()) for n in range(count)], [(soft or {}).get(n, set()) for n in range(count)]
    )
    return sequence(sheets, relations, lambda one, before: False)


@st.composite
def drawn(draw: st.DrawFn) -> tuple[list[list[int]], dict[int, set[int]]]:
    """Sheets, and relations that some order of all clampings fulfils, a sheet's own order among them."""
    sizes = draw(st.lists(st.integers(1, 3), min_size=1, max_size=5))
    numbers = iter(range(sum(sizes)))
    sheets = [[next(numbers) for _ in range(size)] for size in sizes]
    hard: dict[int, set[int]] = {each: set(sheet[:place]) for sheet in sheets for place, each in enumerate(sheet)}
    # A way through that takes each sheet in its own order.
    turns = draw(st.permutations([place for place, sheet in enumerate(sheets) for _ in sheet]))
    left = [list(sheet) for sheet in sheets]
    way = [left[place].pop(0) for place in turns]
    for one, other in draw(st.lists(st.tuples(st.sampled_from(way), st.sampled_from(way)), max_size=8)):
        first, then = sorted((one, other), key=way.index)
        if first != then:
            hard[then].add(first)
    return sheets, hard


@given(drawn())
def test_what_can_be_fulfilled_is(given_: tuple[list[list[int]], dict[int, set[int]]]) -> None:
    sheets, hard = given_
    order = ordered(sheets, hard)
    assert sorted(order) == sorted(each for sheet in sheets for each in sheet)
    assert all(order.index(first) < order.index(then) for then in hard for first in hard[then])


@given(st.lists(st.integers(1, 3), min_size=1, max_size=5), st.randoms(use_true_random=False))
def test_sheets_stay_whole_where_an_order_of_whole_sheets_does_it(sizes: list[int], chance: object) -> None:
    numbers = iter(range(sum(sizes)))
    sheets = [[next(numbers) for _ in range(size)] for size in sizes]
    way = [*range(len(sheets))]
    chance.shuffle(way)  # type: ignore[attr-defined]
    hard = {sheets[then][0]: {sheets[first][-1]} for first, then in pairwise(way)}
    assert ordered(sheets, hard) == [each for place in way for each in sheets[place]]


def test_what_is_free_stays_in_the_order_of_the_job() -> None:
    assert ordered([[0], [1], [2], [3]], {}) == [0, 1, 2, 3]
    assert ordered([[0], [1], [2], [3]], {1: {3}}) == [0, 2, 3, 1]
    assert ordered([[0], [1], [2]], {}, {0: {2}}) == [1, 2, 0], "what had better come first does"
    assert ordered([[0], [1], [2]], {2: {0}}, {0: {2}}) == [0, 1, 2], "but not against what has to"


def test_a_sheet_is_left_and_taken_up_again_only_where_another_has_to_come_between() -> None:
    # 0 before the other sheet, which comes before 1.
    assert ordered([[0, 1], [2], [3]], {1: {0, 2}, 2: {0}}) == [3, 0, 2, 1]


def test_in_a_circle_the_least_is_broken_and_what_waits_for_the_circle_comes_after_it() -> None:
    # 0 waits for the circle of 1, 2 and 3; before 3 two have to come, before the others one.
    assert ordered([[0], [1], [2], [3]], {0: {2}, 1: {3}, 2: {3}, 3: {1, 2}}) == [1, 2, 0, 3]


def test_what_lies_in_one_clamping_follows_at_once() -> None:
    relations = Relations([set(), set(), set()], [set(), set(), set()])
    assert sequence([[0], [1], [2]], relations, lambda one, before: (one, before) == (2, 0)) == [0, 2, 1]
