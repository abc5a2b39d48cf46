"""What a person has done to an output folder is not lost by writing it anew."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.shop import content, jigcam

from jigcam.errors import OutputError
from jigcam.workshop.folder import Seen, check_folder, write_folder


def files(text: str) -> Mapping[str, bytes]:
    """Two files and their manifest."""
    some = {"a/b.nc": f"G0 X{text}\n".encode(), "a/sheet.txt": text.encode()}
    entries = [{"file": name, "sha256": hashlib.sha256(raw).hexdigest()} for name, raw in some.items()]
    return {"manifest.json": json.dumps({"files": entries}).encode(), **some}


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """A folder as written."""
    write_folder(tmp_path / "out", files("1"))
    return tmp_path / "out"


def refused(out: Path) -> OutputError:
    """The error of writing the folder anew, and of checking that before; the folder is as it was."""
    before = content(out.parent)
    with pytest.raises(OutputError) as checked:
        check_folder(out, replace=True)
    with pytest.raises(OutputError) as caught:
        write_folder(out, files("2"), replace=True)
    assert str(caught.value) == str(checked.value)
    assert content(out.parent) == before
    return caught.value


def test_files_as_written_are_replaced(out: Path) -> None:
    write_folder(out, files("2"), replace=True)
    assert content(out) == files("2")


def test_an_edited_file_is_kept_and_named(out: Path) -> None:
    (out / "a" / "b.nc").write_text("G0 X1 F800\n")
    error = refused(out)
    assert error.found == "a/b.nc"
    assert "--discard-edits" in error.mend


def test_an_edited_file_is_thrown_away_only_by_the_flag(out: Path) -> None:
    (out / "a" / "b.nc").write_text("G0 X1 F800\n")
    write_folder(out, files("2"), replace=True, discard_edits=True)
    assert content(out) == files("2")


def test_the_flag_throws_no_other_file_away(out: Path) -> None:
    (out / "notes.txt").write_text("mine")
    with pytest.raises(OutputError, match="did not write"):
        write_folder(out, files("2"), replace=True, discard_edits=True)
    with pytest.raises(OutputError, match="exists already"):
        write_folder(out, files("2"), discard_edits=True)
    assert (out / "notes.txt").read_text() == "mine"


def test_a_file_that_was_deleted_comes_back(out: Path) -> None:
    (out / "a" / "b.nc").unlink()
    write_folder(out, files("2"), replace=True)
    assert content(out) == files("2")


@pytest.mark.parametrize("kind", ["link", "pipe", "link to a folder"])
def test_what_took_the_place_of_a_file_is_not_as_written(out: Path, tmp_path: Path, kind: str) -> None:
    place, mine = out / "a" / "b.nc", tmp_path / "mine"
    mine.mkdir()
    (mine / "b.nc").write_bytes(place.read_bytes())
    place.unlink()
    if kind == "pipe":
        os.mkfifo(place)
    else:
        place.symlink_to(mine / "b.nc" if kind == "link" else mine)
    assert refused(out).found == "a/b.nc"


def test_many_edited_files_are_counted(tmp_path: Path) -> None:
    some = {f"{k}.nc": b"G0\n" for k in range(8)}
    entries = [{"file": name, "sha256": hashlib.sha256(raw).hexdigest()} for name, raw in some.items()]
    write_folder(tmp_path / "out", {"manifest.json": json.dumps({"files": entries}).encode(), **some})
    for name in some:
        (tmp_path / "out" / name).write_bytes(b"G1\n")
    assert refused(tmp_path / "out").found == "0.nc, 1.nc, 2.nc, 3.nc, 4.nc and 3 more"


@pytest.mark.parametrize(
    "manifest",
    [
        '{"files": [{"file": "../outside.nc"}]}',
        '{"files": [{"file": "a/b.nc"}, {"file": "/etc/hosts"}]}',
        '{"files": [{"file": "a/../../outside.nc"}]}',
    ],
)
def test_a_manifest_that_names_files_outside_its_folder(out: Path, manifest: str) -> None:
    (out.parent / "outside.nc").write_text("mine")
    (out / "manifest.json").write_text(manifest)
    assert "outside" in refused(out).what


@pytest.mark.parametrize(
    "manifest",
    ["[" * 100_000, '{"files": ' * 50_000, "", "null", '{"files": [1]}', '{"files": [{"file": ["a/b.nc"]}]}', "\ud800"],
    ids=["nested lists", "nested tables", "empty", "null", "no tables", "a list for a name", "no UTF-8"],
)
def test_a_manifest_that_is_none_makes_the_folder_a_strangers(out: Path, manifest: str) -> None:
    (out / "manifest.json").write_bytes(manifest.encode("utf-8", "surrogatepass"))
    assert "a/b.nc" in refused(out).found


def test_a_manifest_that_is_a_pipe_is_not_waited_for(out: Path) -> None:
    (out / "manifest.json").unlink()
    os.mkfifo(out / "manifest.json")
    assert "did not write" in refused(out).what


def test_an_output_folder_within_another_is_a_strangers(out: Path) -> None:
    write_folder(out / "inner", files("3"))
    assert "inner/manifest.json" in refused(out).found


def test_the_first_of_two_runs_wins_and_the_other_says_so(tmp_path: Path) -> None:
    out = tmp_path / "out"
    for replace in (False, True):  # the first time there is no folder yet, the second time the one of the first
        one, other = (check_folder(out, replace=replace) for _ in range(2))
        write_folder(out, files(f"won {replace}"), replace=replace, seen=one)
        with pytest.raises(OutputError, match="another run has written the folder"):
            write_folder(out, files("lost"), replace=replace, seen=other)
        assert content(out) == files(f"won {replace}")
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_an_untouched_folder_looks_the_same_twice(out: Path) -> None:
    assert Seen.of(out) == Seen.of(out)
    assert Seen.of(out.parent / "none") == Seen(None, None)


def test_make_keeps_edits_and_names_them(tmp_path: Path) -> None:
    job = write_job(tmp_path / "job", job_table("mm", length=60, width=12.5, receives=None))
    out = tmp_path / "out"
    assert jigcam("make", job, "-o", out).status == 0
    written = content(out)
    file = out / "tilted-shelf" / "groove.nc"
    file.write_text(file.read_text().replace("M3", "M3 S9000", 1))
    run = jigcam("make", job, "-o", out, "--replace")
    assert run.status == 2
    assert "tilted-shelf/groove.nc" in run.err
    assert "--discard-edits" in run.err
    assert "M3 S9000" in file.read_text()
    assert jigcam("make", job, "-o", out, "--replace", "--discard-edits").status == 0
    assert content(out) == written
