"""The bar of slow commands: on a terminal after a second, even within one long step; never in a pipe."""

from __future__ import annotations

import io
import sys
import time
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.pseudo_terminal import SGR
from support.shop import jigcam

from jigcam.cli.screen import progress_bar
from jigcam.workshop.viewing import drawings_of_file, view_of_job


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    encoding = "utf-8"

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("seconds", "shows"), [(0.0, False), (1.5, True)])
def test_a_step_of_over_a_second_shows(seconds: float, shows: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.setattr(sys, "stderr", terminal)
    before = sys.stdout
    with progress_bar() as tell:
        assert tell is not None
        assert sys.stdout is before, "its encoding can be asked for"
        tell("the only [step]", 0.5)
        time.sleep(seconds)
    assert ("the only [step]" in terminal.getvalue()) is shows
    # Default ink and cyan of the sixteen, whatever else the terminal can do.
    inks = {each for found in SGR.findall(terminal.getvalue()) for each in found.split(";")}
    assert inks <= {"", "0", "36", "39"}


def test_a_pipe_gets_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.StringIO()
    monkeypatch.setattr(sys, "stderr", stream)
    with progress_bar() as tell:
        assert tell is None
    assert not stream.getvalue()


@pytest.mark.parametrize("what", ["job", "file", "file of the job"])
def test_view_tells_how_far_it_is_and_never_goes_back(what: str, tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table("mm", way="direct", length=60, width=12.5, receives=None))
    assert jigcam("make", job, "-o", tmp_path / "out").status == 0
    file = tmp_path / "out" / "tilted-shelf" / "groove.nc"
    told: list[tuple[str, float]] = []

    def tell(step: str, share: float) -> None:
        told.append((step, share))

    if what == "job":
        drawings = view_of_job(job, None, None, tell).drawings
    else:
        drawings = drawings_of_file(file, job if "job" in what else None, None, None, tell)
    assert drawings
    steps = [step for step, _ in told]
    assert ("plan of joint 1 of 1" if what == "job" else "picture") in steps
    assert ("comparison with the drawing" in steps) is (what == "file of the job")
    proof = [share for step, share in told if not step.startswith("plan")]
    assert proof == sorted(proof)
    assert all(0.0 <= share <= 1.0 for _, share in told)


def test_view_in_a_pipe_says_nothing_of_its_progress(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table("mm", way="direct", length=60, width=12.5, receives=None))
    run = jigcam("view", job)
    assert (run.status, run.err) == (0, "")
    assert "\x1b" not in run.out
