"""Corners of few tails, in every pairing of setups."""

from __future__ import annotations

from hypothesis import strategies as st
from support.every_kind import job, sizes
from support.jobs import Table


def corner_job(width: float = 60.0, side: float = 16.0, top: float = 15.0, **keys: object) -> Table:
    """A job with one corner, mm. side, top: thickness of the tail board and of the pin board."""
    boards: dict[str, Table] = {
        "side": {"length": 200.0, "width": width, "thickness": side, "wood": "black cherry"},
        "top": {"length": 300.0, "width": width, "thickness": top, "wood": "black cherry"},
    }
    entry: Table = {"name": "corner", "kind": "through-dovetail", "tails": "side", "tails_end": "right"}
    entry |= {"pins": "top", "pins_end": "left", "count": 1, "pin": 9.0, "half_pin": 12.0, "slope": "1:8"}
    return job(boards, {**entry, **keys})


SMALL = corner_job(tails_setup="flat", pins_setup="upright")
PINS_FLAT = corner_job(tails_setup="flat", pins_setup="flat", slope="8 deg")
"""Pins lying flat with the slope of the shop's bit, which cuts their walls."""


@st.composite
def jobs(draw: st.DrawFn) -> Table:
    """See `support.every_kind`."""
    count = draw(st.integers(1, 2))
    return corner_job(
        width=draw(sizes(60, 90)) + 30.0 * (count - 1),
        side=draw(sizes(14, 18)),
        top=draw(sizes(12, 18)),
        count=count,
        pin=draw(sizes(9, 12)),
        half_pin=draw(sizes(8, 14)),
        tails_setup=draw(st.sampled_from(["upright", "flat"])),
        pins_setup=draw(st.sampled_from(["upright", "flat"])),
        slope=draw(st.sampled_from(["1:6", "1:7", "1:8", "8 deg"])),
    )
