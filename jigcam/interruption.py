"""Signals that ask a program to end while it writes files: what it has begun is taken away first.

Anywhere else such a signal ends the process at once, as it does by default, and nothing needs to be taken away. Where
files are written it waits, so that no folder is made, renamed or taken away by halves; only a part that says so, long
and plain as the writing of content is, is broken off by an exception. If a library swallows that one, the process ends
all the same when the files are written.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import ClassVar, NoReturn

ASKING = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGINT") if hasattr(signal, name))
"""Signals that ask a program to end; the last one comes from the keyboard."""


class Ended(BaseException):
    """A signal asked us to end; no `except Exception` may hold it up."""


class _Asked:
    """Signals that came, and whether the next one breaks off what is being done."""

    came: ClassVar[list[int]] = []
    breaks_off: ClassVar[bool] = False


@contextmanager
def tidying_up() -> Iterator[None]:
    """Within it, signals that ask us to end wait; on the way out the process ends by the first of them.

    Signals that the caller has us ignore stay ignored (nohup), and those with a handler of their own keep it.
    """
    if threading.current_thread() is not threading.main_thread():  # where no signal comes
        yield
        return
    before = {each: signal.getsignal(each) for each in ASKING}
    ours = [each for each, what in before.items() if what in (signal.SIG_DFL, signal.default_int_handler)]
    try:
        for each in ours:
            signal.signal(each, _note)
        yield
    except Ended:
        pass  # it is not lost: see below
    finally:
        for each in ours:
            signal.signal(each, before[each])
        if ours and _Asked.came:
            end_by(_Asked.came[0])


@contextmanager
def interruptible() -> Iterator[None]:
    """Within `tidying_up`, a part that the first signal breaks off by `Ended`.

    Whatever it makes must be known to those around it who take it away.
    """
    _Asked.breaks_off = True
    try:
        if _Asked.came:
            raise Ended
        yield
    finally:
        _Asked.breaks_off = False


def _note(number: int, _: FrameType | None) -> None:
    _Asked.came.append(number)
    if _Asked.breaks_off and len(_Asked.came) == 1:
        raise Ended


def end_by(number: int) -> NoReturn:
    """End this process by a signal, so that its parent is told so; else with the status that shells give it."""
    signal.signal(number, signal.SIG_DFL)
    os.kill(os.getpid(), number)
    raise SystemExit(128 + number)
