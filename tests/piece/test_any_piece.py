"""Any joints in one board: what is said of them is true by other sums, whatever hand, order and face."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.boards import board_job, bow_ties, cut, dado, tails

from jigcam.errors import Refused
from jigcam.geometry import slot
from jigcam.job import Entry, kit_for
from jigcam.joints import design, kind, kind_names, load_job
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.piece import RULES, Piece, PieceJoint
from jigcam.piece.between import Between
from jigcam.piece.body import Body
from jigcam.workshop.build import planned_job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.toml"))
across = st.integers(200, 2800).map(lambda n: n / 10)
up = st.integers(200, 700).map(lambda n: n / 10)


@st.composite
def grooves(draw: st.DrawFn, name: str) -> GrooveEntry:
    """A groove anywhere, stopped or open, from either face, for one hand or both."""
    return dado(
        name,
        0.0,
        start_point=(draw(across), draw(up)),
        angle=draw(st.sampled_from([0.0, 30.0, 90.0, 117.0, 180.0, 270.0, 300.0])) * pi / 180.0,
        length=float(draw(st.integers(20, 120))),
        width=float(draw(st.integers(3, 14))),
        depth=draw(st.integers(10, 150)) / 10.0,
        start=draw(st.sampled_from(["open", "stopped"])),
        finish=draw(st.sampled_from(["open", "stopped"])),
        ends=draw(st.sampled_from(["round", "square"])),
        face=draw(st.sampled_from(["outside", "inside"])),
        opposite_hand=draw(st.booleans()),
    )


def piece(*joints: Entry) -> Piece:
    job = board_job(*joints)
    try:
        return Piece(tuple(PieceJoint(each.name, design(each, job).taken()) for each in joints), job.voice)
    except Refused:
        assume(False)
        raise


@settings(max_examples=30)
@given(grooves("one"), grooves("other"), st.permutations(range(4)))
def test_all_that_is_said_is_declared_and_does_not_hang_on_the_order(
    one: GrooveEntry, other: GrooveEntry, order: list[int]
) -> None:
    joints = (tails(), bow_ties(count=1, spacing=None), one, other)

    def told(some: tuple[Entry, ...]) -> set[tuple[str, str, frozenset[str]]]:
        found = piece(*some).as_drawn
        for each in found:
            assert each.finding.level in RULES[each.finding.rule].levels
            assert each.finding.says
        return {(each.finding.rule, each.finding.level, frozenset(each.joints)) for each in found}

    assert told(joints) == told(tuple(joints[n] for n in order))


@settings(max_examples=40)
@given(grooves("one"), grooves("other"))
def test_the_mirrored_board_comes_out_as_the_board(one: GrooveEntry, other: GrooveEntry) -> None:
    both = [each.model_copy(update={"opposite_hand": True}) for each in (one, other)]
    walls: dict[str, list[float]] = {"as drawn": [], "opposite": []}
    for pair in piece(*both).pairs:
        walls[pair.a.taken.hand] += [pair.volume, pair.web.size if pair.web else -1.0]
    assert walls["opposite"] == pytest.approx(walls["as drawn"], rel=1e-6, abs=2e-3)


slots = st.tuples(across, up, across, up, st.integers(3, 16)).filter(
    lambda s: abs(s[0] - s[2]) > 20 and min(s[0], s[2]) > 20
)


@given(slots, slots)
def test_the_wall_between_two_slots_is_that_between_their_centrelines_less_both_halves(
    one: tuple[float, float, float, float, int], other: tuple[float, float, float, float, int]
) -> None:
    lines, bodies = [], []
    for name, (x0, y0, x1, y1, width) in (("one", one), ("other", other)):
        line = shapely.LineString([(x0, y0), (x1, y1)])
        half = width / 2.0 / line.length
        # The slot's extremes lie half a width beyond the line of its middles.
        ends = [(x0 - half * (x1 - x0), y0 - half * (y1 - y0)), (x1 + half * (x1 - x0), y1 + half * (y1 - y0))]
        lines.append(line)
        bodies.append(Body(cut(name, slot(*ends, width), 5.0)))
    gap = lines[0].distance(lines[1]) - (one[4] + other[4]) / 2.0
    pair = Between(*bodies)
    if gap > 1e-3:
        assert pair.web is not None
        assert pair.web.size == pytest.approx(gap, abs=2e-3)
    elif gap < -0.2:
        assert pair.volume > 0.0


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_shipped_examples_have_nothing_between_their_joints(path: Path) -> None:
    """But for the drawer's bottom, whose groove is told to be hidden behind the tails of the front."""
    job = load_job(path)
    told = [each.finding for each in planned_job(job, kit_for(job, None)).piece.as_drawn]
    hidden = ("nothing of it is seen", "covers it")
    assert all(each.level == "note" and any(words in each.says for words in hidden) for each in told)
    assert bool(told) == (path.stem == "cabinet")


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", kind_names())
def test_the_starters_have_nothing_between_their_joints(name: str, units: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(kind(name).starter(units), "utf-8")
    job = load_job(path)
    assert not planned_job(job, kit_for(job, None)).piece.as_drawn


def test_the_carcase_and_the_shelf_of_the_cabinet_go_into_one_side(tmp_path: Path) -> None:
    folder = Path(__file__).parents[2] / "examples" / "music-cabinet"
    carcase, shelf = ((folder / name).read_text("utf-8") for name in ("carcase.toml", "tilted-shelf.toml"))
    board, joint = shelf[shelf.index("[boards.shelf]") : shelf.index("[[joints]]")], shelf[shelf.index("[[joints]]") :]
    # By itself the shelf is a board of 28 in; between the sides it is as long as in the whole cabinet.
    board = board.replace("length    = 28", 'length    = "26-3/4"')
    path = tmp_path / "job.toml"
    path.write_text(f"{carcase}\n{joint}\n{board}", "utf-8")
    job = load_job(path)
    planned = planned_job(job, kit_for(job, None))
    assert len(planned.piece.boards) == 1
    assert {body.taken.joint for body in planned.piece.boards[0].bodies} == {"carcase corners", "tilted shelf"}
    assert not planned.piece.as_drawn
