"""Grooves cut directly or by a template, at any angle, with any mix of ends."""

from __future__ import annotations

import math

from hypothesis import strategies as st
from support.every_kind import sizes
from support.jobs import Table, job_table

BOARDS: Table = {"side": {"length": 240.0, "width": 200.0, "thickness": 20.0}}
MIDDLE = [120.0, 100.0]
SMALL = job_table("mm", boards=BOARDS, from_=[60.0, 60.0], angle=40, length=70.0, depth=6.0)


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`: from the middle of the side outward, so that any end may be open."""
    open_end = draw(st.booleans())
    keys: Table = {"angle": draw(st.integers(0, 359)), "depth": draw(sizes(2, 9)), "face": draw(FACES)}
    keys |= {"ends": draw(st.sampled_from(["round", "square"])), "finish": "open" if open_end else "stopped"}
    keys |= {"length": 160.0 if open_end else draw(sizes(40, 80)), "opposite_hand": draw(st.booleans())}
    keys |= {"way": draw(st.sampled_from(["direct", "direct", "template"]))}
    if not open_end and draw(st.integers(0, 3)) == 0:
        square = math.radians(keys["angle"] + 90)
        pitch = [round(PITCH * math.cos(square), 1), round(PITCH * math.sin(square), 1)]
        keys |= {"length": draw(sizes(40, 60)), "repeat": {"count": 2, "pitch": pitch}}
    if draw(st.integers(0, 3)) == 0:
        keys |= {"face": "both", "depth": draw(sizes(2, 6))}
    return job_table("mm", boards=BOARDS, from_=MIDDLE, **keys)


PITCH = 25.0
"""mm; of two in a row, side by side, so that enough wood stays between them."""
FACES = st.sampled_from(["inside", "outside"])
