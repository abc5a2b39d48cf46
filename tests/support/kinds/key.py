"""Bow-tie keys across a crack, at any angle."""

from __future__ import annotations

from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table

TOP: Table = {"length": 400.0, "width": 300.0, "thickness": 22.0, "wood": "black cherry"}


def key_job(**keys: object) -> Table:
    """A job with keys in the middle of the top, mm."""
    entry: Table = {"name": "bow ties", "kind": "key", "board": "top", "face": "outside", "at": [200.0, 150.0]}
    return job({"top": TOP}, {**entry, "length": 60.0, "ends": 32.0, "waist": 16.0, "depth": 8.0, **keys})


SMALL = key_job()


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`: waists that the bushings of the metric shop pass."""
    waist = draw(sizes(15, 20))
    return key_job(
        angle=draw(st.integers(-90, 90)),
        length=draw(sizes(55, 75)),
        waist=waist,
        ends=waist + draw(sizes(10, 18)),
        depth=draw(sizes(5, 9)),
    )
