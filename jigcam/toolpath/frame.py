"""From a face to a file: which corner of the board is the zero, and whether the machine reaches everywhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.kit import Machine
from jigcam.toolpath.program import Move, Operation
from jigcam.units import Voice

Placement = tuple[tuple[float, float, float], tuple[float, float, float]]


class Frame(NamedTuple):
    """A setup's zero in words, and the matrix from the face frame to the file frame.

    far: whether it lies at the other end than the one from which the cut is drawn.
    """

    zero: str
    placement: Placement
    far: bool = False


def flat_frames(length: float, *, right: bool = False) -> tuple[Frame, Frame]:
    """The frames of a board that lies flat, in the order in which they are tried. length: along the grain, mm.

    First that of the end from which the cut is drawn, so that no error in the board's length moves it: the left end as
    seen, or the right one (the end that is cut, or the opposite hand).
    """
    frames = (
        Frame("lower left corner, face", ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)), far=right),
        Frame("lower right corner, face", ((1.0, 0.0, -length), (0.0, 1.0, 0.0)), far=not right),
    )
    return (frames[1], frames[0]) if right else frames


def far_end(frame: Frame, board: str, where: str) -> list[Finding]:
    """The caution for a zero at the end from which the cut is not drawn."""
    if not frame.far:
        return []
    says = (
        f"the machine does not reach the cut from the end of {board} from which it is drawn, so zero is the "
        f"{frame.zero.partition(',')[0]}: any error in the board's length moves the joint; measure the board, and give "
        "its length as it is"
    )
    return [Finding("caution", "zero-at-far-end", where, says)]


def placed(
    operations: Sequence[Operation], frames: Sequence[Frame], machine: Machine, where: str, voice: Voice
) -> tuple[Frame, tuple[Operation, ...]]:
    """The operations, planned in the face frame, in the first of the frames in which the machine reaches everything.

    The frames only shift. The zero itself has to be reached too. Raises `Refused` with the finding `path-too-large` if
    none does.
    """
    moves = [move for each in operations for move in each.moves]
    needs = []
    for frame in frames:
        dx, dy = frame.placement[0][2], frame.placement[1][2]
        needs.append(extent(moves, dx, dy))
        if reached(needs[-1], machine):
            return frame, tuple(_shifted(each, dx, dy) for each in operations)
    raise too_large(needs, machine, where, voice)


def reached(need: tuple[float, float, float], machine: Machine) -> bool:
    """Whether the machine's travel takes that extent."""
    return all(e <= t + 1e-6 for e, t in zip(need, machine.travel, strict=True))


def too_large(needs: Sequence[tuple[float, float, float]], machine: Machine, where: str, voice: Voice) -> Refused:
    """The refusal for a path that the machine cannot reach in any of several ways, each needing an extent (mm)."""
    need = min(needs, key=lambda n: max(e / t for e, t in zip(n, machine.travel, strict=True)))

    def says(sizes: Iterable[float]) -> str:
        return " × ".join(voice.length(size) for size in sizes)

    finding = Finding(
        "stop",
        "path-too-large",
        where,
        f"The path needs {says(need)} from the zero and the machine travels {says(machine.travel)}; move "
        "the joint nearer to an end of the board, or make it another way.",
    )
    return Refused("the path is larger than the machine", [finding])


def extent(moves: Iterable[Move], dx: float = 0.0, dy: float = 0.0) -> tuple[float, float, float]:
    """What the moves, shifted by (dx, dy), and the zero take up along x, y and z, mm. Arcs with their bulges."""
    xs, ys, zs = [0.0], [0.0], [0.0]
    at: Move | None = None
    for move in moves:
        xs.append(move.x + dx)
        ys.append(move.y + dy)
        zs.append(move.z)
        if move.kind == "arc" and at is not None:
            for x, y in arc_extremes(at, move):
                xs.append(x + dx)
                ys.append(y + dy)
        at = move
    return max(xs) - min(xs), max(ys) - min(ys), max(zs) - min(zs)


def arc_extremes(at: Move, arc: Move) -> Iterable[tuple[float, float]]:
    """The points of an arc that are furthest along an axis."""
    rx, ry = at.x - arc.cx, at.y - arc.cy
    radius = (rx * rx + ry * ry) ** 0.5
    qx, qy = arc.x - arc.cx, arc.y - arc.cy
    turn = 1.0 if arc.ccw else -1.0
    for ex, ey in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)):
        # On an arc of at most half a turn: past the start and before the end, seen along the turn.
        if turn * (rx * ey - ry * ex) >= 0.0 and turn * (ex * qy - ey * qx) >= 0.0:
            yield arc.cx + radius * ex, arc.cy + radius * ey


def _shifted(operation: Operation, dx: float, dy: float) -> Operation:
    return replace(
        operation, moves=tuple(replace(m, x=m.x + dx, y=m.y + dy, cx=m.cx + dx, cy=m.cy + dy) for m in operation.moves)
    )
