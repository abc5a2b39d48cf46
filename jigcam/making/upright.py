"""A board that stands upright in the machine's vise: whether it can be held, its file's frame, how it is told.

The frame of an end is (board y, depth from its outside face, height over the end grain); the file's x begins at the
operator's left, where the lower edge is with the left end up, and the upper edge with the right one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from jigcam.making.flat import NO_REACH, below_face
from jigcam.making.setup import Placement, Setup, Step, Waste, corner_of
from jigcam.toolpath.frame import extent, reached, too_large
from jigcam.wood import End, PlacedSolid

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.kit import Machine
    from jigcam.toolpath.program import Operation
    from jigcam.toolpath.track import Cutter
    from jigcam.units import Voice
    from jigcam.wood import Solid

LEAD = 2.0
"""How far the rim of a bit stays off the board where a pass begins or ends outside it, mm."""
OVER = 0.5
"""How far the cut goes on into the backer behind the board, mm."""
NO_VISE = "the machine cannot hold a board upright: its kit has no key upright in [machine]"
"""Why a machine without a vise for ends cuts none."""
SAME = 1e-6
"""Lengths of boards and machine that differ by less are the same, mm."""


def vise_faults(machine: Machine, board: Board, says: Callable[[float], str], *, gang: int = 1) -> list[str]:
    """Why the machine's vise cannot hold a board on end, or a gang of them one behind the other; empty where it can."""
    vise = machine.upright
    if vise is None:
        return [NO_VISE]
    faults, thick = [], gang * board.thickness
    if board.width > vise.width + SAME:
        faults.append(f"{board.name} is {says(board.width)} wide, and the machine holds {says(vise.width)} upright")
    if thick > vise.thickness + SAME:
        most = int((vise.thickness + SAME) // board.thickness)
        what = f"{board.name} is" if gang == 1 else f"{gang} boards of {board.name} are"
        cure = f", which is {most} of them" if gang > 1 and most else ""
        faults.append(f"{what} {says(thick)} thick, and the machine holds {says(vise.thickness)} upright{cure}")
    if vise.length is not None and board.length > vise.length + SAME:
        faults.append(
            f"{board.name} is {says(board.length)} long, and the machine has room for {says(vise.length)} on end"
        )
    return faults


def holding_faults(
    machine: Machine, board: Board, depth: float, says: Callable[[float], str], *, gang: int = 1
) -> list[str]:
    """Why the machine cannot hold a board upright, or not reach all of its end; empty where it can.

    depth: of the cut below the end grain, mm. gang: boards one behind the other. A long board may reach below the
    machine's table: only the moves have to fit its travel.
    """
    faults = vise_faults(machine, board, says, gang=gang)
    if machine.upright is None:
        return faults
    x, y, z = machine.travel
    thick = gang * board.thickness
    wanted = (("x", board.width + 2.0 * LEAD, x), ("y", thick + 4.0 * LEAD, y), ("z", depth + machine.clear_height, z))
    return faults + [
        f"{board.name} needs {says(need)} of travel in {axis}, and the machine has {says(has)}"
        for axis, need, has in wanted
        if need > has + SAME
    ]


def hanging_words(name: str, length: float, machine: Machine, voice: Voice) -> list[str]:
    """What is said of a board that stands higher than the bit can go above the bed; nothing of one that does not.

    length: of the board, mm. The bit reaches no higher than its travel in z above the lowest place that it gets to.
    """
    z, clear = machine.travel[2], machine.clear_height
    below = length + clear - z
    if below <= SAME:
        return []
    room = machine.upright.length if machine.upright is not None else None
    known = "" if room is None else f"; the kit has room for {voice.rule(room)}"
    return [
        f"{name} is {voice.rule(length)} long, and the machine moves {voice.rule(z)} in z: so it does not stand on the "
        "bed, but hangs down past it, in a vise at the bed's edge or over an opening in it, about "
        f"{voice.at_least(below)} below where the bit can reach{known}. See that nothing is in its way there before "
        "the vise is closed; where there is no such room, another way has to be named in the job."
    ]


def upright_placement(board: Board, end: End) -> Placement:
    """2×3, from (board y, depth from the outside face) to the file, with that end up."""
    if end == "right":
        return (-1.0, 0.0, board.width), (0.0, 1.0, 0.0)
    return (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)


def upright_words(board: Board, end: End, depth: float, bit: float, voice: Voice, *, gang: int = 1) -> list[str]:
    """How the board stands, as seen by the person at the machine. bit: its diameter, mm."""
    left = "lower" if end == "left" else "upper"
    lines = [f"The {end} end up, the outside face toward you: the board's {left} edge is then on your left."]
    if gang > 1:
        lines.append(
            f"Stand {gang} boards of {board.name} one behind the other, each with its {end} end up and its outside "
            f"face toward you, the {left} edges flush on the left and the ends level."
        )
    lines.append(
        f"Clamp a backer of waste wood at least {voice.at_least(bit + OVER)} thick behind the "
        f"{'last ' if gang > 1 else ''}inside face, flush with the end; {'all' if gang > 1 else 'both'} stand more "
        f"than {voice.at_least(depth + LEAD)} above the vise."
    )
    return lines


def room_round(
    parts: Iterable[tuple[Operation, float]], board: Board, end: End, voice: Voice, *, backed: str
) -> list[str]:
    """What has to be free round a standing board, where bits go down in the air, or come out: a sentence, or nothing.

    parts: operations in the frame of the file, and the radius of the bit of each, mm. backed: the edge or face against
    which waste wood is clamped for the bit to go out into.
    """
    left, right = ("lower edge", "upper edge") if end == "left" else ("upper edge", "lower edge")
    beyond = {left: 0.0, right: 0.0, "outside face": 0.0, "inside face": 0.0}
    for operation, radius in parts:
        for x, y in below_face(operation):
            reach = (radius - x, x + radius - board.width, radius - y, y + radius - board.thickness)
            beyond = {side: max(beyond[side], mm) for side, mm in zip(beyond, reach, strict=True)}
    hands = {
        left: ", on your left",
        right: ", on your right",
        "outside face": ", toward you",
        "inside face": ", behind",
    }
    named = [
        f"{voice.at_least(mm)} of the {side}{hands[side]}"
        for side, mm in beyond.items()
        if mm > NO_REACH and side != backed
    ]
    if not named:
        return []
    return [
        f"But for the backer, nothing stands above the vise within {'; '.join(named)}: the bit goes down there, beside "
        "the board."
    ]


def upright_setup(
    board: Board,
    end: End,
    cutter: Cutter,
    operations: Sequence[Operation],
    solid: Solid,
    *,
    file: str,
    joint: str,
    voice: Voice,
    hold: Sequence[str] = (),
) -> Setup:
    """The setup that takes a solid out of an end of a board.

    operations: in the frame of the file, as a mirror would turn climb into conventional; solid: in that of the end.
    file: stem of its name. hold: what else is to be said of how it stands. voice: of findings. Raises `Refused` where
    the path is larger than the machine.
    """
    placement = upright_placement(board, end)
    need = extent([move for each in operations for move in each.moves])
    if not reached(need, cutter.machine):
        raise too_large([need], cutter.machine, joint, voice)
    left = "upper" if end == "right" else "lower"
    return Setup(
        name=f"{joint}, {board.name}, {end} end",
        board=board.name,
        clamping="upright",
        stock=(board.width, board.thickness, board.length),
        zero="operator's left edge, outside face, end grain",
        placement=placement,
        clear_height=cutter.clear,
        steps=(Step(cutter, file, tuple(operations), (Waste("cut 1", PlacedSolid(solid, placement)),)),),
        title=f"Cut the {end} end of {board.name}, held upright, that end up",
        hold=(
            f"The {end} end up, the outside face toward you: the board's {left} edge is then on your left.",
            "Zero is the corner of that edge and the outside face, on the end grain.",
            *hold,
        ),
        corner=corner_of(placement, board.width, board.thickness),
        comments=(f"{board.name}: {end} end up, outside face toward you",),
        facts={"end": end, "face": "outside"},
        end=end,
    )
