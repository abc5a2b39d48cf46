"""Sliding dovetails: sockets across and askew, open or stopped, tapered, one bit wide and wider, tails of both ends."""

from __future__ import annotations

import math

import shapely
from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table


def sliding_job(
    socket: tuple[float, float, float] = (300.0, 120.0, 20.0),
    tail: tuple[float, float, float] = (200.0, 120.0, 18.0),
    **keys: object,
) -> Table:
    """A job with a socket and a tail in boards of those sizes, mm; `from` is written `from_`, None takes a key away."""
    entry: Table = {"name": "divider", "kind": "sliding-dovetail", "socket": "top", "face": "inside"}
    entry |= {"from": [100.0, 0.0], "angle": 90, "length": 120.0, "depth": 8.0, "base": 12.7}
    entry |= {"tail": "divider", "tail_end": "left", "angle_of_flank": 8}
    entry |= {key.rstrip("_"): value for key, value in keys.items()}
    names = ("length", "width", "thickness")
    boards = {
        name: {**dict(zip(names, size, strict=True)), "wood": "black cherry", "sawn": "quarter"}
        for name, size in (("top", socket), ("divider", tail))
    }
    return job(boards, {key: value for key, value in entry.items() if value is not None})


SMALL = sliding_job(from_=[100.0, 15.0], length=105.0, start="stopped")
BY_TEMPLATE = sliding_job(way="template", base=12.8, from_=[100.0, 15.0], length=105.0, start="stopped")
"""The same by a template, its bottom a little wider than the bit."""


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`: bits of 12.7 mm and 8° or 14°, and of 15.9 mm and 7°."""
    angle = draw(st.sampled_from([7, 8, 14]))
    width = draw(sizes(80, 200))
    base = draw(sizes(16, 17.9) if angle == 7 else st.just(12.7) | sizes(12.8, 17.9))
    taper = draw(st.just(0.0) | sizes(0.1, min(0.6, base - (15.9 if angle == 7 else 12.7)))) if base > 16.6 else 0.0
    keys: Table = {"angle_of_flank": angle, "base": base, "taper": taper}
    keys["depth"] = draw(sizes(6, 10))
    keys["tail_end"] = draw(st.sampled_from(["left", "right"]))
    keys["face"] = draw(st.sampled_from(["inside", "outside"]))
    keys["clearance"] = draw(st.sampled_from([0, 0.05, 0.1]))
    keys["preclear"] = draw(st.sampled_from([True, True, False]))
    stop = draw(st.none() | st.sampled_from(["start", "finish"]))
    back = draw(sizes(12, 30)) if stop else 0.0
    up = draw(st.booleans())
    # Going down the board, the start lies at the upper edge.
    keys["angle"] = draw(st.sampled_from([90, 80, 100])) * (1 if up else -1)
    at = width if not up else 0.0
    keys["from"] = [150.0, at + (back if up else -back) * (stop == "start")]
    keys["length"] = round(width * 1.02 - back, 1)
    if stop:
        keys[stop] = "stopped"
        keys["length"] = round(width - back, 1)
    return sliding_job((300.0, width, 22.0), (200.0, width, 18.0), **keys)


def outlines(table: Table, z: float) -> tuple[shapely.Polygon, shapely.Polygon]:
    """What may go and what has to go for the socket of such a job, face frame, at height z: by trigonometry alone.

    At a stopped end what has to go stops before the round of the widest bit.
    """
    (entry,) = table["joints"]
    lean, rise = math.tan(math.radians(entry["angle_of_flank"])), z + entry["depth"]
    half, length, taper = entry["base"] / 2, entry["length"], entry.get("taper", 0.0)
    low = -half + rise * lean
    backward = entry.get("start") == "stopped"
    square = math.hypot(1.0, taper / length)

    def high(s: float) -> float:
        return half - taper * ((length - s) if backward else s) / length - rise * lean * square

    def outline(round_off: float) -> shapely.Polygon:
        first = rise * lean + round_off if backward else -60.0
        last = length - rise * lean - round_off if entry.get("finish") == "stopped" else length + 60.0
        corners = [(first, low), (last, low), (last, high(last)), (first, high(first))]
        angle, (x, y) = math.radians(entry["angle"]), entry["from"]
        c, s_ = math.cos(angle), math.sin(angle)
        return shapely.Polygon([(x + s * c - t * s_, y + s * s_ + t * c) for s, t in corners])

    return outline(0.0), outline(half)


def tail_outline(table: Table, rise: float) -> tuple[float, float, float, float]:
    """The tail of an untapered job on its board's end, `rise` mm over the socket's bottom: y0, y1, v0, v1.

    y from the lower edge, v from the outside face. Only for sockets that begin or end square at the board's edge.
    """
    (entry,) = table["joints"]
    board, flank = table["boards"]["divider"], math.radians(entry["angle_of_flank"])
    half = entry["base"] / 2 - rise * math.tan(flank) - entry.get("clearance", 0.05) / math.cos(flank)
    middle = board["thickness"] / 2
    stop = entry["base"] / 2 + 0.5 + rise * math.tan(flank)  # round of the widest bit, and half a millimetre
    y0, y1 = -60.0, board["width"] + 60.0
    if entry.get("start") == "stopped":
        y0 = board["width"] - entry["length"] + stop
    if entry.get("finish") == "stopped":
        y1 = entry["length"] - stop
    return y0, y1, middle - half, middle + half
