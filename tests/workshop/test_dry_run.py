"""Dry runs are known by what they say that they are for, wherever that stands in their opening comments."""

from __future__ import annotations

import pytest
from support.grooves import groove_job

from jigcam.kit import load_kit
from jigcam.making.dry_run import is_dry_run, made_dry_run, rehearsed
from jigcam.toolpath.rehearsal import DRY_RUN
from jigcam.workshop.build import build_job


def test_a_dry_run_is_known_by_its_comment_and_the_file_that_it_rehearses_is_not_one() -> None:
    kit = load_kit("metric-shop")
    (file,) = build_job(groove_job(way="direct"), kit).gcode_files
    dry = made_dry_run(file, "cabinet", kit.machine)
    assert is_dry_run(dry.content.decode())
    assert not is_dry_run(file.text)
    assert rehearsed(dry.file) == file.file


@pytest.mark.parametrize("comment", [f"({DRY_RUN} by hand)", f"( {DRY_RUN})", f"N10 (first) ({DRY_RUN})"])
def test_it_is_known_with_blanks_and_line_numbers_as_a_hand_may_leave_them(comment: str) -> None:
    assert is_dry_run(f"(file: a/b.nc)\n{comment}\nG21\n")


def test_a_comment_that_only_speaks_of_dry_runs_makes_none() -> None:
    assert not is_dry_run(f"(no {DRY_RUN} this one cuts)\nG21\n")
    assert not is_dry_run("G21\n" * 100 + f"({DRY_RUN})\n")
