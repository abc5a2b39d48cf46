"""Rabbets along every edge of both faces, through or stopped at either end, and what they are to be, from outside."""

from __future__ import annotations

import math

from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table
from support.outside_cut import FAR, Wanted


def rabbet_job(
    board: tuple[float, float, float] = (160.0, 90.0, 20.0), mate: float | None = None, **keys: object
) -> Table:
    """A job with a rabbet in a board of that size, mm; `from` is written `from_`, None takes a key away. mate:
    thickness of a panel that it receives; it then says no width of its own unless the keys do."""
    entry: Table = {"name": "back", "kind": "rabbet", "board": "side", "face": "inside", "along": "upper"}
    entry |= {"width": 8.0} if mate is None else {"receives": "panel", "clearance": 0.0}
    entry |= {"depth": 7.0, **{key.rstrip("_"): value for key, value in keys.items()}}
    side = {**dict(zip(("length", "width", "thickness"), board, strict=True)), "wood": "black cherry"}
    table = {key: value for key, value in entry.items() if value is not None}
    if mate is None:
        return job({"side": side}, table)
    # A panel that goes between stopped ends, whichever of its sides lies in it.
    along = board[1] if entry["along"] in ("left", "right") else board[0]
    span = entry.get("length") or along - (entry.get("from") or 0.0)
    panel = {"length": span - 0.5, "width": span - 0.5, "thickness": mate}
    return job({"side": side, "panel": panel}, table)


SMALL = rabbet_job(from_=15.0)


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`: stopped ends leave room for the narrowest bit, which reaches 14 mm."""
    length, width, thickness = draw(sizes(80, 400)), draw(sizes(50, 250)), draw(sizes(8, 24))
    along = draw(st.sampled_from(["left", "right", "lower", "upper"]))
    side, across = (width, length) if along in ("left", "right") else (length, width)
    keys: Table = {"along": along, "face": draw(st.sampled_from(["inside", "outside"]))}
    keys["depth"] = draw(sizes(1, min(14.0, 0.6 * thickness)))
    start, finish = draw(st.none() | sizes(1, 0.4 * side)), draw(st.none() | sizes(0.6 * side, side - 1.0))
    # A narrow bit of 3 mm stands with half of its width on a stopped rabbet of 1.5.
    width_of_it = draw(sizes(0.3 if start is finish is None else 1.5, 0.7 * across))
    mate = draw(st.none() | st.just(width_of_it)) if width_of_it >= 2.0 else None
    if mate is None:
        keys["width"] = width_of_it
    if start is not None:
        keys["from"] = start
    if finish is not None:
        keys["length"] = finish - (start or 0.0)
    return rabbet_job((length, width, thickness), mate, **keys)


def wanted(table: Table) -> Wanted:
    """The rabbet of such a job as the contract draws it: a bar with square ends that reaches far off its edge."""
    (entry,), board = table["joints"], table["boards"]["side"]
    length, width = board["length"], board["width"]
    along = entry["along"]
    if entry["face"] == "inside":  # seen from there, the left end is on the right
        along = {"left": "right", "right": "left"}.get(along, along)
    side = width if along in ("left", "right") else length
    first = entry.get("from", 0.0)
    last = first + entry.get("length", side - first)
    low, high = (-FAR if first <= 0.0 else first), (FAR if last >= side - 1e-9 else last)
    wide = entry["width"] if "width" in entry else table["boards"]["panel"]["thickness"]
    middle = (wide - FAR) / 2
    edges = {"left": (middle, 0.0), "right": (length - middle, 0.0)}
    edges |= {"lower": (0.0, middle), "upper": (0.0, width - middle)}
    angle = math.pi / 2 if along in ("left", "right") else 0.0
    size = (length, width, board["thickness"])
    return Wanted(edges[along], angle, low, high, wide + FAR, entry["depth"], False, size)
