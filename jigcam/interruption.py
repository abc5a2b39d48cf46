"""Signals that ask a program to end while it writes files: what it has begun is taken away first.

Anywhere else such a signal ends the process at once, as it does by default, and nothing needs to be taken away. The
exception is raised only where plain code of ours is at work, as libraries may swallow it; if one does all the same, the
process ends when the files are written.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import NoReturn

ASKING = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))
"""Signals that ask a program to end."""


class Ended(BaseException):
    """A signal asked us to end; no `except Exception` may hold it up."""


@contextmanager
def tidying_up() -> Iterator[None]:
    """Within it, the first signal that asks us to end raises `Ended`; on the way out the process ends by that signal.

    Signals that the caller has us ignore stay ignored (nohup), and those with a handler of their own keep it.
    """
    if threading.current_thread() is not threading.main_thread():  # where no signal comes
        yield
        return
    came: list[int] = []

    def end(number: int, _: FrameType | None) -> None:
        came.append(number)
        if len(came) == 1:
            raise Ended

    ours = [each for each in ASKING if signal.getsignal(each) is signal.SIG_DFL]
    try:
        for each in ours:
            signal.signal(each, end)
        yield
    except Ended:
        pass  # it is not lost: see below
    finally:
        for each in ours:
            signal.signal(each, signal.SIG_DFL)
        if came:
            end_by(came[0])


def end_by(number: int) -> NoReturn:
    """End this process by a signal, so that its parent is told so; else with the status that shells give it."""
    signal.signal(number, signal.SIG_DFL)
    os.kill(os.getpid(), number)
    raise SystemExit(128 + number)
