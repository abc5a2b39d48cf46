"""Grooves for tests: jobs with one groove, made in Python, and hypothesis strategies of them."""

from __future__ import annotations

from math import atan2, hypot
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from jigcam.job import Board, Job
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.joints.groove.groove import Groove, groove
from jigcam.kit import Climate
from jigcam.wood.band import Band

SIDE = {"length": 560.0, "width": 285.0, "thickness": 24.0}
"""The side of the cabinet, mm."""


def groove_job(
    *,
    board: dict[str, Any] | None = None,
    shelf: float = 12.2,
    enters: dict[str, Any] | None = None,
    climate: Climate | None = None,
    units: str = "mm",
    **keys: Any,
) -> Job:
    """A job with one groove in a board `side` that receives a board `shelf`; keys change the groove's.

    enters: changes to the shelf's board.
    """
    entry: dict[str, Any] = {
        "name": "tilted shelf",
        "kind": "groove",
        "board": "side",
        "face": "inside",
        "start_point": (100.0, 38.0),
        "angle": atan2(78.0, 16.0),
        "length": 200.0,
        "depth": 8.0,
        "receives": "shelf",
        "clearance": 0.15,
    }
    entry.update(keys)
    boards = {
        "side": Board(name="side", **(board or SIDE)),
        "shelf": Board(**{"name": "shelf", "length": 710.0, "width": 200.0, "thickness": shelf, **(enters or {})}),
    }
    joints = (GrooveEntry(**entry),)
    return Job(title="Sheet-music cabinet", units=units, boards=boards, joints=joints, climate=climate or Climate())


def made(job: Job) -> Groove:
    """The groove of a job's first joint."""
    entry = job.joints[0]
    assert isinstance(entry, GrooveEntry)
    return groove(entry, job)


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in hundredths of a millimetre, so that failures are readable."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100)


@st.composite
def groove_jobs(draw: st.DrawFn, *, widths: tuple[float, float] = (3.0, 30.0), ends: str | None = None) -> Job:
    """Jobs with one groove that lies on its board, at any angle, with any mix of open and stopped ends.

    widths: range of the groove's width, mm. ends: "round" or "square"; None: either.
    """
    board = {"length": draw(lengths(200, 900)), "width": draw(lengths(120, 400)), "thickness": draw(lengths(12, 30))}
    width = draw(lengths(*widths))
    inset = 0.75 * width  # half the diagonal of a square end, and some more
    xs, ys = lengths(inset, board["length"] - inset), lengths(inset, board["width"] - inset)
    p, q = (draw(xs), draw(ys)), (draw(xs), draw(ys))
    straight = hypot(q[0] - p[0], q[1] - p[1])
    assume(straight > 1.0)
    angle = atan2(q[1] - p[1], q[0] - p[0])
    band = Band(*p, angle, width, board["length"], board["width"])
    span = band.line_span()
    assert span is not None
    start, finish = draw(st.sampled_from(["stopped", "open"])), draw(st.sampled_from(["stopped", "open"]))
    low = span[0] if start == "open" else -width / 2.0
    high = span[1] if finish == "open" else straight + width / 2.0
    return groove_job(
        board=board,
        start_point=band.at(low),
        angle=angle,
        length=high - low,
        start=start,
        finish=finish,
        receives=None,
        width=width,
        clearance=0.1,
        depth=draw(lengths(2.0, board["thickness"] - 3.0)),
        opposite_hand=draw(st.booleans()),
        face=draw(st.sampled_from(["inside", "outside"])),
        ends=ends or draw(st.sampled_from(["round", "square"])),
    )


def grooves(*, widths: tuple[float, float] = (3.0, 30.0), ends: str | None = None) -> st.SearchStrategy[Groove]:
    """Grooves of such jobs; no finding stops them."""
    return groove_jobs(widths=widths, ends=ends).map(made)
