"""The output folder appears whole or not at all."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path

import pytest

from jigcam.errors import OutputError
from jigcam.workshop import side_folder
from jigcam.workshop.folder import write_folder

FILES = {"manifest.json": json.dumps({"files": [{"file": "a/b.nc"}]}).encode(), "a/b.nc": b"G0 Z5\n"}


def content(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_writes_all_files_and_leaves_nothing_beside_them(tmp_path: Path) -> None:
    write_folder(tmp_path / "deep" / "out", FILES)
    assert content(tmp_path / "deep" / "out") == FILES
    assert [p.name for p in (tmp_path / "deep").iterdir()] == ["out"]


def test_an_existing_folder_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    with pytest.raises(OutputError) as caught:
        write_folder(out, {"manifest.json": b"{}"})
    assert "--replace" in caught.value.mend
    assert content(out) == FILES


def test_replace_swaps_the_whole_folder(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    new = {"manifest.json": b'{"files": []}'}
    write_folder(out, new, replace=True)
    assert content(out) == new
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_replace_takes_an_empty_folder(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    write_folder(tmp_path / "out", FILES, replace=True)
    assert content(tmp_path / "out") == FILES


def test_replace_refuses_a_folder_with_other_files(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    (out / "my notes.txt").write_text("keep me")
    with pytest.raises(OutputError) as caught:
        write_folder(out, FILES, replace=True)
    assert "my notes.txt" in caught.value.found
    assert (out / "my notes.txt").read_text() == "keep me"


@pytest.mark.parametrize("kind", ["file", "link"])
def test_a_name_that_is_taken_by_something_else(tmp_path: Path, kind: str) -> None:
    taken = tmp_path / "out"
    if kind == "file":
        taken.write_text("mine")
    else:
        (tmp_path / "elsewhere").mkdir()
        taken.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OutputError):
        write_folder(taken, FILES, replace=True)
    assert taken.is_symlink() or taken.read_text() == "mine"


@pytest.mark.parametrize("replace", [False, True])
def test_a_disk_that_fills_up_half_way_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, replace: bool
) -> None:
    out = tmp_path / "new" / "out"
    if replace:
        write_folder(out, FILES)
    calls = iter(range(100))

    def full(handle: int) -> None:
        if next(calls) == 1:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError) as caught:
        write_folder(out, {**FILES, "c.txt": b"more"}, replace=replace)
    assert os.strerror(errno.ENOSPC) in caught.value.found
    if replace:
        assert content(out) == FILES
        assert [p.name for p in out.parent.iterdir()] == ["out"]
    else:
        assert not (tmp_path / "new").exists()


def test_a_failed_last_rename_brings_the_old_folder_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    monkeypatch.setattr(side_folder, "exchanged", lambda one, other: False)  # as where no step does both
    rename = Path.rename

    def refuse(self: Path, target: Path) -> Path:
        if target == out and "old" not in self.name:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", refuse)
    with pytest.raises(OutputError):
        write_folder(out, {"manifest.json": b"{}"}, replace=True)
    assert content(out) == FILES
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_parent_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "f").write_text("x")
    with pytest.raises(OutputError):
        write_folder(tmp_path / "f" / "out", FILES)
