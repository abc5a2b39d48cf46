"""Boards in space: where joints put them, against places worked out by hand, and whether pieces close."""

from __future__ import annotations

import math
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.carcases import CORNERS, at, board, job_of, shelf_groove
from support.jobs import toml
from support.shop import jigcam

from jigcam.document import Document
from jigcam.errors import Faults
from jigcam.job import Job
from jigcam.job.loading import job_from
from jigcam.joints import Entries, kind, kind_names
from jigcam.piece import closing_findings, piece_of

FEW = settings(max_examples=12)
EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
CABINET = EXAMPLES / "cabinet.toml"


def carcase(shelf: dict[str, Any], *, side: Any = 500, top: Any = 700, thick: Any = 20, **groove: Any) -> Job:
    boards = {"side": board(side, thickness=thick), "top": board(top), "shelf": shelf}
    return job_of(boards, [CORNERS, shelf_groove(**groove)])


# ---- where joints put boards


def test_boards_of_a_carcase_stand_in_a_ring() -> None:
    """The side lies with its outside at z = 0; the ring is 500 long, and as deep, downward, as the top is long."""
    piece = piece_of(carcase(board(676, width=199.9, thickness=12)))
    assert at(piece, "side", (0, 0, 0)) == [0, 0, 0]
    # The right end of the side meets the left end of a top, whose outside face is flush with the side's end.
    assert at(piece, "top 2", (0, 0, 0)) == [500, 0, 0]
    assert at(piece, "top 2", (700, 280, -20)) == [480, 280, -700]
    # Its left end meets the right end of the other top.
    assert at(piece, "top 1", (700, 0, 0)) == [0, 0, 0]
    assert at(piece, "top 1", (0, 0, 0)) == [0, 0, -700]
    # The other side looks down, its own left end above the first one's right end.
    assert at(piece, "side, opposite hand", (0, 0, 0)) == [500, 0, -700]
    assert at(piece, "side, opposite hand", (500, 280, -20)) == [0, 280, -680]
    # Seen from the inside, x = 150 lies at 500 − 150 from the left end; the shelf stands 8 deep in 20 thick wood.
    assert at(piece, "shelf", (0, 0, -6)) == [350, 40.05, -12]
    assert at(piece, "shelf", (676, 199.9, -6)) == [350, 239.95, -688]
    assert max(each.error for each in piece.closing) < 1e-9
    assert [each.name for each in (placed.copy for placed in piece.placed)] == [
        "side",
        "side, opposite hand",
        "top 1",
        "top 2",
        "shelf",
    ]


@FEW
@given(angle=st.floats(20.0, 160.0), part=st.sampled_from(["left", "right"]))
def test_a_board_in_a_sloping_groove(angle: float, part: str) -> None:
    """Its entering end lies in the groove's bottom, its width along the groove, its lower edge toward the lower one."""
    entry = shelf_groove(angle=angle, opposite_hand=False, enters=part, **{"from": [250, 40]})
    piece = piece_of(job_of({"side": board(500), "shelf": board(676, width=180, thickness=12)}, [entry]))
    radians = math.radians(angle)
    along = np.array([math.cos(radians), math.sin(radians)])
    end = 0.0 if part == "left" else 676.0
    for y in (0.0, 90.0, 180.0):
        # In the frame of the inside face; the shelf lies in the middle of a groove that is 20 longer.
        x_in, y_in = np.array([250.0, 40.0]) + (10.0 + y) * along
        assert at(piece, "shelf", (end, y, -6.0)) == pytest.approx([500.0 - x_in, y_in, -20.0 + 8.0], abs=2e-6)
    out = np.array(at(piece, "shelf", (338.0, 90.0, -6.0))) - at(piece, "shelf", (end, 90.0, -6.0))
    assert out / np.linalg.norm(out) == pytest.approx([0.0, 0.0, -1.0], abs=1e-6)


