"""The program on a real terminal: a pseudo-terminal of a given size for each of its two streams."""

from __future__ import annotations

import os
import re
import struct
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

pty = pytest.importorskip("pty")
fcntl = pytest.importorskip("fcntl")
termios = pytest.importorskip("termios")

SGR = re.compile(r"\x1b\[([0-9;]*)m")
OURS = ("COLUMNS", "LINES", "NO_COLOR", "COLORFGBG", "PYTHONIOENCODING", "PYTHONUTF8", "LC_ALL", "LANG")


@dataclass(frozen=True)
class Screen:
    """How a command ended and what its stdout and stderr sent to their terminals."""

    status: int
    out: str
    err: str

    @property
    def lines(self) -> list[str]:
        """Of stdout, without colours."""
        return SGR.sub("", self.out).splitlines()

    @property
    def inks(self) -> set[int]:
        """Every parameter of every colour that stdout asked for."""
        return {int(each or 0) for found in SGR.findall(self.out) for each in found.split(";")}


def on_terminal(*arguments: str | Path, columns: int, folder: Path | None = None, **environment: str) -> Screen:
    """Runs the command in `folder`, both streams on terminals of that many columns; UTF-8 unless told otherwise."""
    kept = {key: value for key, value in os.environ.items() if key not in OURS}
    streams = [_terminal(columns) for _ in range(2)]
    run = subprocess.Popen(
        [sys.executable, "-m", "jigcam", *map(str, arguments)],
        stdin=subprocess.DEVNULL,
        stdout=streams[0][1],
        stderr=streams[1][1],
        cwd=folder,
        env={**kept, "TERM": "xterm", "PYTHONUTF8": "1", **environment},
    )
    sent: list[bytes] = [b"", b""]

    def read(which: int) -> None:
        sent[which] = b"".join(_chunks(streams[which][0]))

    readers = [threading.Thread(target=read, args=(which,)) for which in range(2)]
    for _, follower in streams:
        os.close(follower)
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join(120)
    out, err = (text.decode("utf-8", "replace").replace("\r\n", "\n") for text in sent)
    return Screen(run.wait(10), out, err)


def _terminal(columns: int) -> tuple[int, int]:
    leader, follower = pty.openpty()
    fcntl.ioctl(follower, termios.TIOCSWINSZ, struct.pack("HHHH", 40, columns, 0, 0))
    return leader, follower


def _chunks(leader: int) -> Iterator[bytes]:
    while True:
        try:
            chunk = os.read(leader, 65536)
        except OSError:  # the other side was closed
            chunk = b""
        if not chunk:
            os.close(leader)
            return
        yield chunk
