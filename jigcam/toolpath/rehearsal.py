"""A dry run: the same moves above the stock with the spindle off, to see that nothing is in the way."""

from __future__ import annotations

from dataclasses import replace

from jigcam.toolpath.program import Move, Operation, Program

DRY_RUN = "DRY RUN:"
"""Begins the comment by which people and `jigcam prove` know a file that cuts nothing."""


def dry_run(program: Program) -> Program:
    """The program lifted so that its deepest point is at the clear height, with rpm 0 for the spindle off."""
    lift = program.clear_height - min((move.z for each in program.operations for move in each.moves), default=0.0)

    def lifted(operation: Operation) -> Operation:
        return replace(operation, rpm=0.0, moves=tuple(_raised(move, lift) for move in operation.moves))

    return replace(
        program,
        name=f"{program.name} (dry run)",
        operations=tuple(lifted(each) for each in program.operations),
        clear_height=program.clear_height + lift,
        comments=(f"{DRY_RUN} spindle off, all moves above the stock", *program.comments),
    )


def _raised(move: Move, lift: float) -> Move:
    # By name: `replace` asks the class for its fields at every one of thousands of moves.
    return Move(move.kind, move.x, move.y, move.z + lift, move.feed, move.cx, move.cy, move.ccw)
