"""A board that lies flat on the machine: one step of one bit, planned in the frame of the face that is up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.making.setup import Setup, Step, Waste, corner_of
from jigcam.toolpath.frame import Frame, arc_extremes, far_end, flat_frames, placed
from jigcam.units import Voice
from jigcam.wood import Hand, PlacedSolid
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.job import Board, Face
    from jigcam.toolpath.program import Move, Operation
    from jigcam.toolpath.track import Cutter
    from jigcam.wood import Solid

NO_REACH = 1e-3
"""mm; a bit that reaches this little beyond the board stays on it."""


def lying(face: Face) -> str:
    """How a board lies with that face up, as the person at the machine sees it."""
    left = "left" if face == "outside" else "right"
    return f"The {face} face up, the lower edge toward you: the board's {left} end is then on your left."


def zero_line(frame: Frame) -> str:
    """Where zero is, as the person at the machine sees it, and where the cut lies from it."""
    corner = frame.zero.partition(",")[0]
    right = frame.placement[0][2] < 0.0
    beyond = "; the cut lies to the left of it, where x is below zero" if right else ""
    return f"Zero is the {corner} as the board lies before you, on its upper face{beyond}."


def room_beside(parts: Iterable[tuple[Operation, float]], board: Board, face: Face, voice: Voice) -> list[str]:
    """What has to be free beside the board, where bits go down in the air, or come out: a sentence, or nothing.

    parts: operations in the frame of that face, and the radius of the bit of each, mm. A backer there would be hit from
    above, at the feed of a move in air.
    """
    beyond = [0.0, 0.0, 0.0, 0.0]
    for operation, radius in parts:
        for x, y in below_face(operation):
            reach = (radius - x, x + radius - board.length, radius - y, y + radius - board.width)
            beyond = [max(pair) for pair in zip(beyond, reach, strict=True)]
    reached = [(name, mm) for name, mm in zip(sides(face), beyond, strict=True) if mm > NO_REACH]
    if not reached:
        return []
    named = " and ".join(f"{voice.at_least(mm)} of the {name}" for name, mm in reached)
    return [f"Nothing, not even a backer, stands within {named}: the bit goes down there, beside the board."]


def below_face(operation: Operation) -> Iterator[tuple[float, float]]:
    """Places of the bit's centre below the face, or on the way down there, with the extremes of arcs."""
    at: Move | None = None
    for move in operation.moves:
        if move.z < 0.0:
            yield move.x, move.y
            if move.kind == "arc" and at is not None:
                yield from arc_extremes(at, move)
        at = move


def flat_setup(
    board: Board,
    cutter: Cutter,
    operations: Sequence[Operation],
    solid: Solid,
    *,
    file: str,
    joint: str,
    voice: Voice,
    face: Face,
    hold: Sequence[str] = (),
    hand: Hand = "as drawn",
    right: bool = False,
) -> tuple[Setup, list[Finding]]:
    """The setup that takes a solid out of the face of a board; operations and solid in the frame of that face.

    It is written from the lower corner of the end from which the cut is drawn, the left one as seen or the `right` one,
    or, with a caution, from the other where the machine does not reach otherwise. file: stem of its
    name. face: the one that is up; hold: what else is to be said of how it lies, beside the room that bits take beside
    the board. voice: of what is said. Raises
    `Refused` where the path is larger than the machine.
    """
    frame, moved = placed(operations, flat_frames(board.length, right=right), cutter.machine, joint, voice)
    setup = Setup(
        name=f"{joint}, {board.name}, {hand}",
        board=board.name,
        clamping="flat",
        stock=(board.length, board.width, board.thickness),
        zero=frame.zero,
        placement=frame.placement,
        clear_height=cutter.clear,
        steps=(Step(cutter, file, moved, (Waste("cut 1", PlacedSolid(solid, frame.placement)),)),),
        corner=corner_of(frame.placement, board.length, board.width),
        title=f"Cut {board.name}{', the mirrored board' if hand == 'opposite' else ''}, lying flat",
        hold=(
            lying(face),
            zero_line(frame),
            *hold,
            *room_beside([(each, cutter.radius) for each in operations], board, face, voice),
        ),
        hand=hand,
        face=face,
    )
    return setup, far_end(frame, board.name, joint)
