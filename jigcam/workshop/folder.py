"""The output folder: all files appear together or none does, and nothing of a person's is lost."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from jigcam.document.source import read_bounded
from jigcam.errors import InputError, OutputError
from jigcam.interruption import interruptible, tidying_up
from jigcam.values import dataclass
from jigcam.workshop.side_folder import NEW, clean_up, side_folder, take_place

MANIFEST = "manifest.json"
MOST = 256 * 1024 * 1024
"""Bytes of the largest file that is compared with its sum; ours are far smaller, so a larger one is not as written."""
_NAMED = 5
"""Files that a message names; of more it says how many."""


@dataclass(frozen=True)
class Seen:
    """What stood under a name when it was looked at: the folder itself and its manifest, by the system's marks."""

    folder: tuple[int, int] | None
    manifest: tuple[int, int] | None

    @classmethod
    def of(cls, folder: Path) -> Seen:
        """As it is now."""
        here, said = _marks(folder), _marks(folder / MANIFEST)
        return cls(here and here[:2], said and said[1:])


def check_folder(folder: Path, *, replace: bool, discard_edits: bool = False) -> Seen:
    """Refuse a folder that `write_folder` would refuse, before any time is spent on planning.

    What a dead run of the same target has left is brought to its end. Returns what stood there, for `write_folder`.
    Raises OutputError: the folder exists and may not be replaced, or holds files that jigcam did not write or that
    were changed since, or another run is writing it, or no folder can be made there.
    """
    with _as_output_errors(folder), tidying_up():
        place = _place(folder)
        clean_up(place)
        _assert_may_be_written(place, replace, discard_edits)
        return Seen.of(place)


def write_folder(
    folder: Path,
    files: Mapping[str, bytes],
    *,
    replace: bool = False,
    discard_edits: bool = False,
    seen: Seen | None = None,
) -> None:
    """Write `files` (relative POSIX path → content) as `folder`, all or nothing.

    The files are written and synced in a hidden folder beside the target, which then takes its name in one step.
    Parent folders that had to be made are taken away again on failure. seen: what `check_folder` found; if another run
    has written the folder since, that one wins. discard_edits: files that were changed since they were written are
    thrown away with the rest. Raises OutputError.
    """
    made: list[Path] = []
    with _as_output_errors(folder), tidying_up():
        place = _place(folder)
        try:
            _make_parents(place.parent, made)
            with side_folder(place) as side:
                with interruptible():
                    _write_files(side / NEW, files)
                if seen is not None and seen != Seen.of(place):
                    raise OutputError(
                        "another run has written the folder meanwhile, and it was left as that run wrote it",
                        where=str(folder),
                        mend="look at what is there, then run again with --replace, or give another folder with -o",
                    )
                _assert_may_be_written(place, replace, discard_edits)
                take_place(side, place)
        except BaseException:
            for parent in reversed(made):
                with contextlib.suppress(OSError):
                    parent.rmdir()
            raise


@contextmanager
def _as_output_errors(folder: Path) -> Iterator[None]:
    """The system's faults as ours."""
    try:
        yield
    except OutputError:
        raise
    except OSError as fault:
        raise OutputError(
            "the output folder could not be written; nothing was left behind",
            where=str(folder),
            found=fault.strerror or str(fault),
            mend="free some space or choose another folder with -o",
        ) from fault
    except ValueError as fault:  # a null character in the path
        raise OutputError("no folder can have this name", where=str(folder), mend="give another with -o") from fault


def _place(folder: Path) -> Path:
    """Where the folder is, in full. Raises OutputError for a place that cannot change hands as a whole."""
    place = folder.absolute()
    if place.name in ("", ".."):
        place = place.resolve()
    if place == place.parent or os.path.ismount(place):
        fault = "the root of a disk cannot be an output folder"
    elif place.is_dir() and any(place.samefile(each) for each in _around()):
        fault = "the folder that you are in, or one around it, cannot be an output folder: it is replaced as a whole"
    else:
        return place
    raise OutputError(
        fault, where=str(folder), wanted="a folder of its own for each job", mend=f"such as -o {folder / 'out'}"
    )


