"""Files that a person names: regular ones of a bounded size only, whatever else may stand under the name."""

from __future__ import annotations

import os
import stat
from itertools import islice
from pathlib import Path
from typing import Final

from jigcam.errors import InputError, nearest
from jigcam.units.parse import shown

_KINDS: Final = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)
_CHUNK: Final = 1 << 20
_MOST_NEIGHBOURS: Final = 500  # files of a folder that are looked at for a name that was meant


def read_bounded(path: Path, most: int, wanted: str) -> bytes:
    """The bytes of a regular file, or of what a link to one leads to.

    most: of how many bytes at most. wanted: what kind of file it should be, for the errors. Nothing else is opened, so
    no pipe makes us wait and no device is set going. Raises InputError.
    """
    try:
        return _read(path, most, wanted)
    except InputError:
        raise
    except OSError as fault:
        raise InputError(
            "the file cannot be read",
            where=str(path),
            found=fault.strerror or str(fault),
            wanted=wanted,
            mend=_neighbour(path) if isinstance(fault, FileNotFoundError) else "",
        ) from fault
    except ValueError as fault:  # a null character in the path
        raise InputError("no file can have this name", found=shown(str(path)), wanted=wanted) from fault


def _neighbour(path: Path) -> str:
    """A question for the file beside it that was likely meant; "" where none has a name like it."""
    try:
        with os.scandir(path.parent) as entries:
            names = [entry.name for entry in islice(entries, _MOST_NEIGHBOURS) if entry.is_file()]
    except OSError:
        return ""
    alike = [name for name in names if Path(name).suffix in (path.suffix, ".toml", ".nc") and not name.startswith(".")]
    stems = {Path(name).stem: name for name in sorted(alike)}
    near = nearest(path.stem, stems)
    return f"did you mean {path.with_name(stems[near])}?" if near else ""


def _read(path: Path, most: int, wanted: str) -> bytes:
    _assert_regular(os.stat(path).st_mode, path, wanted)
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        _assert_regular(os.fstat(handle).st_mode, path, wanted)  # it may have been changed in between
        parts, size = [], 0
        # Some files of the system say that they are empty and are not, so it is what comes that counts.
        while size <= most and (part := os.read(handle, min(_CHUNK, most + 1 - size))):
            parts.append(part)
            size += len(part)
    finally:
        os.close(handle)
    if size > most:
        raise InputError(
            "the file is too large", where=str(path), found=f"more than {most} bytes", wanted=f"{wanted}, no larger"
        )
    return b"".join(parts)


def _assert_regular(mode: int, path: Path, wanted: str) -> None:
    if not stat.S_ISREG(mode):
        found = next((name for is_kind, name in _KINDS if is_kind(mode)), "something else")
        raise InputError("the file cannot be read", where=str(path), found=found, wanted=wanted)
