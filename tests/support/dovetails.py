"""Through dovetails for tests: jobs with one joint, made in Python, and hypothesis strategies of layouts."""

from __future__ import annotations

from math import atan
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from jigcam.dovetails import Dovetail, Layout, dovetail, even_layout, measured_layout
from jigcam.job import Board, Job
from jigcam.joints.through_dovetail import ThroughDovetailEntry

SIDE = {"length": 300.0, "width": 90.0, "thickness": 20.0}
"""The tail board of the small joint that most tests cut, mm."""
TOP = {"length": 700.0, "width": 90.0, "thickness": 16.0}
"""Its pin board."""


def dovetail_job(
    *, side: dict[str, float] | None = None, top: dict[str, float] | None = None, units: str = "mm", **keys: Any
) -> Job:
    """A job with one corner of two tails; keys change the joint's."""
    entry: dict[str, Any] = {
        "name": "corner",
        "tails": "side",
        "tails_end": "right",
        "pins": "top",
        "pins_end": "left",
        "count": 2,
        "pin": 9.0,
        "half_pin": 7.0,
        "slope": atan(1 / 8),
    }
    entry.update(keys)
    boards = {"side": Board(name="side", **(side or SIDE)), "top": Board(name="top", **(top or TOP))}
    return Job(title="Sheet-music cabinet", units=units, boards=boards, joints=(ThroughDovetailEntry(**entry),))


def made(job: Job) -> Dovetail:
    """The joint of a job's first entry."""
    entry = job.joints[0]
    assert isinstance(entry, ThroughDovetailEntry)
    return dovetail(entry, job)


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in hundredths of a millimetre, so that failures are readable."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100)


@st.composite
def even_layouts(draw: st.DrawFn) -> Layout:
    """Layouts as a drawing gives them, that can be cut."""
    count, pin, half_pin = draw(st.integers(1, 9)), draw(lengths(4, 20)), draw(lengths(4, 20))
    length, slope = draw(lengths(8, 30)), atan(1 / draw(st.integers(4, 10)))
    tail = draw(lengths(8, 60))
    width = count * tail + (count - 1) * pin + 2 * half_pin
    layout = even_layout(width, length, count, pin, half_pin, slope)
    assume(layout.ordered)
    return layout


@st.composite
def uneven_layouts(draw: st.DrawFn) -> Layout:
    """Layouts as tails were measured: no two alike, every flank with a slope of its own."""
    length, at = draw(lengths(8, 30)), draw(lengths(4, 12))
    tails = []
    for _ in range(draw(st.integers(1, 6))):
        low, high = draw(lengths(0.5, 3)), draw(lengths(0.5, 3))
        tail = draw(lengths(12, 50))
        tails.append((at, at + tail, at + low, at + tail - high))
        at += tail + draw(lengths(4, 20))
    return measured_layout(at + draw(lengths(0, 10)), length, tuple(tails))


def layouts() -> st.SearchStrategy[Layout]:
    """Either."""
    return even_layouts() | uneven_layouts()
