"""Where `make` writes: folders that are there, cannot be written, are files, or fill up."""

from __future__ import annotations

import errno
import io
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, write_job
from support.shop import content, jigcam


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return write_job(tmp_path / "job", job_table())


def test_a_folder_that_exists_is_left_alone_without_replace(tmp_path: Path, job: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "letter.txt").write_text("keep me")
    before = content(tmp_path)
    run = jigcam("make", job, "-o", out)
    assert (run.status, run.out) == (2, "")
    assert "--replace" in run.err
    run = jigcam("make", job, "-o", out, "--replace")
    assert run.status == 2
    assert "letter.txt" in run.err
    assert content(tmp_path) == before


def test_replace_writes_the_same_folder_anew(tmp_path: Path, job: Path) -> None:
    out = tmp_path / "out"
    assert jigcam("make", job, "-o", out).status == 0
    first = content(out)
    assert jigcam("make", job, "-o", out).status == 2
    assert jigcam("make", job, "-o", out, "--replace").status == 0
    assert content(out) == first
    assert {path.name for path in tmp_path.iterdir()} == {"out", "job"}


def test_a_file_in_the_way(tmp_path: Path, job: Path) -> None:
    (tmp_path / "out").write_text("a file")
    for folder in (tmp_path / "out", tmp_path / "out" / "deeper"):
        run = jigcam("make", job, "-o", folder, "--replace")
        assert (run.status, run.out) == (2, "")
    assert (tmp_path / "out").read_text() == "a file"


@pytest.mark.skipif(os.geteuid() == 0 and not shutil.which("setpriv"), reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(tmp_path: Path, job: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir()
    closed.chmod(0o555)
    command = [sys.executable, "-m", "jigcam", "make", str(job), "-o", str(closed / "out")]
    if os.geteuid() == 0:
        command = ["setpriv", "--bounding-set=-dac_override,-dac_read_search", "--inh-caps=-all", *command]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    closed.chmod(0o755)
    assert run.returncode == 2, run
    assert "Traceback" not in run.stderr
    assert list(closed.iterdir()) == []


@pytest.mark.parametrize("room", [0, 1, 5000, 20000])
def test_a_disk_that_fills_up_leaves_nothing(
    tmp_path: Path, job: Path, room: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    used = 0
    real = io.BufferedWriter

    class Full(io.FileIO):
        def write(self, data: Any, /) -> int:
            nonlocal used
            used += len(data)
            if used > room:
                raise OSError(errno.ENOSPC, "No space left on device")
            return super().write(data)

    def crowded(self: Path, mode: str = "r", *args: Any, **kwargs: Any) -> Any:
        if "w" in mode or "x" in mode:
            return real(Full(self, mode.replace("b", "").replace("t", "")))
        return open(self, mode, *args, **kwargs)

    monkeypatch.setattr(Path, "open", crowded)
    run = jigcam("make", job, "-o", tmp_path / "new" / "out")
    monkeypatch.undo()
    assert run.status == 2
    assert "No space left" in run.err
    assert {path.name for path in tmp_path.iterdir()} == {"job"}


def test_an_interrupt_leaves_nothing(tmp_path: Path, job: Path) -> None:
    code = (
        "import os, sys; from jigcam.cli import main; import jigcam.workshop.folder\n"
        "def stop(handle): raise KeyboardInterrupt\n"
        "os.fsync = stop; main(sys.argv[1:])"
    )
    words = ["make", str(job), "-o", str(tmp_path / "new" / "out")]
    run = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, timeout=120, check=False)
    assert run.returncode == -signal.SIGINT
    assert {path.name for path in tmp_path.iterdir()} == {"job"}


@pytest.mark.parametrize("flags", [[], ["--replace"]], ids=["new", "replace"])
def test_of_two_makes_at_once_one_wins_and_the_other_says_so(tmp_path: Path, job: Path, flags: list[str]) -> None:
    out = tmp_path / "out"
    if flags:
        assert jigcam("make", job, "-o", out).status == 0
    source = (  # both have looked at the folder before either goes on
        "import sys\nfrom jigcam.cli import main\nfrom jigcam.workshop import folder\n"
        "check = folder.check_folder\n"
        "def together(*words, **more):\n"
        "    seen = check(*words, **more)\n"
        "    print('looked', flush=True)\n    sys.stdin.readline()\n    return seen\n"
        "folder.check_folder = together\nmain(sys.argv[1:])\n"
    )
    runs = [
        subprocess.Popen(
            [sys.executable, "-c", source, "make", str(job), "-o", str(out), *flags],
            **dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE),
            text=True,
        )
        for _ in range(2)
    ]
    assert [run.stdout.readline() for run in runs if run.stdout] == ["looked\n"] * 2
    said = {run.communicate("go\n", timeout=120)[1]: run.returncode for run in runs}
    assert sorted(said.values()) == [0, 2]
    assert any("another run" in words for words, status in said.items() if status == 2)
    assert "manifest.json" in content(out)
    assert {path.name for path in tmp_path.iterdir()} == {"out", "job"}
