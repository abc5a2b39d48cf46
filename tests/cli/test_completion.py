"""What a shell is told to complete, asked as a shell asks: in the environment of a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from jigcam.joints import kind_names
from jigcam.kit import kit_names


def completed(*words: str) -> list[str]:
    """What bash is offered for the last of the words."""
    asked = {"_JIGCAM_COMPLETE": "bash_complete", "COMP_WORDS": " ".join(words), "COMP_CWORD": str(len(words) - 1)}
    code = "from jigcam.cli import main; main(prog_name='jigcam')"
    run = subprocess.run([sys.executable, "-c", code], env={**os.environ, **asked}, capture_output=True, text=True)
    assert run.stderr == ""
    return run.stdout.split()


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (("jigcam", "mo"), ["plain,movement"]),
        (("jigcam", "make", "job.toml", "--rep"), ["plain,--replace"]),
        (("jigcam", "start", "k"), ["plain,key", "plain,kit"]),
        (("jigcam", "check", "job.toml", "--kit", ""), [f"plain,{name}" for name in kit_names()]),
        (("jigcam", "kit", "my-"), ["file,my-"]),
        (("jigcam", "start", "x"), []),
    ],
)
def test_a_shell_is_offered(words: tuple[str, ...], offered: list[str]) -> None:
    assert "key" in kind_names()
    assert completed(*words) == offered
