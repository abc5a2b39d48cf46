"""A finger joint in words: the joint as drawn, and where every line is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.making.blocks import table

if TYPE_CHECKING:
    from jigcam.joints.finger_joint.entry import Part
    from jigcam.joints.finger_joint.joint import FingerJoint
    from jigcam.making.blocks import Block
    from jigcam.units import Voice


def finger_words(it: FingerJoint, voice: Voice, *, files: bool = True) -> list[Block]:
    """The joint as drawn, for a sheet. files: whether it is cut by such."""
    size, fingers = voice.rule, it.layout.intervals
    first, last = fingers[0].width, fingers[-1].width
    wide = f"each {size(first)} wide"
    if abs(first - last) > 1e-6:
        wide = f"{size(first)} wide each, the uppermost {size(last)}"
    owners = [it.board(fingers[place].owner).name for place in (0, -1)]
    edges = f"{owners[0]} at both edges"
    if owners[0] != owners[1]:
        edges = f"{owners[0]} at the lower edge, {owners[1]} at the upper one"
    each = "every file is run once for each" if files else "every step is done for each"
    boards = [("boards", f"two of each for a case of four; {each}")]
    rows = [
        *((f"board {part}", _board(it, part, voice)) for part in ("a", "b")),
        *(boards if len(it.ends) == 2 else []),
        ("width", size(it.layout.width)),
        ("fingers", f"{len(fingers)} of both boards together, {wide}"),
        ("outermost", edges),
        (
            "clearance",
            f"{voice.drawn(it.clearance)} at each cheek, "
            + ("half of it from each board" if it.shared else f"taken from {it.b.name}"),
        ),
    ]
    return table("The joint", rows)


def _board(it: FingerJoint, part: Part, voice: Voice) -> str:
    board = it.board(part)
    ends = [pair[0 if part == "a" else 1] for pair in it.ends]
    deep = f"its slots are {voice.rule(it.depth(part))} deep"
    return f"{board.name}, {_ends(ends)}, {voice.rule(board.thickness)} thick; {deep}"


def _ends(ends: Sequence[str]) -> str:
    return "both ends" if len(ends) > 1 else f"{ends[0]} end"
