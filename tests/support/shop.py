"""The command line run in this process, and what it leaves behind."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from jigcam.cli import main


@dataclass(frozen=True)
class Run:
    """How a command ended, and what it said."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Its stdout as JSON."""
        return json.loads(self.out)


def jigcam(*arguments: str | Path) -> Run:
    """Run a command. An exception that is no exit fails the test with its traceback."""
    result = CliRunner().invoke(main, [str(each) for each in arguments], env={"JIGCAM_TRACEBACK": "1"})
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Run(result.exit_code, result.stdout, result.stderr)


def content(folder: Path) -> dict[str, bytes]:
    """All files below a folder, by relative POSIX path; hidden ones too."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