@pytest.mark.parametrize(("part", "corner"), [("lower", (0.0, 0.0)), ("upper", (0.0, 90.0))])
def test_a_panel_enters_by_an_edge(part: str, corner: tuple[float, float]) -> None:
    entry = shelf_groove(angle=0, length=300, enters=part, opposite_hand=False, **{"from": [50, 30]})
    piece = piece_of(job_of({"side": board(500), "shelf": board(300, width=90, thickness=6)}, [entry]))
    assert at(piece, "shelf", (*corner, -3.0)) == pytest.approx([450.0, 30.0, -12.0])
    far = (300.0, corner[1], -3.0)
    assert at(piece, "shelf", far) == pytest.approx([150.0, 30.0, -12.0])


@pytest.mark.parametrize("lap", [0.0, 5.0])
def test_pins_lie_behind_the_tails_by_the_lap(lap: float) -> None:
    joint = {
        "name": "corner",
        "kind": "half-blind-dovetail" if lap else "through-dovetail",
        "tails": "side",
        "tails_end": "right",
        "pins": "front",
        "pins_end": "left",
        "count": 2,
        "pin": 12,
        "half_pin": 8,
        "slope": "1:7",
        **({"lap": lap} if lap else {}),
    }
    piece = piece_of(job_of({"side": board(250, 100, 12), "front": board(330, 100, 20)}, [joint]))
    # The outside of the front is a lap beyond the ends of the tails; the front's end is flush with the side's outside.
    assert at(piece, "front", (0, 0, 0)) == [250 + lap, 0, 0]
    assert at(piece, "front", (0, 100, -20)) == [230 + lap, 100, 0]
    (contact,) = piece.contacts
    assert piece.apart(contact).tolist() == [[0.0, 0.0, -1.0]], "inward, where the sockets are open"


def test_a_tail_stands_with_its_shoulders_on_the_face() -> None:
    joint = {
        "name": "divider",
        "kind": "sliding-dovetail",
        "socket": "top",
        "face": "inside",
        "from": [200, 20],
        "angle": 90,
        "length": 260,
        "start": "stopped",
        "finish": "open",
        "depth": 8,
        "base": 12,
        "slope": "8 deg",
        "tail": "divider",
        "tail_end": "left",
    }
    piece = piece_of(job_of({"top": board(700), "divider": board(120, 280, 18)}, [joint]))
    (contact,) = piece.contacts
    # Seen from the inside x = 200 is 500 from the left end. The tail is 0.2 shorter than the socket is deep.
    assert at(piece, "divider", (7.8, 0.0, -9.0)) == pytest.approx([500.0, 0.0, -20.0])
    assert piece.apart(contact) == pytest.approx(np.array([[0.0, 1.0, 0.0]]), abs=1e-12), "through its open end alone"


@FEW
@given(angle=st.floats(-180.0, 180.0), mate=st.floats(-180.0, 180.0))
def test_mortises_lie_upon_each_other(angle: float, mate: float) -> None:
    joint = {
        "name": "rail",
        "kind": "mortise",
        "board": "post",
        "face": "inside",
        "at": [200, 40],
        "angle": angle,
        "length": 40,
        "width": 8,
        "depth": 20,
        "mate": {"board": "rail", "end": "right", "at": [40, 12], "angle": mate},
    }
    piece = piece_of(job_of({"post": board(400, 80, 30), "rail": board(500, 80, 24)}, [joint]))
    centre = np.array(at(piece, "rail", (500.0, 40.0, -12.0)))
    assert centre == pytest.approx([200.0, 40.0, -30.0])
    a, b = math.radians(angle), math.radians(mate)
    # In an end x counts from the lower edge and y from the outside face inward.
    there = np.array(at(piece, "rail", (500.0, 40.0 + math.cos(b), -12.0 - math.sin(b)))) - centre
    assert there == pytest.approx([-math.cos(a), math.sin(a), 0.0], abs=3e-6)
    out = np.array(at(piece, "rail", (0.0, 40.0, -12.0))) - centre
    assert out == pytest.approx([0.0, 0.0, -500.0], abs=1e-4)


