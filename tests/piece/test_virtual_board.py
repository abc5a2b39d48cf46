"""All files of a board cut virtually into one board: what they leave between joints, against the drawing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from support.boards import along, board_job, bow_ties, dado, tails

from jigcam.geometry import Region
from jigcam.job import Entry, Job
from jigcam.joints import design
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.kit import Kit, load_kit
from jigcam.making.made_joint import MadeJoint
from jigcam.piece import MadeTexts, Piece, PieceJoint, as_cut, between
from jigcam.piece.virtual_board import RiddenGround, left_between, untouched, whole_web
from jigcam.workshop.build import PlannedJob, build_job, planned_job

KIT = load_kit("metric-shop")
TRUE = 0.012
"""Both walls within their gouge, mm."""


def test_places_that_no_joint_takes_are_those_of_the_whole_grid() -> None:
    for board in planned_job(board_job(dado("one", 100.0), tails()), KIT).piece.boards:
        length, width, thickness = board.board.length, board.board.width, board.board.thickness
        wanted = []
        for depth in (np.arange(4) + 0.5) / 4 * thickness:
            plan = [((i + 0.5) / 48 * length, (j + 0.5) / 24 * width) for i in range(48) for j in range(24)]
            free = np.ones(len(plan), bool)
            for body in board.bodies:
                for near in (depth - 0.1, depth, depth + 0.1):
                    section = body.section(float(near))
                    free &= section.is_empty or section.signed_distance(plan) < -0.1
            wanted.append(np.column_stack([np.array(plan)[free], np.full(int(free.sum()), -depth)]))
        found = untouched(board)
        assert len(found) < 48 * 24 * 4
        assert np.array_equal(found, np.concatenate(wanted))


def made(planned: PlannedJob, texts: dict[str, PlannedJob] | None = None) -> list[MadeTexts]:
    """The joints with their own texts, or by the name of a joint with those of another job's."""

    def of(each: MadeJoint) -> MadeTexts:
        source = next(j for j in (texts or {}).get(each.name, planned).joints if j.name == each.name)
        return MadeTexts(each, source.texts, each.judged(source.texts))

    return [of(each) for each in planned.joints]


def measured(planned: PlannedJob, texts: dict[str, PlannedJob] | None = None) -> list[tuple[float, float]]:
    """For each web between two joints, what the texts leave of it and what is drawn."""
    joints = made(planned, texts)
    found = []
    for board in planned.piece.boards:
        cuttings = [cutting for each in joints for cutting in each.cuttings(board)]
        for pair in planned.piece.pairs:
            web = whole_web(pair, board)
            if (pair.a.taken.board.name, pair.a.taken.hand) == (board.board.name, board.hand) and web:
                found.append((float(left_between(cuttings, web).min()), web.size))
    return found


PAIRS: dict[str, tuple[Entry, ...]] = {
    "side by side, inside": (dado("one", 100.0), dado("other", 115.0)),
    "side by side, outside": (dado("one", 100.0, face="outside"), dado("other", 115.0, face="outside")),
    "opposite faces": (dado("one", 100.0), dado("other", 200.0, face="outside")),
    "opposite faces, past each other": (
        dado("one", 100.0, depth=12.0),
        dado("other", 184.0, face="outside", depth=12.0),
    ),
    "opposite faces, aslant": (dado("one", 100.0), dado("other", 186.0, face="outside")),
    "both hands": (dado("one", 100.0, opposite_hand=True), dado("other", 115.0, opposite_hand=True)),
    "by template": (dado("one", 100.0, way="template"), dado("other", 115.0, way="template", opposite_hand=True)),
    "a groove before tails upright": (tails(), dado("shelf", 14.0 + 16.0)),
    "a groove before tails flat": (tails(tails_setup="flat"), dado("shelf", 14.0 + 16.0)),
    "a groove before tails on the left": (tails(tails_end="left", pins_end="right"), dado("shelf", 270.0)),
    "a groove before relieved tails": (tails(tails_setup="flat", corners="relieved"), dado("shelf", 14.0 + 16.0)),
    "a groove before pins": (tails(), dado("shelf", 30.0, board="top", length=90.0, face="outside", depth=5.0)),
    "a groove before pins flat": (
        tails(pins_setup="flat"),
        dado("shelf", 30.0, board="top", length=90.0, face="outside", depth=5.0),
    ),
    "a groove beside a key": (bow_ties(count=1, spacing=None), dado("shelf", 173.0, face="outside")),
}


def planned(*joints: Entry, kit: Kit = KIT) -> PlannedJob:
    job: Job = board_job(*joints)
    return planned_job(job, kit)


@pytest.mark.parametrize("name", PAIRS)
def test_files_leave_the_wall_that_is_drawn(name: str) -> None:
    drawing = planned(*PAIRS[name])
    walls = measured(drawing)
    assert walls
    for left, drawn in walls:
        assert drawn < 12.0
        assert left > drawn - TRUE
        # Whole walls and not what the ends of a search would say; corners left round leave more.
        assert left < drawn + 1.5
    assert not as_cut(drawing.piece, made(drawing))


@pytest.mark.parametrize(
    ("joint", "moved"),
    [
        (dado("other", 115.0), dado("other", 114.6)),
        (dado("other", 115.0, opposite_hand=True), dado("other", 114.6, opposite_hand=True)),
        (dado("other", 115.0, way="template"), dado("other", 114.6, way="template")),
        (dado("other", 200.0, face="outside"), dado("other", 200.0, face="outside", depth=6.4)),
    ],
)
def test_a_text_that_takes_more_of_a_wall_is_refused(joint: GrooveEntry, moved: GrooveEntry) -> None:
    one = dado("one", 100.0, opposite_hand=True)
    drawn, other = planned(one, joint), planned(one, moved)
    found = as_cut(drawn.piece, made(drawn, {"other": other}))
    assert {each.finding.level for each in found} == {"stop"}
    assert {each.finding.rule for each in found} == {"thinner-as-cut"}
    hands = {each.hand for each in found}
    assert hands == ({"as drawn", "opposite"} if joint.opposite_hand else {"as drawn"})
    drawn_wall = 3.0 if joint.face == "inside" else 19.05 - 12.0
    stays = float(found[0].finding.says.removeprefix("as the files cut it, ").partition(" mm")[0])
    assert stays == pytest.approx(drawn_wall - 0.4, abs=TRUE)


