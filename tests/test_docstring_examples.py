"""The examples in docstrings come out as they are written there, on the package as it is installed."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

import jigcam

PACKAGE = Path(jigcam.__file__).parent


def modules_with_examples() -> list[str]:
    """All modules of the package whose text holds a prompt."""
    paths = [path for path in sorted(PACKAGE.rglob("*.py")) if ">>> " in path.read_text("utf-8")]
    return [".".join(("jigcam", *path.relative_to(PACKAGE).with_suffix("").parts)) for path in paths]


def test_the_examples_are_found():
    assert {
        "jigcam.units.parse",
        "jigcam.units.format",
        "jigcam.geometry.shapes",
        "jigcam.geometry.region",
        "jigcam.template.bushing",
    } <= set(modules_with_examples())


@pytest.mark.parametrize("name", modules_with_examples())
def test_examples_come_out_as_written(name):
    told: list[str] = []
    runner = doctest.DocTestRunner()
    for case in doctest.DocTestFinder(exclude_empty=True).find(importlib.import_module(name)):
        runner.run(case, out=told.append)
    assert runner.tries > 0
    assert not told, "".join(told)
