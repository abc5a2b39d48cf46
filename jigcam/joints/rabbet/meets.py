"""How a board lies in a rabbet, as a back does: an end or an edge of it on the cheek, its face against the shoulder."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from jigcam.geometry import apply
from jigcam.wood.meeting import FAR, Meeting, entering, face_frame, vector
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.joints.rabbet.entry import RabbetEntry
    from jigcam.joints.rabbet.rabbet import Rabbet

Part = Literal["left", "right", "lower", "upper"]
ACROSS: dict[Part, Part] = {"left": "right", "right": "left", "lower": "upper", "upper": "lower"}
"""The other end, or the other edge."""
STANDS_OFF = 0.5
"""Share of a rabbet's depth by which what lies in it may stay off its wall and still be held (common practice)."""


def rabbet_meets(it: Rabbet, entry: RabbetEntry, job: Job) -> tuple[Meeting, ...]:
    """The rabbet with the board that lies in it; none where the job names no such board.

    Of two boards that are cut alike the second gets the other end or edge of it, so both are offered.
    """
    if it.mate is None:
        return ()
    first: Part = entry.enters or ("left" if enters_by_end(it, entry, it.mate) else "lower")
    usual, other = (_meeting(it, it.mate, part) for part in (first, ACROSS[first]))
    return (replace(usual, others=(other,)),)


def enters_by_end(it: Rabbet, entry: RabbetEntry, mate: Board) -> bool:
    """Whether an end of the mate lies in it: as said, or else where its width lies along the rabbet, not its length."""
    if entry.enters is not None:
        return entry.enters in ("left", "right")
    return abs(mate.width - it.length) <= abs(mate.length - it.length)


def _meeting(it: Rabbet, mate: Board, part: Part) -> Meeting:
    by_end = part in ("left", "right")
    size = mate.width if by_end else mate.length
    low, high = it.open_ends
    room = max(0.0, it.length - size)
    # The mate lies against the shoulder, wherever along it its other joints want it.
    middle = it.width - mate.thickness / 2.0
    (x0, y0), (x1, y1) = apply(it.matrix, [(middle, t) for t in it.stretch]).tolist()
    along = (np.array([x1, y1]) - (x0, y0)) / it.length
    inward = np.array(it.matrix)[:, 0]
    station = 0.5 * (it.length - size)
    motion, turned = entering(it.board, it.face, (x0, y0), along, it.depth, mate, part, station, up=True)
    frame = face_frame(it.board, it.face)
    out, way, off = (vector(frame.turned(each)) for each in ([0.0, 0.0, 1.0], [*along, 0.0], [*-inward, 0.0]))
    least, most = (-FAR if low else -0.5 * room), (FAR if high else 0.5 * room)
    mirrored = abs(2.0 * it.start + it.length - it.sides[0]) <= SLACK and it.along in ("lower", "upper")
    return Meeting(
        it.name,
        it.board.name,
        mate.name,
        f"rabbet along its {it.along} {'end' if it.along in ('left', 'right') else 'edge'} ({it.face} face)",
        f"{part} {'end' if by_end else 'edge'}",
        motion,
        (out, off),
        # A rabbet that is its own mirror image is cut by the same file in the board for the opposite hand.
        a_opposite=None if mirrored else False,
        free=(way, least, most),
        stands_off=STANDS_OFF * it.depth,
        enters=it.depth,
        turned=turned,
        # Along an end it makes a corner, which clamps draw home; along an edge it takes a back, which comes last.
        late=it.along in ("lower", "upper"),
        exact=True,
    )
