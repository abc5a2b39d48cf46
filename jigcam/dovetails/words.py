"""A dovetailed corner's part of the setup sheet: the joint, and the layout for hand work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from jigcam.making.blocks import Heading, Points, section, table
from jigcam.units.setting import Known

if TYPE_CHECKING:
    from jigcam.dovetails.choice import DovetailChoice
    from jigcam.making.blocks import Block
    from jigcam.units import Voice


def hand_words(choice: DovetailChoice, number: int, voice: Voice) -> list[Block]:
    """What is left for the chisel or the rasp, and the layout for saw and chisel."""
    left = [*choice.pare_lines(), *_corners_left(choice, voice), *_round_corners(choice, voice)]
    lines = section(f"{number}. Left for the chisel", left)
    if rounded := next((cut for cut in choice.cuts if cut.rounded), None):
        number += 1 if lines else 0
        lines += section(f"{number}. Round the tails", _rounding(choice, rounded.bit.radius, voice))
    return [*lines, *_only_told(layout_words(choice, voice, title="Only if you cut by hand, or to check: the layout"))]


def _only_told(blocks: Sequence[Block]) -> list[Block]:
    """The same with nothing to tick: the files have done it."""
    return [
        replace(each, sentences=tuple(map(Known, each.sentences))) if isinstance(each, Points) else each
        for each in blocks
    ]


def _corners_left(choice: DovetailChoice, voice: Voice) -> list[str]:
    """Where a dovetail bit and a straight one leave wood in sockets that lie flat, how much, and what it is in the way
    of; nothing where pins are cut otherwise."""
    left = choice.corner_left
    if left is None:
        return []
    count, pins = len(choice.layout.tails), choice.joint.pin_board.name
    sockets = f"the {count} sockets" if count > 1 else "the socket"
    return [
        f"Pins: no bit reaches the corners between walls and floor of {sockets} of {pins}, from face to "
        f"face. Next to the floor {voice.rule(left.along)} of each wall stand up to {voice.exact(left.thick)} proud, "
        f"and the corner itself is round, radius {voice.rule(left.radius)}.",
        "Lay the chisel on the wall as it is cut and pare on to the floor; then square the corner, down from both "
        f"faces. Until then wood stands up to {voice.length(left.corner)} before the tails' corners, and the joint "
        "does not close.",
    ]


def _round_corners(choice: DovetailChoice, voice: Voice) -> list[str]:
    """The corners that a straight bit leaves round, board by board, and that they come before the joint is tried."""
    found: dict[tuple[str, float, bool], dict[str, int]] = {}
    for cut in choice.cuts:
        if cut.corners and not (cut.relieved or cut.rounded or cut.way.undercut):
            ends = found.setdefault((cut.board.name, cut.bit.radius, cut.of_tails), {})
            # An end that is cut from both faces has each of them but once.
            ends[cut.end] = max(ends.get(cut.end, 0), len(cut.corners))
    lines = [
        f"{'Between the tails' if tails else 'In the sockets'} of {name}, {_ends(sorted(ends))}: "
        f"{sum(ends.values())} inside corners have the bit's radius of {voice.rule(radius)}. Square each with a chisel "
        + (
            "from both faces toward the middle."
            if tails or not choice.joint.sizes.lap
            else "in from the inside face and down from the end, to the lap."
        )
        for (name, radius, tails), ends in found.items()
    ]
    return (
        [*lines, "Until these corners are square the joint does not close, and blows would split it."] if lines else []
    )


def _rounding(choice: DovetailChoice, radius: float, voice: Voice) -> list[str]:
    """How the tails are made to fit sockets with round corners."""
    tails = choice.joint.tail_board.name
    return [
        f"The corners of the sockets at the lap have a radius of {voice.rule(radius)}. Round both corners at the end "
        f"of each tail of {tails} to that radius or a little more, through the thickness, with a rasp and a block; do "
        "not touch the flanks beyond.",
    ]


def layout_words(choice: DovetailChoice, voice: Voice, title: str = "Layout by hand") -> list[Block]:
    """Gauges, bevel, dividers, and every line's place."""
    return [Heading(title), *choice.hand.blocks(voice)]


def dovetail_words(choice: DovetailChoice, voice: Voice, *, files: bool = True) -> list[Block]:
    """The joint: boards, tails, slope, clearance. files: whether it is cut by such."""
    joint, layout = choice.joint, choice.layout
    tail, pin = joint.tail_board, joint.pin_board
    slopes = layout.slopes
    same = max(slopes) - min(slopes) < 1e-6
    each = "every file is run once for each" if files else "every step is done for each"
    boards = [("boards", f"two of each for a case of four; {each}")]
    rows = [
        (
            "tail board",
            f"{tail.name}, {_ends([end for end, _ in joint.ends])}, {voice.rule(tail.thickness)} thick"
            + (" (cut already, as measured)" if joint.measured else ""),
        ),
        ("pin board", f"{pin.name}, {_ends([end for _, end in joint.ends])}, {voice.rule(pin.thickness)} thick"),
        *(boards if len(joint.ends) == 2 else ()),
        ("width", voice.rule(layout.width)),
        (
            "tails",
            f"{len(layout.tails)}, each {voice.rule(layout.tails[0].end_width)} at its end and "
            f"{voice.rule(layout.tails[0].base_width)} at the baseline"
            if same
            else f"{len(layout.tails)}",
        ),
        (
            "slope",
            voice.slope(slopes[0]) if same else f"from {voice.slope(min(slopes))} to {voice.slope(max(slopes))}",
        ),
        ("clearance", f"{voice.drawn(joint.sizes.clearance)} on each flank"),
    ]
    if joint.sizes.lap:
        long = f"; the tails are {voice.rule(layout.length)} long"
        rows.append(("lap", f"{voice.rule(joint.sizes.lap)} left at the outside face of {pin.name}{long}"))
    if joint.sizes.rabbet:
        rows.append(("rabbet", f"{voice.rule(joint.sizes.rabbet)} deep on the inside of {tail.name}"))
    return table("The joint", rows)


def _ends(ends: Sequence[str]) -> str:
    return "both ends" if len(ends) > 1 else f"{ends[0]} end"
