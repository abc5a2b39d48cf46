"""What is said of a fit: in the units of the job, and of nothing that is not there."""

from __future__ import annotations

from pathlib import Path

from support.grooves import groove_job, made
from support.jobs import job_table, write_job
from support.shop import jigcam

from jigcam.geometry import bar
from jigcam.joints.groove.fit import groove_fit
from jigcam.units import Voice

HALF_INCH = {"receives": None, "width": 12.7, "clearance": 0.1}


def test_a_width_alone_names_no_mate(tmp_path: Path) -> None:
    """It was "the mate, 0.371 in thick", where the job has no board that goes in."""
    job = write_job(tmp_path, job_table("in", receives=None, width="3/8", from_=[4, 2], angle=90, length=4))
    run = jigcam("make", job, "-o", tmp_path / "out")
    assert run.status == 0, run.err
    sheet = (tmp_path / "out" / "tilted-shelf" / "setup-sheet.txt").read_text("utf-8")
    assert "a part 0.369 in thick has 0.006 in of room" in " ".join(sheet.split())
    assert "mate" not in sheet
    assert "mate" not in run.out


def test_a_fit_that_is_off_is_said_in_the_units_of_the_job() -> None:
    """It said millimetres to a maker in inches."""
    groove = made(groove_job(ends="square", **HALF_INCH))
    line = groove.centreline
    for width, rule in ((12.4, "does-not-fit"), (12.62, "tight"), (13.0, "loose")):
        cut = bar(line.start, line.end, width)
        for unit, other in (("in", " mm"), ("mm", " in,")):
            voice = Voice("in" if unit == "in" else "mm")
            (finding,) = groove_fit(groove, cut, line, "shelf", voice)[1]
            assert finding.rule == rule
            assert f" {unit}" in finding.says
            assert other not in finding.says
