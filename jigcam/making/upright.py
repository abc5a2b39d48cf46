"""A board that stands upright in the machine's vise: whether it can be held, its file's frame, how it is told.

Frame of the file: x along the width from the operator's left, y from the outside face inward, z 0 on the end grain.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.kit import Machine
    from jigcam.making.setup import Placement
    from jigcam.units import Voice
    from jigcam.wood.taken import End

LEAD = 2.0
"""How far the rim of a bit stays off the board where a pass begins or ends outside it, mm."""
CLEAR = 5.0
"""Height above the board at which bits travel, mm."""
OVER = 0.5
"""How far the cut goes on into the backer behind the board, mm."""
SAME = 1e-6
"""Lengths of boards and machine that differ by less are the same, mm."""


def holding_faults(
    machine: Machine, board: Board, depth: float, says: Callable[[float], str], *, gang: int = 1
) -> list[str]:
    """Why the machine cannot hold a board upright, or not reach all of its end; empty where it can.

    depth: of the cut below the end grain, mm. gang: boards one behind the other. A long board may reach below the
    machine's table: only the moves have to fit its travel.
    """
    if machine.upright is None:
        return ["the machine cannot hold a board upright"]
    faults, thick = [], gang * board.thickness
    if board.width > machine.upright.width + SAME:
        faults.append(
            f"{board.name} is {says(board.width)} wide, and the machine holds {says(machine.upright.width)} upright"
        )
    if thick > machine.upright.thickness + SAME:
        most = int((machine.upright.thickness + SAME) // board.thickness)
        what = f"{board.name} is" if gang == 1 else f"{gang} boards of {board.name} are"
        cure = f", which is {most} of them" if gang > 1 and most else ""
        faults.append(
            f"{what} {says(thick)} thick, and the machine holds {says(machine.upright.thickness)} upright{cure}"
        )
    x, y, z = machine.travel
    wanted = (("x", board.width + 2.0 * LEAD, x), ("y", thick + 4.0 * LEAD, y), ("z", depth + CLEAR, z))
    return faults + [
        f"{board.name} needs {says(need)} of travel in {axis}, and the machine has {says(has)}"
        for axis, need, has in wanted
        if need > has + SAME
    ]


def placement_of(board: Board, end: End) -> Placement:
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
