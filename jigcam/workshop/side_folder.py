"""The hidden folder beside an output folder, in which a run prepares what is to take its place.

It has one name for each target, so a later run of the same target finds what a killed one left. A lock in it, which the
system lifts when its holder dies in whatever way, tells the leftovers of a dead run from the work of a live one.

Where two folders cannot change places in one step, the old one steps aside under a name that is not hidden, and a note
in the side folder says which: so the old output or the new one can be seen at any moment, and the next run knows which
folder is to come back, or to go.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from jigcam.errors import OutputError
from jigcam.workshop.exchange import exchanged

try:
    import fcntl
except ImportError:  # not on this system
    fcntl = None  # type: ignore[assignment]  # the absence of a module has no better type

LOCK = "lock"
NEW = "new"
"""The folder in the side folder that is to take the target's place; after an exchange it is the old one."""
ASIDE = "aside"
"""The note on an old folder that stepped aside."""
_KEPT = 32
"""Letters of the target's name in that of its side folder: enough for a person to recognise it."""


def side_path(folder: Path) -> Path:
    """Where the side folder of a target is."""
    mark = hashlib.sha256(os.fsencode(folder.name)).hexdigest()[:12]
    return folder.with_name(f".{folder.name[:_KEPT]}.jigcam-{mark}")


@contextmanager
def side_folder(folder: Path) -> Iterator[Path]:
    """The side folder of a target, ours alone, cleaned of what a dead run left; gone at the end, however that comes.

    Signals that ask us to end wait meanwhile (`tidying_up`), or they could come between the folder and the word that
    it is ours. Raises OutputError where a live run holds it, or where something else bears its name; OSError.
    """
    path = side_path(folder)
    handle = _taken(path, folder)
    try:
        settle(path, folder)
        yield path
    finally:
        try:
            settle(path, folder)
        finally:
            with contextlib.suppress(OSError):
                (path / LOCK).unlink()
            with contextlib.suppress(OSError):  # another run may be waiting in it already
                path.rmdir()
            os.close(handle)


def clean_up(folder: Path) -> None:
    """Bring what a dead run of this target left to its end. Raises OutputError where a live one is at work."""
    if os.path.lexists(side_path(folder)):
        with side_folder(folder):
            pass


def settle(path: Path, folder: Path) -> None:
    """Bring what a run has left to its end: the old output comes back where none is in place, all else goes."""
    aside = _aside(path, folder)
    if aside is not None:
        if os.path.lexists(folder):
            shutil.rmtree(aside, ignore_errors=True)
        else:
            aside.rename(folder)
    for each in path.iterdir():
        if each.name == LOCK:
            continue
        if each.is_dir() and not each.is_symlink():
            shutil.rmtree(each, ignore_errors=True)
        else:
            with contextlib.suppress(OSError):
                each.unlink()


def take_place(side: Path, folder: Path) -> None:
    """Let NEW in the side folder become the target, in one step where the system can. Raises OSError.

    On failure, and on a kill, `settle` knows what is to be done.
    """
    new = side / NEW
    if not os.path.lexists(folder):
        new.rename(folder)
        return
    if exchanged(new, folder):
        return
    aside = _free_name(folder)
    here = folder.stat()
    note = json.dumps({"name": aside.name, "device": here.st_dev, "inode": here.st_ino})
    with (side / ASIDE).open("w", encoding="utf-8") as out:
        out.write(note)
        out.flush()
        os.fsync(out.fileno())
    folder.rename(aside)
    new.rename(folder)


def _free_name(folder: Path) -> Path:
    """A name beside the target, not hidden, that nothing bears."""
    stem = f"{folder.name[:_KEPT]}.old" if len(os.fsencode(folder.name)) > 200 else f"{folder.name}.old"
    number = 1
    while True:
        path = folder.with_name(stem if number == 1 else f"{stem}-{number}")
        if not os.path.lexists(path):
            return path
        number += 1


def _aside(path: Path, folder: Path) -> Path | None:
    """The old folder that stepped aside, if there is one: the very one that the note is about."""
    try:
        note = json.loads((path / ASIDE).read_text("utf-8"))
        aside = folder.with_name(note["name"])
        there = aside.lstat()
    except (OSError, ValueError, TypeError, KeyError):  # no note, or one that its writer did not finish
        return None
    same = (there.st_dev, there.st_ino) == (note.get("device"), note.get("inode"))
    return aside if same and stat.S_ISDIR(there.st_mode) else None


def _taken(path: Path, folder: Path) -> int:
    """The side folder made, or found, and locked; the handle that holds the lock."""
    while True:
        fresh = True
        try:
            path.mkdir(mode=0o700)
        except FileExistsError:
            fresh = False
            _assert_ours(path)
        try:
            handle = os.open(path / LOCK, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600)
        except FileNotFoundError:  # the run before us has just taken it away
            continue
        except OSError:
            if fresh:
                path.rmdir()
            raise
        try:
            if not _locked(handle, path, fresh):
                raise OutputError(
                    "another run is writing this folder just now",
                    where=str(folder),
                    found=f"its working folder {path.name}",
                    wanted="one run at a time",
                    mend="wait for the other to end, or give another folder with -o",
                )
            if _is_that(handle, path / LOCK):
                return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)


def _locked(handle: int, path: Path, fresh: bool) -> bool:
    """Lock an open file without waiting; False where another process has it.

    Where the file system knows no locks, only a folder that we have made ourselves is taken for ours.
    """
    locks: Any = fcntl
    try:
        if locks is not None:
            locks.flock(handle, locks.LOCK_EX | locks.LOCK_NB)
            return True
    except BlockingIOError:
        return False
    except OSError:
        pass
    if fresh:
        return True
    raise OutputError(
        "there is a working folder of another run, and no telling here whether that run lives",
        where=str(path),
        mend="delete it, if no other run is at work",
    )


def _is_that(handle: int, path: Path) -> bool:
    """Whether an open file is still the one under that path."""
    try:
        there = path.lstat()
    except FileNotFoundError:
        return False
    here = os.fstat(handle)
    return (here.st_dev, here.st_ino) == (there.st_dev, there.st_ino)


def _assert_ours(path: Path) -> None:
    """Refuse a link, a file or another person's folder under the name of our side folder."""
    try:
        there = path.lstat()
    except FileNotFoundError:  # gone again
        return
    mine = not hasattr(os, "geteuid") or there.st_uid in (os.geteuid(), 0) or os.geteuid() == 0
    if not stat.S_ISDIR(there.st_mode) or not mine:
        raise OutputError(
            "the name of the working folder is taken",
            where=str(path),
            found="something that no run of yours has made",
            mend="move it away, or give another folder with -o",
        )