@pytest.mark.parametrize("name", kind_names())
def test_every_kind_says_how_its_boards_meet_by_motions_that_are_rigid(name: str) -> None:
    document = Document.parse(kind(name).starter("mm"), Path("job.toml"))
    job = job_from(document, Entries())
    piece = piece_of(job)
    assert (len(piece.contacts) == 0) == (name == "key"), "a key names no second board"
    for contact in piece.contacts:
        turn = contact.meeting.motion.turn
        assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
        assert np.linalg.det(turn) == pytest.approx(1.0)
        for way in contact.meeting.apart:
            assert math.hypot(*way) == pytest.approx(1.0)


# ---- closing


@FEW
@given(
    side=st.floats(300.0, 900.0),
    top=st.floats(300.0, 900.0),
    thick=st.floats(12.0, 30.0),
    share=st.floats(0.2, 0.5),
    off=st.floats(-1.0, 2.0),
)
def test_a_shelf_is_off_by_what_it_is_too_long(side: float, top: float, thick: float, share: float, off: float) -> None:
    """Sum by hand: between the sides, and once more the depth of the groove at each end."""
    depth = share * thick
    fitting = top - 2.0 * thick + 2.0 * depth
    job = carcase(board(fitting + off, width=199.9, thickness=12), side=side, top=top, thick=thick, depth=depth)
    errors = [each for each in piece_of(job).closing if each.contact.b.board.name == "shelf"]
    assert [each.error for each in errors] == pytest.approx([abs(off)], abs=1e-6)
    assert [each.gap for each in errors] == pytest.approx([-off], abs=1e-6)
    stops = [each for each in closing_findings(job, piece_of(job)) if each.level == "stop"]
    # What hands and clamps bring together, and the play of the joint, are allowed.
    if abs(off - 0.2) > 1e-3:
        assert bool(stops) == (off > 0.2)


@FEW
@given(top=st.floats(300.0, 900.0), thick=st.floats(12.0, 30.0), share=st.floats(0.2, 0.5), angle=st.floats(60, 120))
def test_a_length_to_fit_is_the_sum_by_hand_in_sloping_grooves_too(
    top: float, thick: float, share: float, angle: float
) -> None:
    job = carcase(board("to fit", width="to fit", thickness=12), top=top, thick=thick, depth=share * thick, angle=angle)
    assert job.board("shelf").length == pytest.approx(top - 2.0 * thick + 2.0 * share * thick, abs=1e-6)
    assert job.board("shelf").width == pytest.approx(200.0 - 0.1), "the groove less its clearance"
    assert max(each.error for each in piece_of(job).closing) < 1e-6


def test_the_top_follows_from_the_shelf_as_well() -> None:
    job = carcase(board(676, width=199.9, thickness=12), top="to fit")
    assert job.board("top").length == pytest.approx(676 - 16 + 40)


def test_several_sizes_follow_at_once() -> None:
    boards = {"side": board(500), "top": board("to fit", "to fit"), "shelf": board(676, 199.9, 12)}
    boards |= {"tray": board("to fit", "to fit", 12)}
    tray = shelf_groove(name="tray", receives="tray", depth=6, **{"from": [300, 40]})
    job = job_of(boards, [CORNERS, shelf_groove(), tray])
    assert (job.board("top").length, job.board("top").width) == pytest.approx((700, 280))
    assert job.board("tray").length == pytest.approx(676 - 4)


@pytest.mark.parametrize("size", ["length", "width"])
def test_a_size_that_does_not_follow_is_a_fault_of_its_key(size: str) -> None:
    with pytest.raises(Faults, match=f"boards.shelf.{size}: the {size} of shelf does not follow from the joints"):
        job_of({"side": board(500), "shelf": {**board(676), size: "to fit"}}, [CORNERS | {"b": "side"}])


