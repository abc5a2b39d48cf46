"""Finger joints: where the fingers are, what rules and sheets say, and that both boards are cut as they are drawn."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from support.jobs import write_job
from support.kinds.finger_joint import finger_job
from support.shop import jigcam
from support.straight_cuts import gone, straight_moves

from jigcam.job import kit_for
from jigcam.joints import design, load_job
from jigcam.joints.finger_joint import FingerJoint
from jigcam.joints.finger_joint.layout import finger_layout
from jigcam.workshop.build import build_job


def designed(folder: Path, **keys: Any) -> FingerJoint:
    job = load_job(write_job(folder, finger_job(**keys)))
    made = design(job.joints[0], job)
    assert isinstance(made, FingerJoint)
    return made


def edges(it: FingerJoint, part: Any) -> list[float]:
    """Low and high of each slot of a board."""
    return [place for slot in it.slots(part) for place in (slot.low, slot.high)]


# ---- where the fingers are


@given(st.integers(2, 40), st.floats(20.0, 400.0), st.sampled_from(["a", "b"]))
def test_a_count_divides_the_width_evenly_and_the_boards_take_turns(count: int, width: float, first: Any) -> None:
    layout = finger_layout(width, first, count=count, finger=None)
    assert len(layout.intervals) == count
    assert [each.width for each in layout.intervals] == pytest.approx([width / count] * count)
    assert layout.intervals[0].low == 0.0
    assert layout.width == pytest.approx(width)
    owners = [each.owner for each in layout.intervals]
    assert owners[0] == first
    assert all(one != other for one, other in pairwise(owners))


@pytest.mark.parametrize(
    ("finger", "widths"),
    [(20.0, [20, 20, 20]), (25.0, [25, 25, 10]), (59.9999999, [60.0]), (7.0, [7] * 8 + [4])],
)
def test_a_width_leaves_the_rest_to_the_uppermost(finger: float, widths: list[float]) -> None:
    layout = finger_layout(60.0, "a", count=None, finger=finger)
    assert [each.width for each in layout.intervals] == pytest.approx(widths)


def test_clearance_is_taken_from_b_and_not_from_the_edges(tmp_path: Path) -> None:
    it = designed(tmp_path, clearance=0.1)
    assert edges(it, "a") == pytest.approx([12, 24, 36, 48])
    assert edges(it, "b") == pytest.approx([0, 12.1, 23.9, 36.1, 47.9, 60])


def test_clearance_may_come_from_both(tmp_path: Path) -> None:
    it = designed(tmp_path, clearance=0.1, clearance_from="both")
    assert edges(it, "a") == pytest.approx([11.95, 24.05, 35.95, 48.05])
    assert edges(it, "b") == pytest.approx([0, 12.05, 23.95, 36.05, 47.95, 60])


def test_fingers_are_as_long_as_the_other_board_is_thick(tmp_path: Path) -> None:
    it = designed(tmp_path, a=10.0, b=13.0)
    assert (it.depth("a"), it.depth("b")) == (13.0, 10.0)
    a, b = it.taken()
    assert a.solid.section(-1.0).bounds[0] == pytest.approx(180.0 - 13.0)
    assert b.solid.section(-1.0).bounds[2] == pytest.approx(10.0)


@pytest.mark.parametrize(("a_end", "b_end"), [("left", "left"), ("right", "both"), ("both", "left")])
def test_ends_that_turn_a_face_inside_out_are_refused_with_the_cure(a_end: str, b_end: str, tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, finger_job(a_end=a_end, b_end=b_end)), "--json")
    assert run.status == 1
    (stop,) = (each for each in run.json["findings"] if each["level"] == "stop")
    cures = re.findall(r'(\w)_end = "(\w+)"', stop["says"])
    meets = {"left": "right", "right": "left", "both": "both"}
    assert cures == [("b", meets[a_end]), ("a", meets[b_end])]


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("way", "template", 'way = "direct" cuts it'),
        ("bushing", "bushing 17", "without a guide bushing"),
        ("finger", 12.0, "is said once"),
        ("count", None, "is said once"),
        ("count", 1, "number of fingers"),
    ],
)
def test_what_a_finger_joint_does_not_take(key: str, value: Any, says: str, tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, finger_job(**{key: value})))
    assert run.status == 2
    assert says in re.sub(r"\s+", " ", run.err)


# ---- the files, by a judge that shares no code with the program


@pytest.mark.parametrize("first", ["a", "b"])
@pytest.mark.parametrize(("a_end", "b_end"), [("right", "left"), ("left", "right")])
def test_the_boards_mesh_as_their_files_cut_them(first: str, a_end: str, b_end: str, tmp_path: Path) -> None:
    """In each place of the corner there is wood of one board, or a gap no wider than the clearance: by the contract's
    frames (upright: x = y with the left end up, width − y with the right; y from the outside face inward)."""
    wide, thick, clearance = 60.0, {"a": 10.0, "b": 13.0}, 0.1
    table = finger_job(wide, **thick, first=first, a_end=a_end, b_end=b_end, clearance=clearance)
    run = jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out", "--json")
    assert run.status == 0, run.err
    cut = {}
    for entry in run.json["files"]:
        if entry["kind"] == "gcode":
            which = {"side": "a", "end": "b"}[entry["board"]]
            moves = straight_moves((tmp_path / "out" / entry["file"]).read_text("ascii"))
            cut[which] = (moves, entry["bit"]["diameter"] / 2)
    ends = {"a": a_end, "b": b_end}

    def wood(which: str, s: float, inward: float, deep: float) -> bool:
        """inward: from the end of that board; deep: from its outside face."""
        x = s if ends[which] == "left" else wide - s
        return not gone(*cut[which], np.array([x, deep, -inward]))

    fingers = np.arange(6) * 12.0
    for k, (low, high) in enumerate(pairwise(fingers)):
        owner = "ab"[(k + (first == "b")) % 2]
        other = "b" if owner == "a" else "a"
        for u in (0.3, 6.0, 12.7):  # from the end of a inward, and so from the outside face of b
            for v in (0.3, 5.0, 9.7):
                places = {"a": (u, v), "b": (v, u)}
                for s in (low + clearance + 0.02, (low + high) / 2, high - clearance - 0.02):
                    assert wood(owner, s, *places[owner])
                    assert not wood(other, s, *places[other])
                if k:
                    both = [wood(each, low + 0.02, *places[each]) for each in "ab"]
                    assert both.count(True) <= 1, "the cheeks are apart"
    for which in "ab":
        beyond = thick["b" if which == "a" else "a"] + 0.02
        assert all(wood(which, s, beyond, 5.0) for s in np.linspace(0.5, 59.5, 30)), "nothing is cut below the baseline"


def test_a_gang_is_cut_in_one_go(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, finger_job(gang=2)), "-o", tmp_path / "out", "--json")
    entry = next(each for each in run.json["files"] if each["kind"] == "gcode")
    assert entry["stock"][1] == 24.0
    moves = straight_moves((tmp_path / "out" / entry["file"]).read_text("ascii"))
    radius = entry["bit"]["diameter"] / 2
    assert gone(moves, radius, np.array([60.0 - 18.0, 23.9, -11.9])), "the second board, behind the first"
    sheet = re.sub(r"\s+", " ", (tmp_path / "out" / "corner" / "setup-sheet.txt").read_text())
    assert "Stand 2 boards of side one behind the other" in sheet


def test_the_fit_is_what_the_files_cut(tmp_path: Path) -> None:
    """A cheek moved by hand in the text shows as that much in the fit."""
    job = load_job(write_job(tmp_path, finger_job(clearance=0.1)))
    built = build_job(job, kit_for(job))
    (joint,) = built.joints
    fit = joint.plan.judged(joint.files, {file.file: file.text for file in joint.files}).fit_dict()
    assert (fit["least_mm"], fit["most_mm"]) == pytest.approx((0.1, 0.1), abs=2e-3)
    texts = {file.file: file.text for file in joint.files}
    name = next(each for each in texts if "end-left" in each)
    assert "X28.9000" in texts[name], "along the cheek at 23.9, with a bit of 10"
    texts[name] = texts[name].replace("X28.9000", "X28.7500")
    changed = joint.plan.judged(joint.files, texts).fit_dict()
    assert changed["most_mm"] == pytest.approx(0.25, abs=2e-3)
    assert changed["least_mm"] == pytest.approx(0.1, abs=2e-3)


def test_the_bit_is_the_widest_that_goes_between_the_fingers(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, finger_job()), "-o", tmp_path / "out", "--json")
    assert {each["bit"]["diameter"] for each in run.json["files"] if each["kind"] == "gcode"} == {10.0}
    run = jigcam("check", write_job(tmp_path / "wide", finger_job(bit="straight 10", width=45.0)), "--json")
    (stop,) = (each for each in run.json["findings"] if each["level"] == "stop")
    assert stop["rule"] == "bit-too-wide"
    assert "a bit of at most 9 mm" in stop["says"]


# ---- by hand


def test_by_hand_every_line_is_told_from_the_lower_edge(tmp_path: Path) -> None:
    """The sheet is read, and its lines sawn: both boards mesh. A rule shows no tenth of a millimetre: room comes from
    paring the second board, which is marked from the first."""
    run = jigcam("make", write_job(tmp_path, finger_job(way="hand", clearance=0.1)), "-o", tmp_path / "out", "--json")
    assert run.status == 0, run.err
    assert not [each for each in run.json["files"] if each["kind"] == "gcode"]
    sheet = (tmp_path / "out" / "corner" / "setup-sheet.txt").read_text()
    parts = re.split(r"On (\w+), from its lower edge", sheet)[1:]
    waste = {}
    for board, text in zip(parts[::2], parts[1::2], strict=True):
        rows = re.findall(r"slot \d+\s+from (.+?) to (.+)", text.split("Cut the slots")[0])
        waste[board] = [
            (
                0.0 if low.startswith("the lower") else number(low),
                60.0 if high.startswith("the upper") else number(high),
            )
            for low, high in rows
        ]
    left = {board: box(0, 0, 60, 1).difference(union_of(slots)) for board, slots in waste.items()}
    assert left["side"].intersection(left["end"]).area == pytest.approx(0.0, abs=1e-6)
    assert left["side"].union(left["end"]).area == pytest.approx(60.0, abs=1e-6)
    said = re.sub(r"\s+", " ", sheet)
    assert "end is marked from side as it is cut" in said
    assert "0.1 mm at each cheek is meant" in said


def test_with_a_sled_the_slots_come_where_the_drawing_has_them(tmp_path: Path) -> None:
    """The sheet is read, and its sled run: the lower edge against the key, then each slot over it."""
    run = jigcam("make", write_job(tmp_path, finger_job(way="hand", clearance=0.0)), "-o", tmp_path / "out", "--json")
    assert run.status == 0, run.err
    sheet = re.sub(r"\s+", " ", (tmp_path / "out" / "corner" / "setup-sheet.txt").read_text())
    found = re.search(
        r"straight bit ([\d.]+ mm) wide.*? a key ([\d.]+ mm) wide in the sled's fence, ([\d.]+ mm) from", sheet
    )
    assert found
    bit, key, away = map(number, found.groups())
    assert key == bit
    # The board moves: `edge` is where its lower edge is from the near side of the cut, and the key stands at -away.
    cuts, edge = [], -away
    while edge > -60.0:
        cuts.append((-edge, -edge + bit))
        edge = -away - bit - cuts[-1][0]
    it = designed(tmp_path / "drawn", clearance=0.0)
    assert [place for cut in cuts for place in cut] == pytest.approx(edges(it, "a"))
    # The first board turned round: its slot over the key puts its lower edge at the near side of the cut.
    assert -away - bit + cuts[0][1] == pytest.approx(0.0)
    step = re.search(r"they come ([\d.]+ mm) apart", sheet)
    assert step
    assert number(step[1]) == pytest.approx(cuts[1][0] - cuts[0][0])


def test_by_hand_no_file_is_run_and_no_bit_is_asked_for_that_nobody_sells(tmp_path: Path) -> None:
    """A sheet without files said that they were run, and wanted a straight bit 0.8000 in wide."""
    inches = {"units": "in", "kit": "inch-shop"}
    table = finger_job(way="hand", count=5, a_end="both", b_end="both", clearance="0.002")
    table |= inches
    for board in table["boards"].values():
        board |= {"width": 4.0, "length": 10.0, "thickness": 0.75}
    assert jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out").status == 0
    sheet = re.sub(r"\s+", " ", (tmp_path / "out" / "corner" / "setup-sheet.txt").read_text())
    assert "file is run" not in sheet
    assert "every step is done for each" in sheet
    assert "straight bit" not in sheet
    assert "stack a dado set to it" in sheet
    told = re.findall(r"count = (\d+) \(([\d/-]+) in each\)", sheet)
    assert told
    for count, wide in told:  # each of them is a width that a maker's catalogue has, in sixteenths, and fills the board
        size = float(Fraction(wide)) if "-" not in wide else 0.0
        assert size * 16 == int(size * 16)
        assert size * int(count) == pytest.approx(4.0)


def test_a_sled_is_not_offered_for_fingers_of_two_widths(tmp_path: Path) -> None:
    table = finger_job(way="hand", count=None, finger=13.0)
    assert jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out").status == 0
    assert "sled" not in (tmp_path / "out" / "corner" / "setup-sheet.txt").read_text()


def number(said: str) -> float:
    found = re.match(r"([\d.]+) mm", said)
    assert found, said
    return float(found[1])


def union_of(slots: list[tuple[float, float]]) -> Any:
    from shapely import union_all

    return union_all([box(low, 0, high, 1) for low, high in slots])


@settings(max_examples=10, deadline=None)
@given(st.integers(2, 9))
def test_an_odd_count_gives_both_edges_to_one_board(count: int) -> None:
    layout = finger_layout(90.0, "a", count=count, finger=None)
    assert (layout.intervals[0].owner == layout.intervals[-1].owner) == (count % 2 == 1)
