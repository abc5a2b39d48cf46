"""Two folders that change places in one step, where the system can do that.

Source: rename(2) of the Linux manual pages: renameat2 with RENAME_EXCHANGE, since Linux 3.15, glibc 2.28; "both must
exist, but may be of different types". File systems that cannot answer EINVAL.
"""

from __future__ import annotations

import errno
import os
import sys
from functools import cache
from pathlib import Path
from typing import Any

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_CANNOT = (errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.EPERM)


def exchanged(one: Path, other: Path) -> bool:
    """Let two paths of the same file system change places; False where that cannot be done in one step.

    Raises OSError where it could be done and failed; both are then as they were.
    """
    call = _renameat2()
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    import ctypes

    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(one), None, str(other))


@cache
def _renameat2() -> Any:
    """The system's call, or None."""
    if sys.platform != "linux":
        return None
    import ctypes

    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is not None:
        call.argtypes = (ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint)
        call.restype = ctypes.c_int
    return call
