"""`jigcam next`: doing what it says gives the play that the job asks for."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.kinds.sliding_dovetail import sliding_job
from support.shop import jigcam

from jigcam.joints import kind, kind_names

ASKED = 2.0 * 0.1 / math.cos(math.radians(8.0))
"""Play of a clearance of 0.1 mm square to each flank of 8°, mm."""


def test_the_kinds_that_are_fitted_by_test_pieces_are_asked_of_their_rooms(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command had a list of its own, so that a new kind touched a file outside its room."""
    import jigcam.joints.rabbet as room

    fitted = [name for name in kind_names() if kind(name).next_trial]
    job = write_job(tmp_path, job_table("mm"))
    assert f"a joint of kind {' or '.join(fitted)}" in jigcam("next", job, "--gap", "0.1").err
    monkeypatch.setattr(room, "KIND", replace(room.KIND, next_trial=lambda *_: None))
    assert "a joint of kind rabbet or sliding-dovetail" in jigcam("next", job, "--gap", "0.1").err


@pytest.fixture
def table_job(tmp_path: Path) -> Path:
    return write_job(tmp_path, sliding_job(tail_way="router-table", clearance=0.1))


def moves(out: str, which: str) -> tuple[float, str, float, float]:
    """The fence's way in mm, its direction, and where the bit then stands and stood."""
    words = " ".join(out.split())
    found = re.search(
        which
        + r"[^:]*: move (?:the fence|it) ([\d.]+) mm (over|back)[^:]*: the bit then stands ([\d.]+) mm out of it, "
        r"where it stood ([\d.]+) mm",
        words,
    )
    assert found, words
    return float(found[1]), found[2], float(found[3]), float(found[4])


@pytest.mark.parametrize(("gap", "found"), [("0.5mm", 0.5), ("-0.15", -0.15), ("0", 0.0)])
def test_moving_the_fence_as_said_gives_the_play_asked_for(table_job: Path, gap: str, found: float) -> None:
    run = jigcam("next", table_job, "--joint", "divider", "--gap", gap)
    assert run.status == 0
    assert ("too loose by" in run.out) == (found > ASKED)
    for which, faces in (("To cut both faces", 2), ("To cut one face", 1)):
        way, direction, now, before = moves(run.out, which)
        further = way if direction == "back" else -way  # back, away from the bit: more of it stands out
        assert found + faces * further == pytest.approx(ASKED, abs=2e-3)  # a thinner tail is looser
        assert now - before == pytest.approx(further, abs=2e-3)
    assert ("run again" in run.out) == (found < ASKED)  # what was cut away does not come back


def test_in_json_it_says_the_same_in_numbers(table_job: Path) -> None:
    said = json.loads(jigcam("next", table_job, "--gap", "0.02in", "--json").out)
    assert said["play_mm"] == {"found": 0.508, "asked": pytest.approx(ASKED, abs=1e-6)}
    assert 0.508 + 2.0 * said["fence_both_faces_mm"] == pytest.approx(ASKED, abs=1e-5)
    assert 0.508 + said["fence_one_face_mm"] == pytest.approx(ASKED, abs=1e-5)
    assert said["play_per_mm_of_depth"] == pytest.approx(-2.0 * math.tan(math.radians(8.0)), abs=1e-6)
    assert 0.508 - 2.0 * math.tan(math.radians(8.0)) * said["socket_deeper_mm"] == pytest.approx(ASKED, abs=1e-5)


def test_a_piece_that_fits_is_left_alone(table_job: Path) -> None:
    run = jigcam("next", table_job, "--gap", "0.21mm")
    assert "It fits" in run.out
    assert "move" not in run.out


def test_where_the_machine_cuts_the_tail_the_jobs_clearance_makes_up_for_it(tmp_path: Path) -> None:
    job = write_job(tmp_path, sliding_job(clearance=0.1))
    run = jigcam("next", job, "--gap", "0.1mm")
    found = re.search(r'write clearance = "([\d.]+) mm"', run.out)
    assert found
    grown = 2.0 * (float(found[1]) - 0.1) / math.cos(math.radians(8.0))
    assert 0.1 + grown == pytest.approx(ASKED, abs=2e-3)
    assert jigcam("next", job, "--gap", "0.9mm").status == 2  # less than no clearance


@pytest.mark.parametrize(
    ("table", "gap", "says"),
    [
        (job_table("mm"), "0.1mm", "a groove is not fitted by test pieces"),
        (sliding_job(tail_way="router-table"), "40mm", "no setting makes up for that much"),
        (sliding_job(tail_way="router-table"), "-40mm", "no setting makes up for that much"),
        (sliding_job(tail_way="router-table"), "much", "--gap"),
        (sliding_job(tail_way="hand"), "0.1mm", "cut by hand has nothing to set"),
    ],
)
def test_what_has_no_next_setting_is_refused_plainly(
    table: dict[str, object], gap: str, says: str, tmp_path: Path
) -> None:
    job = write_job(tmp_path, table)
    names = re.findall(r'^name *= *"(.*)"', job.read_text("utf-8"), re.MULTILINE)
    run = jigcam("next", job, "--joint", names[-1], "--gap", gap)
    assert run.status == 2
    assert says in run.err
    assert run.out == ""


def test_a_tail_too_loose_without_clearance_is_put_down_to_a_wide_socket_or_a_thick_bit(tmp_path: Path) -> None:
    """A thinner bit leaves a narrower socket and a thicker tail: it was named, and makes the joint tight."""
    job = write_job(tmp_path, sliding_job(tail_way="upright"))
    names = re.findall(r'^name *= *"(.*)"', job.read_text("utf-8"), re.MULTILINE)
    run = jigcam("next", job, "--joint", names[-1], "--gap", "0.5mm")
    assert run.status == 2
    assert "the socket is wider than drawn, or the bit thicker" in " ".join(run.err.split())
