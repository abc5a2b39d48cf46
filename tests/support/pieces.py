"""A piece that is quickly made, by hand alone: a box of four boards with a shelf across it."""

from __future__ import annotations

from typing import Any

from support.jobs import Table

CORNERS: Table = {
    "name": "corners",
    "kind": "through-dovetail",
    "way": "hand",
    "tails": "side",
    "tails_end": "both",
    "pins": "end",
    "pins_end": "both",
    "count": 3,
    "pin": 10,
    "half_pin": 7,
    "slope": "1:8",
    "clearance": 0.05,
}
SHELF: Table = {
    "name": "shelf",
    "kind": "groove",
    "way": "hand",
    "board": "side",
    "face": "inside",
    "from": [150, 0],
    "angle": 90,
    "length": 70,
    "start": "open",
    "finish": "stopped",
    "depth": 4,
    "ends": "square",
    "receives": "shelf",
    "clearance": 0.1,
}
BACK: Table = {
    "name": "back",
    "kind": "rabbet",
    "way": "hand",
    "board": "side",
    "face": "inside",
    "along": "upper",
    "receives": "back",
    "depth": 6,
    "from": 20,
    "length": 260,
}
RAIL: Table = {
    **SHELF,
    "name": "rail",
    "board": "shelf",
    "from": [60, 20],
    "length": 49.5,
    "start": "stopped",
    "finish": "open",
    "depth": 3,
    "width": 6,
}
del RAIL["receives"], RAIL["clearance"]
NOSING: Table = {
    "name": "nosing",
    "kind": "rabbet",
    "way": "hand",
    "board": "shelf",
    "face": "outside",
    "along": "lower",
    "width": 3,
    "depth": 4.4,
}
"""It leaves less than half of the edge, of 9 mm, by which the shelf is laid."""
HOUSED: Table = {**SHELF, "enters": "left"}


def box(**top: Any) -> Table:
    """The job of the box; keys change what stands at its top."""
    return {
        "job": "Score box",
        "units": "mm",
        "kit": "metric-shop",
        "boards": {
            "side": {"length": 300, "width": 90, "thickness": 12, "wood": "black cherry", "sawn": "quarter"},
            "end": {"length": 220, "width": 90, "thickness": 12, "wood": "black cherry", "sawn": "quarter"},
            "shelf": {"length": 203.9, "width": 69.5, "thickness": 9, "wood": "black cherry"},
        },
        "joints": [SHELF, CORNERS],
        **top,
    }


def case(*joints: Table) -> Table:
    """The box with a back, and a shelf that has joints of its own."""
    table = box(joints=list(joints))
    table["boards"]["back"] = {"length": 259.8, "width": 207.9, "thickness": 5}
    return table
