"""Standard output that is full, closed, or whose reader has left: what was done is said, and the status is right."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.shop import content

from jigcam.cli.screen import MOST_FAULTS

FULL = Path("/dev/full")
NO_ROOM = "No space left on device"
COMMANDS = ("--help", "make --help", "kit inch-shop --json", "start groove")

pytestmark = pytest.mark.skipif(not FULL.exists(), reason="no /dev/full here")


def run(words: str, streams: str, folder: Path) -> tuple[int, str]:
    """The program in a shell with its streams led as said; its status, and what stderr got unless it was led away."""
    said = folder / "stderr"
    shell = f"{{ {sys.executable} -m jigcam {words} {streams}; }} 2>{said}; exit $?"
    if "|" in streams:
        shell = "set -o pipefail; " + shell
    status = subprocess.run(["bash", "-c", shell], cwd=folder, check=False, timeout=120).returncode
    return status, said.read_text("utf-8")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return write_job(tmp_path / "job", job_table("mm", length=60, width=12.5, receives=None))


@pytest.mark.parametrize("words", COMMANDS)
@pytest.mark.parametrize(("streams", "says"), [(">/dev/full", NO_ROOM), (">&-", "Bad file descriptor")])
def test_what_cannot_be_printed_is_an_error(words: str, streams: str, says: str, tmp_path: Path) -> None:
    status, said = run(words, streams, tmp_path)
    assert status == 2
    assert says in said
    assert "nothing was written" in said
    assert len(said.splitlines()) == 3, "and nothing of Python's own"


@pytest.mark.parametrize("words", COMMANDS)
def test_a_reader_that_left_ends_it_quietly(words: str, tmp_path: Path) -> None:
    # A process whose reader has left ends by SIGPIPE, as POSIX has it; shells give that as 128 and its number.
    status, said = run(words, "| true", tmp_path)
    assert said == ""
    assert status in (0, 128 + signal.SIGPIPE), "or it had said all before the reader left"


def test_a_reader_that_left_before_the_first_word(tmp_path: Path, job: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "jigcam", "make", str(job), "-o", str(tmp_path / "out")]
    ended = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, check=False, timeout=120)
    os.close(writing)
    assert (ended.returncode, ended.stderr) == (-signal.SIGPIPE, b"")
    assert "manifest.json" in content(tmp_path / "out")


@pytest.mark.parametrize("flags", ["", "--json"])
@pytest.mark.parametrize("streams", [">/dev/full", ">&-"])
def test_make_says_what_it_has_written_when_it_cannot_print_it(
    streams: str, flags: str, tmp_path: Path, job: Path
) -> None:
    status, said = run(f"make {job} -o out {flags}", streams, tmp_path)
    assert status == 2
    assert "nothing was written" not in said
    assert "all files are written to out" in said
    assert "manifest.json" in content(tmp_path / "out")


def test_start_says_what_it_has_written_when_it_cannot_print_it(tmp_path: Path) -> None:
    status, said = run("start groove -o new.toml --json", ">/dev/full", tmp_path)
    assert status == 2
    assert "new.toml is written" in said
    assert (tmp_path / "new.toml").read_text("utf-8").startswith("#")


def test_check_says_that_it_wrote_nothing(tmp_path: Path, job: Path) -> None:
    status, said = run(f"check {job}", ">/dev/full", tmp_path)
    assert (status, "nothing was written" in said) == (2, True)


@pytest.mark.parametrize("streams", ["2>/dev/full", "2>&-", ">&- 2>&-"])
def test_an_error_stream_that_takes_nothing_changes_no_status(streams: str, tmp_path: Path, job: Path) -> None:
    assert run("mak", streams, tmp_path)[0] == 2
    assert run("check nowhere.toml", streams, tmp_path)[0] == 2
    refused = write_job(tmp_path / "refused", job_table("mm", depth=23.5))
    assert run(f"check {refused}", streams, tmp_path)[0] == 1
    if streams.startswith("2"):
        assert run(f"check {job}", streams, tmp_path)[0] == 0


def test_no_one_gets_more_faults_than_they_can_read(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("[[joints]]\n" * 1000, "utf-8")
    status, said = run("check job.toml", "", tmp_path)
    assert status == 2
    assert said.count("error: ") == MOST_FAULTS + 1
    assert "more faults" in said.splitlines()[-1]
