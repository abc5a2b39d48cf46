"""Names as names of folders."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.job import slug


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("tilted shelf", "tilted-shelf"),
        ("Türstraße", "turstrasse"),
        ("  a -- b  ", "a-b"),
        ("x) G0 Z-50 (", "x-g0-z-50"),
        ("../../etc", "etc"),
        ("line\nbreak", "line-break"),
        ("棚", "joint-3"),
        ("...", "joint-3"),
    ],
)
def test_slugs(name: str, folder: str) -> None:
    assert slug(name, "joint-3") == folder


@given(st.text(max_size=80))
def test_a_slug_is_always_a_plain_name(name: str) -> None:
    assert re.fullmatch(r"([a-z0-9]+(-[a-z0-9]+)*)?", slug(name))
    assert slug(slug(name)) == slug(name)
