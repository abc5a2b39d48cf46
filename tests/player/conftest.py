"""One browser serves all tests of the page; without one those that need it are skipped, and say so."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.browser import Browser, Tab, running_browser
from support.page import built, films_of
from support.shop import jigcam

from jigcam.joints import kind_names
from jigcam.making.built import Built


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with running_browser(pytest.skip) as found:
        yield found


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


@pytest.fixture(scope="session")
def tab(browser: Browser) -> Tab:
    tab = browser.tab()
    tab.size(1280, 800)
    return tab


@pytest.fixture(scope="session")
def made_starters(folder: Path) -> dict[str, Built]:
    """Every kind's starter, in inches and mm by turns, as made with the kit that it names."""
    made = {}
    for number, name in enumerate(kind_names()):
        job = folder / f"{name}.toml"
        assert jigcam("start", name, "--units", ("in", "mm")[number % 2], "-o", job).status == 0
        made[name] = built(job)
    return made


@pytest.fixture(scope="session")
def starters(made_starters: dict[str, Built]) -> dict[str, list[dict[str, Any]]]:
    """Their films."""
    return {name: films_of(made) for name, made in made_starters.items()}
