"""How a board stands in a groove: by an end, as a shelf, or by an edge, as a panel, down to the bottom."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from math import sin
from typing import TYPE_CHECKING

from jigcam.wood.meeting import FAR, Meeting, Vector, entering, face_frame, vector

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.joints.groove.entry import GrooveEntry, Part
    from jigcam.joints.groove.groove import Groove, GroovePlace

STANDS_OFF = 0.5
"""Share of a groove's depth by which what enters may stay off its bottom and still be held (common practice)."""
ACROSS: dict[Part, Part] = {"left": "right", "right": "left", "lower": "upper", "upper": "lower"}
"""The other end, or the other edge."""


def groove_meets(joint: Groove, entry: GrooveEntry, job: Job) -> tuple[Meeting, ...]:
    """Every place of a groove with the board that it receives; none where the job names no such board."""
    if entry.receives is None:
        return ()
    received = job.board(entry.receives)
    numbers = {"as drawn": count(1), "opposite": count(1)}
    found = []
    for place in joint.all_places():
        number = next(numbers[place.cut.hand])
        here = joint.mate.by_end
        usual: Part = entry.enters or ("left" if here else "lower")
        # Of the two faces of a divider and those of its twin no two that are alike look at each other: where the other
        # end of such a board goes, other joints say.
        twins = joint.both_faces and joint.opposite_hand
        first = usual if twins or place.cut.hand == "as drawn" else ACROSS[usual]
        parts = [first] if twins or entry.enters else [first, ACROSS[first]]
        meetings = [_meeting(joint, place, number, received, part) for part in parts]
        found.append(replace(meetings[0], others=tuple(meetings[1:])))
    return tuple(found)


def _meeting(joint: Groove, place: GroovePlace, number: int, received: Board, part: Part) -> Meeting:
    groove, cut, board = place.groove, place.cut, joint.board
    by_end = part in ("left", "right")
    size = received.width if by_end else received.length
    stopped = (not groove.open_start, not groove.open_finish)
    low, high = groove.band.line_span() or (0.0, groove.length)
    station, least, most = _station(stopped, groove.length, size, low, high, up=_up(place))
    line = cut.centreline
    (x0, y0), (x1, y1) = line.start, line.end
    along = ((x1 - x0) / line.length, (y1 - y0) / line.length)
    motion, turned = entering(board, place.face, (x0, y0), along, joint.depth, received, part, station, up=_up(place))
    frame = face_frame(board, place.face)
    out, way = vector(frame.turned([0.0, 0.0, 1.0])), vector(frame.turned([*along, 0.0]))
    back: Vector = (-way[0], -way[1], -way[2])
    ways = (*([back] if groove.open_start else []), *([way] if groove.open_finish else []))
    return Meeting(
        joint.name,
        board.name,
        received.name,
        f"{place.what(len(joint.row), len(joint.faces))} ({cut.face} face)",
        f"{part} {'end' if by_end else 'edge'}",
        motion,
        (out, *ways),
        a_opposite=cut.hand == "opposite",
        free=(way, least, most),
        stands_off=STANDS_OFF * joint.depth,
        enters=joint.depth,
        play=max(joint.mate.clearance, 0.0),
        turned=turned,
        fits=("width" if by_end else "length", joint.mate.longest),
        beyond=(
            station - low if groove.open_start else None,
            high - station - size if groove.open_finish else None,
        ),
    )


def _up(place: GroovePlace) -> bool:
    """Whether the centreline leads toward the board's upper edge, or along it: what enters then stands likewise."""
    return sin(place.groove.band.angle) > -1e-9


def _station(
    stopped: tuple[bool, bool], length: float, size: float, low: float, high: float, *, up: bool
) -> tuple[float, float, float]:
    """Where along the centreline what enters begins, and how far it may be shifted from there, least and most.

    At a stopped end it lies against it, but where it is notched there; between two it lies in their middle.
    """
    if stopped == (True, True):
        room = max(0.0, (length - size) / 2.0)
        return (length - size) / 2.0, -room, room
    if stopped == (True, False):
        return min(0.0, high - size) if size > high else 0.0, 0.0, FAR
    if stopped == (False, True):
        return (low if size > length - low else length - size), -FAR, 0.0
    # Through: its lower edge is flush with the board's.
    return (low if up else high - size), -FAR, FAR
