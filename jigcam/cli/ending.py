"""How a run ends when something outside ends it: a signal, or a standard output that takes nothing more.

A run that is asked to end (SIGTERM, SIGHUP) takes away what it had begun and then ends by that signal, as it would have
without us. A reader that closed its end of the pipe ends us by SIGPIPE, quietly. Any other standard output that fails
is an error, told together with what has been done all the same.
"""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import NoReturn

ASKING = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))
"""Signals that ask a program to end."""


class Ended(BaseException):
    """A signal asked us to end; no `except Exception` may hold it up. number: of the signal."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


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
def ending_by_signal() -> Iterator[None]:
    """Within it, the first signal that asks us to end raises `Ended`, and later ones wait until all is tidied up.

    On the way out the process ends by that signal. Signals that the caller has us ignore stay ignored (nohup).
    """
    try:
        before = {each: signal.signal(each, _end) for each in ASKING if signal.getsignal(each) is signal.SIG_DFL}
    except ValueError:  # not in the main thread, where no signal comes
        yield
        return
    try:
        yield
    except Ended as end:
        _end_by(end.number)
    finally:
        for each, handler in before.items():
            signal.signal(each, handler)


def _end(number: int, _: FrameType | None) -> NoReturn:
    for each in ASKING:
        signal.signal(each, signal.SIG_IGN)
    raise Ended(number)


def _end_by(number: int) -> NoReturn:
    """End this process by a signal, so that its parent is told so; else with the status that shells give it."""
    signal.signal(number, signal.SIG_DFL)
    os.kill(os.getpid(), number)
    raise SystemExit(128 + number)


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
        _end_by(signal.SIGPIPE)
    raise SystemExit(128 + 13)


def forget_output() -> None:
    """Lead the process's standard output away, so that what it still holds raises nothing when Python ends."""
    if sys.stdout is not sys.__stdout__ or sys.__stdout__ is None:
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.__stdout__.fileno())
    os.close(nowhere)
