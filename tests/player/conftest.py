"""One browser serves all tests of the page; without one those that need it are skipped, and say so."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from support.browser import Browser, Tab, running_browser


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
