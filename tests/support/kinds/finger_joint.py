"""Finger joints at one corner or two, and what is cut out of their boards, from outside."""

from __future__ import annotations

from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table


def finger_job(width: float = 60.0, a: float = 12.0, b: float = 12.0, **keys: object) -> Table:
    """A job with one corner, mm. a, b: thickness of the two boards; None takes a key away."""
    boards: dict[str, Table] = {
        "side": {"length": 180.0, "width": width, "thickness": a, "wood": "black cherry"},
        "end": {"length": 140.0, "width": width, "thickness": b, "wood": "black cherry"},
    }
    entry: Table = {
        "name": "corner",
        "kind": "finger-joint",
        "a": "side",
        "a_end": "right",
        "b": "end",
        "b_end": "left",
    }
    entry |= {"count": 5, **keys}
    return job(boards, {key: value for key, value in entry.items() if value is not None})


SMALL = finger_job()


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`: slots as wide as the narrowest bit at least, which cuts 14 mm deep."""
    a, b = draw(sizes(6, 14)), draw(sizes(6, 14))
    count = draw(st.integers(2, 6))
    keys: Table = {"first": draw(st.sampled_from(["a", "b"])), "clearance": draw(st.sampled_from([0.0, 0.05, 0.1]))}
    keys["clearance_from"] = draw(st.sampled_from(["b", "both"]))
    keys["a_end"], keys["b_end"] = draw(st.sampled_from([("left", "right"), ("right", "left"), ("both", "both")]))
    finger = draw(sizes(5, 14))
    if draw(st.booleans()):
        return finger_job(count * finger, a, b, count=count, **keys)
    rest = draw(st.sampled_from([0.4, 0.7, 1.0]))
    return finger_job(round((count - 1 + rest) * finger, 3) + 3.0, a, b, count=None, finger=finger + 1.0, **keys)
