"""Jobs, kits and files that are no files, have no end, or are none of our business."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from support.jobs import job_table, toml, write_job
from support.shop import Run, jigcam

HOSTS = "root:x:0:0:a secret:/root:/bin/sh\n"
KINDS = ("device", "pipe", "endless", "folder", "private", "private with equals", "too long", "binary")


def made(kind: str, folder: Path, suffix: str = ".toml") -> Path:
    """What should not be read, or not be shown."""
    path = folder / f"it{suffix}"
    if kind == "device":
        return Path("/dev/zero")
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "endless":
        path.symlink_to("/dev/urandom")
    elif kind == "folder":
        path.mkdir()
    elif kind == "private":
        path.write_text(HOSTS)
    elif kind == "private with equals":
        path.write_text("[a secret]\nkey = 1\n[a secret]\n")
    elif kind == "binary":
        path.write_bytes(b"\x7fELF a secret \xff\x00")
    else:
        return folder / ("x" * 300 + suffix)
    return path


def in_time(*words: str | Path) -> Run:
    """A run that is over in a minute, whatever it waits for."""
    runs: list[Run] = []
    thread = threading.Thread(target=lambda: runs.append(jigcam(*words)), daemon=True)
    thread.start()
    thread.join(timeout=60)
    assert runs, "still reading, or waiting"
    assert "itself failed" not in runs[0].err
    assert "secret" not in runs[0].out + runs[0].err
    return runs[0]


@pytest.mark.parametrize("kind", KINDS)
def test_as_a_job(kind: str, tmp_path: Path) -> None:
    path = made(kind, tmp_path)
    assert in_time("check", path).status == 2
    assert in_time("check", path, "--json").status == 2
    if path.suffix:
        assert in_time("view", path).status == 2


@pytest.mark.parametrize("kind", KINDS)
def test_as_a_kit(kind: str, tmp_path: Path) -> None:
    path = made(kind, tmp_path)
    job = tmp_path / "job.toml"
    job.write_text(toml({**job_table(), "kit": "inch-shop"}), "utf-8")
    assert in_time("check", job, "--kit", path).status == 2
    assert in_time("kit", path).status == 2
    if kind != "too long":  # no name may be so long, whatever it names
        job.write_text(toml({**job_table(), "kit": os.path.relpath(path, tmp_path)}), "utf-8")
        assert in_time("check", job).status == 2


@pytest.mark.parametrize("kind", KINDS)
def test_as_a_file_to_prove(kind: str, tmp_path: Path) -> None:
    path = made(kind, tmp_path, ".nc")
    job = write_job(tmp_path / "job", job_table("mm", length=60, width=12.5, receives=None))
    assert in_time("prove", path, "--job", job).status in ((1, 2) if "private" in kind or kind == "binary" else (2,))
    in_time("view", path, "--job", job)
    if kind in ("device", "pipe", "endless", "folder", "too long"):
        assert in_time("view", path).status == 2


def test_a_kit_of_a_name_that_no_file_can_have(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table())
    assert in_time("check", job, "--kit", "x" * 5000).status == 2
    assert in_time("check", write_job(tmp_path, {**job_table(), "kit": "a\0b"})).status == 2


@pytest.mark.skipif(os.geteuid() == 0 and not shutil.which("setpriv"), reason="root may read everything")
def test_what_may_not_be_read(tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    job = write_job(closed / "within", job_table("mm", length=60, width=12.5, receives=None))
    open_job = write_job(tmp_path / "open", job_table("mm", length=60, width=12.5, receives=None))
    (tmp_path / "listed").mkdir()
    (tmp_path / "listed" / "shut").mkdir()
    for path in (closed, tmp_path / "listed" / "shut"):
        path.chmod(0)
    for words in (
        ["check", str(job)],
        ["check", str(open_job), "--kit", str(job)],
        ["prove", str(job), "--job", str(open_job)],
        ["make", str(open_job), "-o", str(closed / "out")],
        ["make", str(open_job), "-o", str(closed / "deep" / "out"), "--replace"],
        ["make", str(open_job), "-o", str(tmp_path / "listed"), "--replace"],
        ["start", "groove", "-o", str(closed / "new.toml")],
    ):
        command = [sys.executable, "-m", "jigcam", *words]
        if os.geteuid() == 0:
            command = ["setpriv", "--bounding-set=-dac_override,-dac_read_search", "--inh-caps=-all", *command]
        run = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
        assert (run.returncode, run.stdout) == (2, ""), words
        assert os.strerror(errno.EACCES) in run.stderr, words
    for path in (closed, tmp_path / "listed" / "shut"):
        path.chmod(0o755)
    assert {path.name for path in closed.iterdir()} == {"within"}
