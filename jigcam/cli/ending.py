"""A standard output that takes nothing more.

A reader that closed its end of the pipe ends us by SIGPIPE, quietly. Any other standard output that fails is an error,
told together with what has been done all the same.
"""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NoReturn

from jigcam.interruption import end_by


class LostOutput(Exception):
    """The standard output took no more. fault: what the system said. done: what had been written to disk by then."""

    def __init__(self, fault: OSError) -> None:
        super().__init__(str(fault))
        self.fault = fault
        self.done = "nothing was written"

    @property
    def reader_left(self) -> bool:
        """Whether it was a pipe whose reader has closed it."""
        return self.fault.errno == errno.EPIPE


class _NoStream(io.TextIOBase):
    """Stands for a standard output that was closed before we began."""

    encoding = "utf-8"

    def write(self, text: str, /) -> int:
        raise OSError(errno.EBADF, os.strerror(errno.EBADF))


@contextmanager
def losing_output() -> Iterator[None]:
    """Around what prints and does nothing else: the system's fault becomes `LostOutput`."""
    try:
        yield
    except OSError as fault:
        raise LostOutput(fault) from fault


@contextmanager
def whole_streams() -> Iterator[None]:
    """Within it, a standard output that was closed before we began is one that fails, and such an error stream none."""
    before = sys.stdout, sys.stderr
    if sys.stdout is None:
        sys.stdout = _NoStream()
    if sys.stderr is None:
        sys.stderr = io.StringIO()
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def end_quietly() -> NoReturn:
    """End as programs do whose reader has closed the pipe: by SIGPIPE, without a word."""
    forget_output()
    if hasattr(signal, "SIGPIPE"):
        end_by(signal.SIGPIPE)
    raise SystemExit(128 + 13)


def forget_output() -> None:
    """Lead the process's standard output away, so that what it still holds raises nothing when Python ends."""
    if sys.stdout is not sys.__stdout__ or sys.__stdout__ is None:
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.__stdout__.fileno())
    os.close(nowhere)
