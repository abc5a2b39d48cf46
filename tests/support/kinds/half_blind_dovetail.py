"""Half-blind corners of few tails: a drawer's side and its front."""

from __future__ import annotations

from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table


def drawer_job(width: float = 60.0, side: float = 12.0, front: float = 19.0, **keys: object) -> Table:
    """A job with one corner, mm. side, front: thickness of the tail board and of the pin board."""
    boards: dict[str, Table] = {
        "side": {"length": 200.0, "width": width, "thickness": side, "wood": "black cherry"},
        "front": {"length": 240.0, "width": width, "thickness": front, "wood": "black cherry"},
    }
    entry: Table = {"name": "drawer", "kind": "half-blind-dovetail", "tails": "side", "tails_end": "right"}
    entry |= {"pins": "front", "pins_end": "left", "count": 1, "pin": 9.0, "half_pin": 14.0, "slope": "1:8", "lap": 4.0}
    return job(boards, {**entry, **keys})


SMALL = drawer_job(tails_setup="flat")


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`."""
    count = draw(st.integers(1, 2))
    front, lap = draw(sizes(17, 22)), draw(sizes(2.5, 4.7))
    tails_end, pins_end = draw(st.sampled_from([("left", "right"), ("right", "left")]))
    return drawer_job(
        width=draw(sizes(60, 90)) + 30.0 * (count - 1),
        side=draw(sizes(10, 14)),
        front=front,
        lap=lap,
        count=count,
        pin=draw(sizes(10, 12)),
        half_pin=draw(sizes(8, 14)),
        tails_end=tails_end,
        pins_end=pins_end,
        tails_setup=draw(st.sampled_from(["upright", "flat"])),
        corners=draw(st.sampled_from(["chisel", "relieved", "rounded"])),
        clearance=draw(st.sampled_from([0.0, 0.05, 0.1])),
        slope=f"1:{draw(st.integers(6, 8))}",
    )