def test_the_measure_is_by_how_much_the_text_is_moved() -> None:
    one = dado("one", 100.0)
    drawn, other = planned(one, dado("other", 115.0)), planned(one, dado("other", 114.6))
    ((left, web),) = measured(drawn, {"other": other})
    assert web == pytest.approx(3.0)
    assert left == pytest.approx(2.6, abs=TRUE)


def test_a_groove_moved_toward_tails_is_found_in_the_board_of_both() -> None:
    corner = tails()
    drawn = planned(corner, dado("shelf", 30.0))
    moved = planned(corner, dado("shelf", 29.7))
    assert [each.finding.rule for each in as_cut(drawn.piece, made(drawn, {"shelf": moved}))] == ["thinner-as-cut"]


def test_a_third_cut_across_a_wall_is_no_fault_of_the_files() -> None:
    across = along("back", 45.0, width=40.0, length=150.0, finish="stopped")
    drawn = planned(dado("one", 100.0), dado("other", 115.0), across)
    assert not as_cut(drawn.piece, made(drawn))


def test_a_file_zeroed_on_the_wrong_end_is_found_against_the_other_joint() -> None:
    drawn = planned(dado("one", 145.0), dado("other", 160.0))
    other = drawn.joints[1]
    (file,) = other.files
    # The same text from the other end: its groove lies on the first one's side of the web.
    wrong = replace(file.setup, placement=((1.0, 0.0, 4.0), (0.0, 1.0, 0.0)))
    moved = replace(other, files=(replace(file, setup=wrong),))
    texts = [MadeTexts(each, each.texts, each.judged(each.texts)) for each in (drawn.joints[0], moved)]
    found = as_cut(drawn.piece, texts)
    assert [each.finding.rule for each in found] == ["stray-cut", "thinner-as-cut"]
    assert found[0].joints == ("other",)


@pytest.mark.parametrize("wrong", ["other face", "other hand"])
def test_files_that_lie_elsewhere_on_the_board_cut_what_no_joint_takes(wrong: str) -> None:
    drawn = planned(dado("one", 60.0), dado("other", 100.0, start_point=(40.0, 10.0), angle=0.5, start="stopped"))
    other = drawn.joints[1]
    (file,) = other.files
    (a, b, c), row = file.setup.placement
    changes: dict[str, Any] = {
        "other face": {"face": "outside"},
        "other hand": {"placement": ((-a, b, c + 300.0), row)},
    }
    moved = replace(other, files=(replace(file, setup=replace(file.setup, **changes[wrong])),))
    texts = [MadeTexts(each, each.texts, each.judged(each.texts)) for each in (drawn.joints[0], moved)]
    assert "stray-cut" in {each.finding.rule for each in as_cut(drawn.piece, texts)}
    assert not as_cut(drawn.piece, made(drawn))


def test_edited_files_are_judged_with_the_others_of_their_board(tmp_path: Any) -> None:
    from jigcam.workshop.prove_file import prove_file

    job = board_job(dado("one", 100.0), dado("other", 115.0))
    file = build_job(job, KIT).gcode_files[1]
    path = tmp_path / "groove.nc"
    path.write_text(file.text, "ascii")
    proof = prove_file(path, job, KIT)
    assert [each.rule for each in proof.together] == ["web"]
    assert "web" in {each.rule for each in proof.findings}
    moved = build_job(board_job(dado("one", 100.0), dado("other", 114.6)), KIT).gcode_files[1]
    path.write_text(moved.text, "ascii")
    assert "thinner-as-cut" in {each.rule for each in prove_file(path, job, KIT).findings}


def test_a_board_of_twenty_joints_meets_only_its_neighbours(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    real = between.intersection

    def counted(a: Region, b: Region) -> Region:
        asked.append(1)
        return real(a, b)

    monkeypatch.setattr(between, "intersection", counted)
    long = board_job(*(dado(f"shelf {n}", 20.0 + 30.0 * n, face=("inside", "outside")[n % 2]) for n in range(20)))
    board = long.boards["divider"].model_copy(update={"length": 700.0})
    job = long.model_copy(update={"boards": {**long.boards, "divider": board}})
    piece = Piece(tuple(PieceJoint(each.name, design(each, job).taken()) for each in job.joints), job.voice)
    assert len(piece.joints) == 20
    told = piece.as_drawn
    assert len(piece.pairs) <= 2 * 20
    assert len(asked) <= 2 * len(piece.pairs)
    assert {each.finding.rule for each in told} <= {"core", "web"}


def test_ground_ridden_by_a_template_ends_at_its_floor() -> None:
    (joint,) = planned(dado("one", 100.0, way="template")).joints
    (ridden,) = joint.judged(joint.texts).ridden
    # Inside face: depth from the outside is 19.05 - 6 at its floor; x from the left end as seen from outside is 200.
    z = -19.05 + np.array([0.1, 5.9, 6.1])
    points = np.column_stack([np.full(3, 200.0), np.full(3, 45.0), z])
    assert RiddenGround(ridden).gone(points).tolist() == [True, True, False]
    assert not RiddenGround(ridden).gone(points - [7.0, 0.0, 0.0]).any()
