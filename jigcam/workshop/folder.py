"""The output folder: all files appear together or none does."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from jigcam.errors import OutputError

MANIFEST = "manifest.json"


def check_folder(folder: Path, *, replace: bool) -> None:
    """Refuse a folder that `write_folder` would refuse, before any time is spent on planning.

    Raises OutputError: the folder exists and may not be replaced, or holds files that jigcam did not write.
    """
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise OutputError(
            "the output folder's name is taken",
            where=str(folder),
            found="a file or a link",
            wanted="a new folder",
            mend="give another folder with -o",
        )
    if not folder.exists():
        return
    if not replace:
        raise OutputError(
            "the output folder exists already and was left as it is",
            where=str(folder),
            mend="add --replace to write it anew, or give another folder with -o",
        )
    strangers = sorted(_strangers(folder))
    if strangers:
        shown = ", ".join(strangers[:5]) + (f" and {len(strangers) - 5} more" if len(strangers) > 5 else "")
        raise OutputError(
            "the folder holds files that jigcam did not write, so it is not replaced",
            where=str(folder),
            found=shown,
            wanted="an empty folder, or one that an earlier run wrote",
            mend="move those files away, or give another folder with -o",
        )


def write_folder(folder: Path, files: Mapping[str, bytes], *, replace: bool = False) -> None:
    """Write `files` (relative POSIX path → content) as `folder`, all or nothing.

    The files are written and synced in a hidden folder beside the target, which then takes its name by one rename.
    Parent folders that had to be made are taken away again on failure. Raises OutputError.
    """
    check_folder(folder, replace=replace)
    folder = folder.absolute()
    made: list[Path] = []
    part: Path | None = None
    try:
        made = _make_parents(folder.parent)
        part = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
        part.chmod(0o777 & ~_umask())
        for name, content in files.items():
            path = part / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("wb") as out:
                out.write(content)
                out.flush()
                os.fsync(out.fileno())
        _take_place(part, folder)
    except BaseException as fault:
        if part is not None:
            shutil.rmtree(part, ignore_errors=True)
        for parent in reversed(made):
            with contextlib.suppress(OSError):
                parent.rmdir()
        if isinstance(fault, OutputError) or not isinstance(fault, OSError):
            raise
        raise OutputError(
            "the output folder could not be written; nothing was left behind",
            where=str(folder),
            found=fault.strerror or str(fault),
            mend="free some space or choose another folder with -o",
        ) from fault


def _take_place(part: Path, folder: Path) -> None:
    """Rename `part` to `folder`; an old folder steps aside first and comes back if the rename fails."""
    if not folder.exists():
        part.rename(folder)
        return
    aside = Path(tempfile.mkdtemp(prefix=f".{folder.name}.old.", dir=folder.parent)) / "old"
    folder.rename(aside)
    try:
        part.rename(folder)
    except OSError:
        aside.rename(folder)
        raise
    finally:
        shutil.rmtree(aside.parent, ignore_errors=True)


def _strangers(folder: Path) -> set[str]:
    """Files below `folder` that its manifest does not name."""
    present = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if not path.is_dir()}
    if not present:
        return set()
    try:
        manifest = json.loads((folder / MANIFEST).read_text("utf-8"))
        known = {entry["file"] for entry in manifest["files"]} | {MANIFEST}
    except (OSError, ValueError, KeyError, TypeError):
        known = set()
    return present - known


def _make_parents(parent: Path) -> list[Path]:
    """Make the missing parents and return them, outermost first."""
    missing: list[Path] = []
    while not parent.exists():
        missing.append(parent)
        parent = parent.parent
    missing.reverse()
    for path in missing:
        path.mkdir()
    return missing


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
