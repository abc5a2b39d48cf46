"""A board that stands on end in the machine's vise: one step of one bit, planned in the file's frame.

The frame of an end is (board y, depth from its outside face, height over the end grain); the file's x begins at the
operator's left, where the lower edge is with the left end up, and the upper edge with the right one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.making.setup import Placement, Setup, Step, Waste, corner_of
from jigcam.toolpath.frame import extent, reached, too_large
from jigcam.units import Voice
from jigcam.wood import End, Placed

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.kit import Machine
    from jigcam.toolpath.program import Operation
    from jigcam.toolpath.track import Cutter
    from jigcam.wood import Solid

SAME = 1e-6
"""mm; a board that is larger than the vise by less goes in."""


def vise_faults(machine: Machine, board: Board, voice: Voice) -> list[str]:
    """Why the machine's vise cannot hold a board on end; empty where it can."""
    vise, says = machine.upright, voice.length
    if vise is None:
        return ["the machine cannot hold a board upright"]
    sizes = (("wide", board.width, vise.width), ("thick", board.thickness, vise.thickness))
    return [
        f"{board.name} is {says(size)} {way}, and the machine holds {says(most)} upright"
        for way, size, most in sizes
        if size > most + SAME
    ]


def upright_placement(board: Board, end: End) -> Placement:
    """From the frame of an end to that of its file, 2×3."""
    if end == "right":
        return (-1.0, 0.0, board.width), (0.0, 1.0, 0.0)
    return (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)


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
        steps=(Step(cutter, file, tuple(operations), (Waste("cut 1", Placed(solid, placement)),)),),
        title=f"Cut the {end} end of {board.name}, standing on its other end",
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
