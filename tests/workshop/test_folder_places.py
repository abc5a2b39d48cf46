"""Places where no output folder can be: each is a clear error, and nothing there is touched."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.shop import content, jigcam

from jigcam.errors import OutputError
from jigcam.workshop.folder import check_folder, write_folder
from jigcam.workshop.new_file import write_new_file


def refused(folder: Path) -> OutputError:
    """The error of writing there; checking before gives the same."""
    with pytest.raises(OutputError) as checked:
        check_folder(folder, replace=True)
    with pytest.raises(OutputError) as caught:
        write_folder(folder, {"a.nc": b"G0\n"}, replace=True)
    assert caught.value.what == checked.value.what
    return caught.value


def test_the_root_of_a_disk() -> None:
    assert "root of a disk" in refused(Path("/")).what
    assert "root of a disk" in refused(Path("//")).what
    if os.path.ismount("/proc"):
        assert "root of a disk" in refused(Path("/proc")).what


@pytest.mark.parametrize("name", [".", "", "..", "../..", "deep/..", "../here"])
def test_the_folder_that_we_are_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    here = tmp_path / "around" / "here"
    (here / "deep").mkdir(parents=True)
    monkeypatch.chdir(here)
    assert "that you are in" in refused(Path(name)).what
    assert here.is_dir()


@pytest.mark.parametrize("name", ["x" * 256, "x" * 256 + "/out", "/".join(["x" * 200] * 30)])
def test_a_path_that_is_too_long(tmp_path: Path, name: str) -> None:
    assert "too long" in refused(tmp_path / name).found
    assert list(tmp_path.iterdir()) == []


def test_a_path_with_a_null_character(tmp_path: Path) -> None:
    assert "no folder can have this name" in refused(tmp_path / "a\0b").what


def test_a_path_through_a_device_or_a_loop(tmp_path: Path) -> None:
    assert refused(Path("/dev/null/out")).found
    (tmp_path / "loop").symlink_to("loop")
    assert refused(tmp_path / "loop" / "out").found
    assert refused(tmp_path / "loop").what == "the output folder's name is taken"


def test_make_checks_the_place_before_anything_else(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table())
    for place in ("/", tmp_path / ("x" * 300), "/proc/1/out", "/dev/full", "/dev/null/x", "/proc/nothing/here"):
        for words in (("make",), ("bushing", "test")):
            run = jigcam(*words, job, "-o", place, "--replace")
            assert (run.status, run.out) == (2, ""), place
            assert "itself failed" not in run.err
    assert content(tmp_path).keys() == {"job.toml"}


def test_a_new_file_is_made_as_any_other(tmp_path: Path) -> None:
    write_new_file(tmp_path / "new", b"all of it")
    (tmp_path / "plain").write_bytes(b"")
    assert (tmp_path / "new").read_bytes() == b"all of it"
    modes = {stat.S_IMODE((tmp_path / name).stat().st_mode) for name in ("new", "plain")}
    assert len(modes) == 1
    with pytest.raises(FileExistsError):
        write_new_file(tmp_path / "new", b"other")
    assert (tmp_path / "new").read_bytes() == b"all of it"
    assert {path.name for path in tmp_path.iterdir()} == {"new", "plain"}


@pytest.mark.parametrize("nameless", [True, False])
def test_a_new_file_that_finds_no_room_is_none(tmp_path: Path, nameless: bool) -> None:
    source = (
        "import resource\nfrom jigcam.cli import main\nfrom jigcam.workshop import new_file\n"
        f"new_file._NAMELESS *= {nameless}\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))\n"  # bytes that any file may have
        "main(['start', 'groove', '-o', 'new.toml'])\n"
    )
    run = subprocess.run([sys.executable, "-c", source], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert run.returncode == 2
    assert os.strerror(errno.EFBIG) in run.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["none/new.toml", "x" * 300, "job.toml", "job.toml/new.toml", "/dev/full", "."])
def test_start_says_where_it_cannot_write(tmp_path: Path, name: str) -> None:
    (tmp_path / "job.toml").write_text("mine")
    run = jigcam("start", "groove", "-o", tmp_path / name)
    assert (run.status, run.out) == (2, "")
    assert "Traceback" not in run.err
    assert content(tmp_path) == {"job.toml": b"mine"}


def test_from_a_folder_that_is_gone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert "No such file" in refused(Path("out")).found
    write_folder(tmp_path / "out", {"a.nc": b"G0\n"})
    assert content(tmp_path) == {"out/a.nc": b"G0\n"}
