"""What a dead run has left is known and cleaned; what a live one does is left alone."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from jigcam.errors import OutputError
from jigcam.workshop import side_folder as side
from jigcam.workshop.exchange import exchanged
from jigcam.workshop.folder import check_folder, write_folder

FILES = {"manifest.json": json.dumps({"files": [{"file": "a.nc"}]}).encode(), "a.nc": b"G0\n"}


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def leave(out: Path, *, aside: str = "") -> Path:
    """What a killed run leaves beside `out`: half a folder, and the old one, if it had stepped aside, under a name."""
    path = side.side_path(out)
    (path / side.NEW / "a").mkdir(parents=True)
    (path / side.NEW / "a" / "half.nc").write_bytes(b"G0")
    (path / side.LOCK).touch()
    if aside:
        there = out.stat()
        note = {"name": aside, "device": there.st_dev, "inode": there.st_ino}
        (path / side.ASIDE).write_text(json.dumps(note))
        out.rename(out.with_name(aside))
    return path


@pytest.mark.parametrize("there", [False, True])
def test_leftovers_of_a_dead_run_go_with_the_next_check(tmp_path: Path, there: bool) -> None:
    out = tmp_path / "out"
    if there:
        write_folder(out, FILES)
    leave(out)
    if there:
        with pytest.raises(OutputError, match="exists already"):
            check_folder(out, replace=False)
    else:
        check_folder(out, replace=False)
    assert names(tmp_path) == (["out"] if there else [])


def test_an_old_folder_that_stepped_aside_comes_back(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    leave(out, aside="out.old")
    check_folder(out, replace=True)
    assert names(tmp_path) == ["out"]
    assert (out / "a.nc").read_bytes() == b"G0\n"


def test_an_old_folder_goes_once_the_new_one_is_there(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    path = leave(out, aside="out.old")
    (path / side.NEW).rename(out)
    new_is_there = (out / "a" / "half.nc").exists()
    side.clean_up(out)
    assert new_is_there
    assert names(tmp_path) == ["out"]


@pytest.mark.parametrize("note", ["", "[]", "{", '{"name": 3}', '{"name": "../precious", "device": 1, "inode": 2}'])
def test_a_note_that_was_not_finished_moves_nothing(tmp_path: Path, note: str) -> None:
    out = tmp_path / "deep" / "out"
    precious = tmp_path / "precious"
    precious.mkdir()
    write_folder(out, FILES)
    (leave(out) / side.ASIDE).write_text(note)
    side.clean_up(out)
    assert names(out.parent) == ["out"]
    assert precious.is_dir()


def test_another_folder_of_the_noted_name_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    leave(out, aside="out.old")
    (tmp_path / "out.old").rename(out)
    (tmp_path / "out.old").mkdir()
    (tmp_path / "out.old" / "mine.txt").write_text("mine")
    side.clean_up(out)
    assert (tmp_path / "out.old" / "mine.txt").read_text() == "mine"


def test_a_name_that_is_taken_is_not_used_to_step_aside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(side, "exchanged", lambda one, other: False)
    out = tmp_path / "out"
    write_folder(out, FILES)
    (tmp_path / "out.old").write_text("mine")
    write_folder(out, {**FILES, "a.nc": b"G1\n"}, replace=True)
    assert (out / "a.nc").read_bytes() == b"G1\n"
    assert names(tmp_path) == ["out", "out.old"]


def test_a_live_run_is_left_alone_and_the_other_says_so(tmp_path: Path) -> None:
    out = tmp_path / "out"
    with side.side_folder(out) as path:
        (path / side.NEW).mkdir()
        for attempt in (lambda: check_folder(out, replace=True), lambda: write_folder(out, FILES, replace=True)):
            with pytest.raises(OutputError, match="another run is writing this folder just now"):
                attempt()
        assert (path / side.NEW).is_dir()
    write_folder(out, FILES)
    assert names(tmp_path) == ["out"]


def test_two_programs_at_once_one_wins(tmp_path: Path) -> None:
    """Many at once, each with files of its own: every one that says it has written has, and the rest say why not."""
    source = (
        "import sys\nfrom pathlib import Path\nfrom jigcam.errors import OutputError\n"
        "from jigcam.workshop.folder import check_folder, write_folder\n"
        "out = Path(sys.argv[1])\nseen = check_folder(out, replace=False)\n"
        "print('ready', flush=True)\nsys.stdin.readline()\n"
        "try:\n    write_folder(out, {f'{k}.nc': sys.argv[2].encode() for k in range(20)}, seen=seen)\n"
        "except OutputError as error:\n    sys.exit(error.exit_status)\n"
    )
    out = tmp_path / "out"
    runs = [
        subprocess.Popen(
            [sys.executable, "-c", source, str(out), str(k)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )
        for k in range(4)
    ]
    for run in runs:
        assert run.stdout is not None
        assert run.stdout.readline() == b"ready\n"
    for run in runs:
        assert run.stdin is not None
        run.stdin.write(b"go\n")
        run.stdin.flush()
    statuses = [run.wait(timeout=60) for run in runs]
    for run in runs:
        run.communicate()
    assert sorted(statuses) == [0, 2, 2, 2]
    winner = str(statuses.index(0)).encode()
    assert {path.read_bytes() for path in out.iterdir()} == {winner}
    assert names(tmp_path) == ["out"]


@pytest.mark.parametrize("kind", ["file", "link"])
def test_something_else_under_the_name_of_the_working_folder(tmp_path: Path, kind: str) -> None:
    out, precious = tmp_path / "place" / "out", tmp_path / "precious"
    precious.mkdir()
    (precious / "mine.txt").write_text("mine")
    out.parent.mkdir()
    if kind == "link":
        side.side_path(out).symlink_to(precious)
    else:
        side.side_path(out).write_text("mine")
    with pytest.raises(OutputError, match="the name of the working folder is taken"):
        write_folder(out, FILES)
    assert names(precious) == ["mine.txt"]


def test_where_files_cannot_be_locked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(side, "fcntl", None)
    out = tmp_path / "out"
    write_folder(out, FILES)
    leave(out)
    with pytest.raises(OutputError, match="no telling here"):
        write_folder(out, FILES, replace=True)
    assert (side.side_path(out) / side.NEW).is_dir()


def test_names_beside_long_names_are_not_too_long(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for way in (exchanged, lambda one, other: False):
        monkeypatch.setattr(side, "exchanged", way)
        for name in ("x" * 255, "ü" * 127, os.fsdecode(b"\xff" * 255)):
            for _ in range(2):
                write_folder(tmp_path / name, FILES, replace=True)
            assert names(tmp_path / name) == ["a.nc", "manifest.json"]
    assert len(names(tmp_path)) == 3


def test_two_targets_do_not_share_a_working_folder(tmp_path: Path) -> None:
    same = "a folder with a long name, for the cabinet of "
    with side.side_folder(tmp_path / (same + "Ann")), side.side_folder(tmp_path / (same + "Bea")):
        assert len(names(tmp_path)) == 2


def test_folders_are_exchanged_in_one_step_here(tmp_path: Path) -> None:
    if sys.platform != "linux":
        pytest.skip("only Linux has the call that we use")
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert exchanged(tmp_path / "one", tmp_path / "other")
    assert names(tmp_path / "one") == ["other"]
    with pytest.raises(FileNotFoundError):
        exchanged(tmp_path / "one", tmp_path / "none")


def test_a_kill_between_two_renames_leaves_the_old_folder_in_sight(tmp_path: Path) -> None:
    """Where no step exchanges folders: the one moment in which neither bears the name, met on purpose."""
    out = tmp_path / "out"
    write_folder(out, FILES)
    source = (
        "import os, signal, sys\nfrom pathlib import Path\n"
        "from jigcam.workshop import side_folder\nfrom jigcam.workshop.folder import write_folder\n"
        "side_folder.exchanged = lambda one, other: False\n"
        "rename = Path.rename\n"
        "def once(self, target):\n    rename(self, target)\n    os.kill(os.getpid(), signal.SIGKILL)\n"
        "Path.rename = once\n"
        "write_folder(Path(sys.argv[1]), {'a.nc': b'G1'}, replace=True)\n"
    )
    run = subprocess.run([sys.executable, "-c", source, str(out)], check=False)
    assert run.returncode == -signal.SIGKILL
    assert [name for name in names(tmp_path) if not name.startswith(".")] == ["out.old"]
    assert (tmp_path / "out.old" / "a.nc").read_bytes() == b"G0\n"
    check_folder(out, replace=True)
    assert names(tmp_path) == ["out"]
    assert (out / "a.nc").read_bytes() == b"G0\n"
