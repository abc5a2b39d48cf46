"""Drawings of boards: running figures from the reference edge, sections, ends, against numbers worked out by hand."""

from __future__ import annotations

import itertools
import re
from math import cos, radians, sin, tan
from pathlib import Path

import pytest
from support.every_kind import small
from support.jobs import job_table, write_job
from support.kinds.rabbet import rabbet_job
from support.pieces import BACK, CORNERS, HOUSED, case

from jigcam.drawing.model import Drawing, View
from jigcam.drawing.page import captioned
from jigcam.drawing.running import APART, Running
from jigcam.drawing.sized import fitted
from jigcam.joints import design, load_job
from jigcam.kit import load_kit
from jigcam.piece.board_drawing import board_drawings
from jigcam.workshop.board_drawings import drawings_of_boards
from jigcam.workshop.build import build_job

INCH = 25.4
GROOVE = {"from_": [8.5, 0.75], "angle": 90, "length": 10.5, "ends": "square"}


def drawn(folder: Path, table: dict) -> dict[str, Drawing]:
    """The boards of a job as designed, without tools."""
    job = load_job(write_job(folder, table))
    taken = [each for entry in job.joints for each in design(entry, job).taken()]
    return board_drawings(taken, job.voice, {}, job.title)


def marks(view: View, along: str) -> list[str]:
    """The running figures of a view, from their origin."""
    (running,) = [each for each in view.running if each.along == along]
    return [text for _, _, text in sorted(running.marks, key=lambda mark: abs(mark[0]))]


def test_what_the_mirrored_board_has_is_said_joint_by_joint(tmp_path: Path) -> None:
    """A rabbet that both boards have alike was named nowhere, nor the corners: only grooves have a mirrored file."""
    table = case(HOUSED | {"opposite_hand": True}, BACK, CORNERS)
    job = load_job(write_job(tmp_path, table))
    drawings = drawings_of_boards(build_job(job, load_kit("metric-shop")))
    told = dict(drawings["side"].facts)["hand"]
    mirrored = "one as drawn, and one that has these joints mirrored, left for right: shelf"
    assert told == f"{mirrored}; in both alike: back, corners"


def test_running_figures_of_a_row_of_housings(tmp_path: Path) -> None:
    """Four 1/2 in and 0.006 wide, the first's centre 8-1/2 in from the end, 2-1/4 apart; 3/4 to 11-1/4 in up."""
    table = job_table("in", repeat={"count": 4, "pitch": 2.25}, finish="open", **GROOVE)
    (face, section) = drawn(tmp_path, table)["side"].views
    walls = [8.5 + k * 2.25 + side * 0.253 for k in range(4) for side in (-1, 1)]
    assert marks(face, "x") == [*(f"{wall:.3f}" for wall in walls), "22 (22.000)"]
    assert marks(face, "y") == ["3/4 (0.750)", "11-1/4 (11.250)"]
    figures = [each.figure("in") for each in section.dimensions]
    assert sorted(figures) == ["0.506", "15/16 (0.938)", "5/16 (0.313)"]


def test_a_slanted_groove_is_cut_square_to_its_way(tmp_path: Path) -> None:
    """Across a groove at 78 degrees a section along the board would show 0.506 / sin 78 = 0.517 in."""
    _, section = drawn(tmp_path, job_table("in"))["side"].views
    assert "0.506" in [each.figure("in") for each in section.dimensions]
    assert "plane at 12" in section.caption  # 90 - 78, seen from the outside face


def test_the_jobs_own_numbers_stand_beside_the_extremes_of_a_sloping_groove(tmp_path: Path) -> None:
    """The figures were of the walls' extremes, which no reader could hold against the start that the job gives."""
    drawing = drawn(tmp_path, job_table("in"))["side"]  # from 4, 1-1/2, 8 long at 78 degrees
    (told,) = [note for note in drawing.notes if "centreline" in note]
    assert "starts at x 4 (4.000), y 1-1/2 (1.500)" in told
    assert "8 (8.000) on, at 78°" in told
    ends = re.search(r"ends at x ([\d.]+), y ([\d.]+)", told)
    assert ends
    wanted = (4.0 + 8.0 * cos(radians(78.0)), 1.5 + 8.0 * sin(radians(78.0)))
    assert tuple(map(float, ends.groups())) == pytest.approx(wanted, abs=6e-4)
    (line,) = [item.shape for item in drawing.views[0].items if item.role == "centreline"]
    (x, y), (u, v) = line.start, line.end
    assert (v - y) / (u - x) == pytest.approx(tan(radians(78.0)))
    assert abs((4.0 * INCH - x) * (v - y) - (1.5 * INCH - y) * (u - x)) < 1e-6, "it is drawn through the start"


def test_the_end_of_a_tail_board_says_every_tail_from_the_lower_edge(tmp_path: Path) -> None:
    table = small("through-dovetail")
    job = load_job(write_job(tmp_path, table))
    joint = design(job.joints[0], job)
    (end,) = [view for view in drawn(tmp_path, table)[joint.tail_board.name].views if "end of" in view.caption]
    assert all(at < 0.0 for at, _, _ in end.running[0].marks)  # the right end, whose lower edge is at the right
    flanks = [flank for tail in joint.layout.tails for flank in (tail.lower.end, tail.upper.end)]
    assert marks(end, "x")[:-1] == [f"{flank:.2f}".rstrip("0").rstrip(".") for flank in flanks]


def test_figures_stay_true_at_every_scale(tmp_path: Path) -> None:
    drawing = drawn(tmp_path, job_table("in"))["side"]
    face = drawing.views[0]
    scale, ink = fitted(face, drawing, 180.0, 130.0, (1.0, 0.5, 0.25, 0.125))
    assert scale < 1.0
    told = {words.text for words in ink.words}
    assert {text for each in face.running for _, _, text in each.marks} <= told
    x0, y0, x1, y1 = ink.bounds
    assert x1 - x0 <= 180.01
    assert y1 - y0 <= 130.01


def test_running_figures_stand_apart_and_upright_to_their_line() -> None:
    at = [10.0, 11.0, 12.0, 60.0]
    view = View("", (), running=(Running("x", (0.0, 0.0), tuple((x, 0.0, f"{x:g}") for x in at), -10.0),))
    words = {each.text: each for each in captioned(view, "mm").words}
    places = [words[f"{x:g}"].x for x in at]
    assert min(b - a for a, b in itertools.pairwise(places)) >= APART - 1e-9
    assert {each.angle_deg for each in words.values()} == {90.0}
    assert places[-1] == pytest.approx(60.0 + 1.25)


def test_a_rabbet_is_a_step_at_the_edge_and_no_groove(tmp_path: Path) -> None:
    """Wood was drawn on both sides of it."""
    views = drawn(tmp_path, rabbet_job((160.0, 90.0, 20.0), width=6.0, depth=8.0))["side"].views
    (section,) = [view for view in views if "square across it" in view.caption]
    (stock,) = section.items
    x0, _, x1, _ = stock.shape.bounds
    # 6 wide, and 18 of board beside it on the one side where there is any; 20 thick, 12 left under the step.
    assert x1 - x0 == pytest.approx(24.0)
    assert stock.shape.area == pytest.approx(18.0 * 20.0 + 6.0 * 12.0)
