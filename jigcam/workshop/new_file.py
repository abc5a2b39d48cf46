"""A single new file: there as a whole, or not at all.

Source: open(2) of the Linux manual pages, O_TMPFILE: a file without a name, which the system takes away unless it gets
one by linkat(2).
"""

from __future__ import annotations

import os
from pathlib import Path

from jigcam.interruption import interruptible, tidying_up

_NAMELESS = getattr(os, "O_TMPFILE", 0)


def write_new_file(path: Path, content: bytes) -> None:
    """Write a file that is not there yet. Raises OSError, FileExistsError among them; nothing is then left of it."""
    if not (_NAMELESS and _written_nameless(path, content)):
        with tidying_up(), path.open("xb") as out:
            try:
                with interruptible():
                    out.write(content)
                    out.flush()
            except BaseException:
                path.unlink(missing_ok=True)
                raise


def _written_nameless(path: Path, content: bytes) -> bool:
    """Write it without a name first, and then name it; False where the system or its disk cannot do that."""
    here = os.open(path.parent, os.O_RDONLY | os.O_DIRECTORY)
    try:
        try:
            handle = os.open(path.parent, _NAMELESS | os.O_WRONLY, 0o666)
        except OSError:
            return False
        with os.fdopen(handle, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(handle)
            nameless = f"/proc/self/fd/{handle}"
            if not os.path.lexists(nameless):
                return False
            # Only with a handle of a folder does Python call linkat, which follows the link to the nameless file.
            os.link(nameless, path.name, src_dir_fd=here, dst_dir_fd=here, follow_symlinks=True)
    finally:
        os.close(here)
    return True