def _around() -> tuple[Path, ...]:
    """The folder that we are in and those around it; none where it is gone."""
    try:
        here = Path.cwd()
    except FileNotFoundError:
        return ()
    return here, *here.parents


def _assert_may_be_written(place: Path, replace: bool, discard_edits: bool) -> None:
    try:
        there = place.lstat()
    except FileNotFoundError:
        return
    if not stat.S_ISDIR(there.st_mode):
        raise OutputError(
            "the output folder's name is taken",
            where=str(place),
            found="a file or a link",
            wanted="a new folder",
            mend="give another folder with -o",
        )
    if not replace:
        raise OutputError(
            "the output folder exists already and was left as it is",
            where=str(place),
            mend="add --replace to write it anew, or give another folder with -o",
        )
    present = _files_below(place)
    if not present:
        return
    sums = _sums(place)
    strangers = sorted(present - ({*sums, MANIFEST} if sums is not None else set()))
    if strangers:
        raise OutputError(
            "the folder holds files that jigcam did not write, so it is not replaced",
            where=str(place),
            found=_some_of(strangers),
            wanted="an empty folder, or one that an earlier run wrote",
            mend="move those files away, or give another folder with -o",
        )
    edited = [] if discard_edits else sorted(name for name in present if _is_edited(place / name, (sums or {})[name]))
    if edited:
        raise OutputError(
            "files of the folder were changed since they were written, so it is not replaced",
            where=str(place),
            found=_some_of(edited),
            wanted="files as they were written, by their sums in the manifest",
            mend="move those files away to keep them, or add --discard-edits to lose the changes, "
            "or give another folder with -o",
        )


def _some_of(names: list[str]) -> str:
    more = len(names) - _NAMED
    return ", ".join(names[:_NAMED]) + (f" and {more} more" if more > 0 else "")


def _files_below(folder: Path) -> set[str]:
    """Everything below the folder but folders, links to folders included. Raises OSError for what cannot be listed."""

    def refuse(fault: OSError) -> None:
        raise fault

    found: set[str] = set()
    for root, folders, files in os.walk(folder, onerror=refuse):
        below = Path(root).relative_to(folder)
        links = [name for name in folders if (Path(root) / name).is_symlink()]
        found |= {(below / name).as_posix() for name in (*files, *links)}
    return found


def _sums(folder: Path) -> dict[str, str | None] | None:
    """What the folder's manifest says of each file's sum; None where no run of ours wrote it.

    Raises OutputError where it names files outside the folder.
    """
    try:
        content = json.loads(read_bounded(folder / MANIFEST, MOST, "a manifest").decode("utf-8"))
        named = {str(entry["file"]): entry.get("sha256") for entry in content["files"]}
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
    outside = [name for name in named if ".." in PurePosixPath(name).parts or PurePosixPath(name).is_absolute()]
    if outside:
        raise OutputError(
            "the manifest in the folder names files outside it, so no run wrote it and the folder is not replaced",
            where=str(folder / MANIFEST),
            found=_some_of(sorted(outside)),
            wanted="an empty folder, or one that an earlier run wrote",
            mend="give another folder with -o",
        )
    return {**named, MANIFEST: None}


def _is_edited(path: Path, wanted: str | None) -> bool:
    """Whether a file differs from its sum; where none is known, nothing can be said against it."""
    if path.is_symlink():
        return True
    if wanted is None:
        return False
    try:
        return hashlib.sha256(read_bounded(path, MOST, "a file as written")).hexdigest() != wanted
    except InputError:  # it cannot be read, or is something else by now
        return True


def _write_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write and sync the files into a new folder."""
    folder.mkdir()
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())


def _make_parents(parent: Path, made: list[Path]) -> None:
    """Make the missing parents, outermost first, and add each to `made`."""
    missing: list[Path] = []
    while not os.path.lexists(parent):
        missing.append(parent)
        parent = parent.parent
    for path in reversed(missing):
        path.mkdir(exist_ok=True)
        made.append(path)


def _marks(path: Path) -> tuple[int, int, int] | None:
    """Device, number and time of change of what stands under a path."""
    try:
        there = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    return there.st_dev, there.st_ino, there.st_mtime_ns