def test_the_cabinet_closes_within_a_hundredth() -> None:
    run = jigcam("piece", CABINET, "--json")
    assert run.status == 0, run.err
    assert len(run.json["closing"]) == 8
    assert max(each["error_mm"] for each in run.json["closing"]) < 0.01
    counts = {each["name"]: each["count"] for each in run.json["boards"]}
    assert counts == {
        "side": 2,
        "top": 2,
        "shelf": 1,
        "strip": 1,
        "tray": 4,
        "divider": 1,
        "drawer front": 1,
        "left drawer side": 1,
        "right drawer side": 1,
        "drawer back": 1,
    }


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_example_closes(path: Path) -> None:
    run = jigcam("piece", path, "--json")
    assert run.status == 0, run.out
    assert max([each["error_mm"] for each in run.json["closing"]], default=0.0) < 0.01


def cabinet_with(folder: Path, old: str, new: str) -> Path:
    text = CABINET.read_text("utf-8")
    assert old in text
    path = folder / "cabinet.toml"
    path.write_text(text.replace(old, new, 1), "utf-8")
    return path


SHELF = '[boards.shelf]\nlength    = "26-3/4"'


def test_a_shelf_that_is_too_long_is_told_with_the_length_it_has_to_have(tmp_path: Path) -> None:
    """0.3 mm too long."""
    job = cabinet_with(tmp_path, SHELF, '[boards.shelf]\nlength = "679.75 mm"')
    run = jigcam("piece", job)
    assert run.status == 1
    says = " ".join(run.out.split())
    assert (
        "shelf is 26.762 in (26-49/64 less 0.004) long and has to be 26-3/4 in, by tilted shelf (left end and" in says
    )
    assert "[does-not-close]" in says


def test_make_refuses_what_does_not_close_but_makes_one_joint_all_the_same(tmp_path: Path) -> None:
    boards = {"side": board(500), "top": board(700), "shelf": board(676.3, width=199.9, thickness=12)}
    table = {"job": "Cabinet", "units": "mm", "kit": "metric-shop", "boards": boards}
    (tmp_path / "job.toml").write_text(toml({**table, "joints": [CORNERS, shelf_groove()]}))
    run = jigcam("check", tmp_path / "job.toml")
    assert run.status == 1
    assert "shelf is 676.3 mm long and has to be 676 mm" in " ".join(run.err.split())
    alone = {**table, "joints": [CORNERS, shelf_groove(way="direct", opposite_hand=True)]}
    (tmp_path / "job.toml").write_text(toml(alone))
    assert jigcam("check", tmp_path / "job.toml", "--joint", "shelf").status == 0


def test_a_shelf_that_is_short_stays_off_the_bottom_and_is_no_fault(tmp_path: Path) -> None:
    job = cabinet_with(tmp_path, SHELF, '[boards.shelf]\nlength = "26.7"')
    run = jigcam("piece", job, "--why")
    assert run.status == 0
    assert "stays 0.050 in (3/64 plus 0.003) off the bottom of its groove" in " ".join(run.out.split())


def test_boards_that_are_to_fit_are_made_to_the_same_files(tmp_path: Path) -> None:
    job = cabinet_with(tmp_path, SHELF, '[boards.shelf]\nlength    = "to fit"')
    assert jigcam("piece", job, "--json").json == jigcam("piece", CABINET, "--json").json


def test_a_board_that_is_like_another_takes_the_place_of_one_of_them(tmp_path: Path) -> None:
    job = cabinet_with(tmp_path, "[boards.shelf]", '[boards.bottom]\nlike = "top"\n\n[boards.shelf]')
    run = jigcam("piece", job, "--json")
    assert run.status == 0, run.out
    counts = {each["name"]: (each["count"], each["length_mm"]) for each in run.json["boards"]}
    assert (counts["top"], counts["bottom"]) == ((1, 711.2), (1, 711.2))
    assert max(each["error_mm"] for each in run.json["closing"]) < 0.01
    # The divider, of which there is one, hangs from the board that its joint names.
    meets = {each.where for each in piece_of(job_from(Document.read(job), Entries())).contacts}
    assert "divider: the left end of divider in the socket (inside face) of top" in meets


