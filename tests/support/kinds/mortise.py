"""Mortises in faces and ends, one or a row, with a mate or without."""

from __future__ import annotations

import math

from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table
from support.outside_cut import Wanted

POST: Table = {"length": 360.0, "width": 90.0, "thickness": 32.0}
RAIL: Table = {"length": 240.0, "width": 80.0, "thickness": 28.0}


def mortise_job(*, mate: Table | None = None, end: str | None = None, **keys: object) -> Table:
    """A job with mortises in a post, in its inside face or an end, mm."""
    side: Table = {"end": end} if end else {"face": "inside"}
    at = [45.0, 16.0] if end else [100.0, 40.0]
    entry: Table = {"name": "rail to post", "kind": "mortise", "way": "direct", "board": "post", **side, "at": at}
    entry |= {"length": 40.0, "width": 10.0, "depth": 18.0, "clearance": 0.1, **keys}
    if mate is not None:
        entry["mate"] = mate
    return job({"post": dict(POST), "rail": dict(RAIL)}, entry)


IN_RAIL: Table = {"board": "rail", "end": "left", "at": [40.0, 14.0]}
_ON = {"way": "template", "template": "both rails", "width": 14.0, "depth": 12.0}
_FIRST = mortise_job(**_ON, mate={**IN_RAIL, "at": [19.0, 14.0]}, length=26.0)
_ENTRY = _FIRST["joints"][0]
_SECOND = {**_ENTRY, "name": "second", "at": [142.0, 40.0], "mate": {**_ENTRY["mate"], "at": [61.0, 14.0]}}
SHARED: Table = {**_FIRST, "joints": [_ENTRY, _SECOND]}
"""Two mortises on one sheet, and their mates in one laying."""
SMALL = mortise_job(mate={**IN_RAIL, "depth": 22.0})


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`: in a face by template or directly, in an end directly, with a mate in the rail."""
    keys: Table = {"width": draw(sizes(8, 12)), "length": draw(sizes(30, 44)), "depth": draw(sizes(8, 20))}
    place = draw(st.sampled_from(["face", "template", "left", "right"]))
    if place in ("left", "right") and draw(st.booleans()):
        keys |= {"way": "template", "width": draw(sizes(13, 16)), "depth": draw(sizes(6, 12))}
        return mortise_job(end=place, **keys)
    if place in ("left", "right"):
        return mortise_job(end=place, angle=draw(st.sampled_from([0, 4, 180])), **keys)
    if place == "template":
        # Room for the bit's play in the opening, and for its edges below the sheet.
        keys |= {"way": "template", "width": draw(sizes(13, 18)), "depth": draw(sizes(6, 12))}
        return mortise_job(angle=draw(st.integers(-40, 40)), face=draw(FACES), **keys)
    if draw(st.booleans()):
        keys["repeat"] = {"count": draw(st.integers(2, 4)), "pitch": draw(sizes(60, 75))}
        return mortise_job(angle=draw(st.integers(-20, 20)), face=draw(FACES), **keys)
    mate = {**IN_RAIL, "end": draw(st.sampled_from(["left", "right"]))}
    return mortise_job(mate=mate, angle=draw(st.sampled_from([0, 90])), face=draw(FACES), **keys)


FACES = st.sampled_from(["inside", "outside"])


def wanted(table: Table, number: int = 0) -> Wanted:
    """One mortise of the first board of such a job, as the contract draws it, in the frame of its face or its end."""
    (entry,), board = table["joints"], table["boards"]["post"]
    angle = math.radians(entry.get("angle", 0.0))
    pitch = entry.get("repeat", {}).get("pitch", 0.0)
    dx, dy = pitch if isinstance(pitch, list) else (pitch, 0.0)
    x, y = entry["at"][0] + number * dx, entry["at"][1] + number * dy
    half = entry["length"] / 2
    start = (x - half * math.cos(angle), y - half * math.sin(angle))
    sizes_ = (board["length"], board["width"], board["thickness"])
    if "end" in entry:
        sizes_ = (board["width"], board["thickness"], board["length"])
    return Wanted(start, angle, 0.0, entry["length"], entry["width"], entry["depth"], True, sizes_)
