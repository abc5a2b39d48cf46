"""Every key of a job and a kit is told: to editors in the schema, to people in the README, with its default."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from pydantic import BaseModel
from support.key_tables import as_markdown

from jigcam.document.keys import keys_told, models_in
from jigcam.job.job import Job
from jigcam.joints import kind, kind_names
from jigcam.kit.kit import Kit

README = Path(__file__).parents[1] / "README.md"
BEGIN, END = "<!-- keys -->", "<!-- end of keys -->"
MODELS = {
    model.__name__: model
    for root in (Job, Kit, *(kind(name).entry for name in kind_names()))
    for model in models_in(root)
}


@pytest.mark.parametrize("model", MODELS.values(), ids=MODELS)
def test_every_key_is_told(model: type[BaseModel]) -> None:
    untold = [key for key, says in keys_told(model).items() if not says]
    assert not untold, f"add `{untold[0]}: what it is.` to the docstring of {model.__module__}.{model.__name__}"


def test_words_of_a_key() -> None:
    class Board(BaseModel):
        """A board.

        wood: a name. length, width: of it; left out: as the other one. start (`from` in files): where
        it begins.

        What is said here is said of no key.
        """

        wood: str
        length: float
        width: float
        start: float

    class Shelf(Board):
        """A shelf; wood: any."""

        load: float

    told = {"wood": "any", "length": "of it; left out: as the other one", "start": "where it begins", "load": ""}
    assert keys_told(Shelf) == {**told, "width": told["length"]}


@pytest.mark.skipif(not README.is_file(), reason="the README comes with the sources")
def test_the_readme_lists_every_key() -> None:
    text = README.read_text("utf-8")
    before, rest = text.split(BEGIN)
    listed, after = rest.split(END)
    made = f"\n{as_markdown()}\n"
    if os.environ.get("JIGCAM_GOLDEN") == "write":
        README.write_text(before + BEGIN + made + END + after, "utf-8")
    else:
        assert listed == made, "run JIGCAM_GOLDEN=write pytest tests/test_keys.py"