@pytest.mark.parametrize(
    ("like", "fault"),
    [("tpo", "did you mean 'top'"), ("bottom", "a board is like one that has sizes of its own")],
)
def test_a_board_that_is_like_none_is_one_fault(like: str, fault: str, tmp_path: Path) -> None:
    job = cabinet_with(tmp_path, "[boards.shelf]", f'[boards.bottom]\nlike = "{like}"\n\n[boards.shelf]')
    run = jigcam("piece", job, "--json")
    assert run.status == 2
    assert len(run.json["errors"]) == 1
    assert fault in run.err


def test_counts_of_the_job_go_before_what_its_joints_want() -> None:
    boards = {"side": board(500, count=4), "shelf": board(676, 199.9, 12)}
    piece = piece_of(job_of(boards, [shelf_groove()]))
    assert [placed.copy.name for placed in piece.placed] == ["side 1", "side 2", "side 3", "side 4", "shelf"]
    assert [placed.copy.opposite for placed in piece.placed] == [False, True, False, True, False]
    assert len(piece.contacts) == 2


def test_two_grooves_of_one_board_take_two_shelves_and_two_boards_one_between_them() -> None:
    boards = {"side": board(500), "other side": board(500), "shelf": board(676, 199.9, 12)}
    here, above = (
        shelf_groove(opposite_hand=False),
        shelf_groove(opposite_hand=False, name="above", **{"from": [300, 40]}),
    )
    alone = piece_of(job_of({k: boards[k] for k in ("side", "shelf")}, [here, above]))
    assert [(each.b.name, each.meeting.b_at) for each in alone.contacts] == [
        ("shelf 1", "left end"),
        ("shelf 2", "left end"),
    ]
    between = piece_of(job_of(boards, [here, {**above, "board": "other side", "from": [300, 40]}]))
    assert [(each.a.name, each.b.name, each.meeting.b_at) for each in between.contacts] == [
        ("side", "shelf", "left end"),
        ("other side", "shelf", "right end"),
    ]


@pytest.mark.parametrize("start", list(product([True, False], repeat=2)))
def test_what_enters_lies_at_the_stop_or_at_the_edge(start: tuple[bool, bool]) -> None:
    stopped_start, stopped_finish = start
    ends = {"start": "stopped" if stopped_start else "open", "finish": "stopped" if stopped_finish else "open"}
    length = 280 - 40 * (stopped_start + stopped_finish)
    entry = shelf_groove(length=length, opposite_hand=False, **ends, **{"from": [150, 40 if stopped_start else 0]})
    piece = piece_of(job_of({"side": board(500), "shelf": board(676, 180, 12)}, [entry]))
    y = at(piece, "shelf", (0.0, 0.0, -6.0))[1]
    free = (40 + (length - 180) / 2) if stopped_start and stopped_finish else 40 if stopped_start else length - 180
    assert y == pytest.approx(free if stopped_start or stopped_finish else 0.0)


def test_a_joint_that_cannot_be_as_drawn_stops_the_piece_before_wood_is_bought(tmp_path: Path) -> None:
    """A groove that runs off the board was left out, and the piece told without it."""
    boards = {"side": board(500), "top": board(700), "shelf": board("to fit", "to fit", 12)}
    table = {"job": "Cabinet", "units": "mm", "kit": "metric-shop", "boards": boards}
    (tmp_path / "job.toml").write_text(toml({**table, "joints": [CORNERS, shelf_groove(length=260)]}))
    run = jigcam("piece", tmp_path / "job.toml")
    assert run.status == 1
    assert run.out.startswith("stop")
    assert "board feet" not in run.out
    assert "order" not in run.out
    assert {each["rule"] for each in jigcam("piece", tmp_path / "job.toml", "--json").json["findings"]} >= {"off-board"}
