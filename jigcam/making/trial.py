"""The trial in scrap that comes before the good board, in words: what is cut, what is measured, what is then changed.

All of it is common practice; figures are those of the joint as drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from shlex import quote
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.making.setup import Setup
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice

TRIAL = "Before the good board: a trial in scrap"
FOR_A_FIT = "Too tight or too loose"
WOOD = "of the same wood and thickness"


def template_trial(plans: Sequence[TemplatePlan], voice: Voice) -> Iterator[str]:
    """With a template: a cut in an offcut, measured, and the test of the bushing where it is off.

    plans: of the openings in the sheet.
    """
    several = len(plans) > 1
    yield (
        f"Lay the sheet on an offcut {WOOD}, with an edge and an end to bear against, and go through the steps below "
        "on it first, with bit, bushing and depth as they stand there."
    )
    for plan in plans:
        cut, deep = plan.cut, voice.rule(plan.stack.depth)
        of = f" for {cut.joint}" if several else ""
        if cut.what == "socket" and plan.bit.upright_walls:
            continue  # the straight bit only goes before the other
        if cut.what == "socket":  # the narrow mouth hides its bottom from the calipers
            yield f"Measure how deep it comes out{of}, {deep}, and slide a tail into it that was cut in an offcut too."
        else:
            yield (
                f"Measure the {cut.what}{of} with calipers, in three places: {voice.rule(cut.width)} wide and {deep} "
                "deep; then try in it what it is to hold."
            )
    for plan in {str(plan.pair): plan for plan in plans}.values():
        if not plan.bit.upright_walls:
            yield (
                f"{FOR_A_FIT}: leave the socket as it is, and change the tail, which goes by settings alone; "
                "`jigcam next JOB --gap PLAY` says what to set for the next trial."
            )
            continue
        name = f'"{plan.bit.name},{plan.bushing.name}"'
        if plan.cutter is None:  # no machine that could mill a test: the sheet itself is one
            yield (
                f"{FOR_A_FIT}: bit and bushing are seldom quite as large as is printed on them. Measure the opening, "
                f"and what it cut, both across and at the same place: `jigcam bushing adjust KIT --pair {name} "
                "--opening OPENING --measured WIDTH --bit-diameter BIT` writes it into the kit, or into your copy of "
                "one that comes with jigcam; then `jigcam make` again, for a new sheet."
            )
            continue
        yield (
            f"{FOR_A_FIT}: bit and bushing are seldom quite as large as is printed on them. Before the next sheet mill "
            f"the test of {plan.pair}: {_test(plan)}. Its sheet says what to measure, and `jigcam bushing adjust KIT "
            f"--pair {name} --opening OPENING --measured WIDTH --bit-diameter BIT` writes it into the kit, or into "
            "your copy of one that comes with jigcam; then `jigcam make` again."
        )


def _test(plan: TemplatePlan) -> str:
    """How the test of a pair is made: from the job itself, where it is a groove, which is what the bench tests."""
    if plan.cut.what == "groove":
        return f"`jigcam bushing test JOB --joint {quote(plan.cut.joint)} -o coupon`"
    return "`jigcam bushing test GROOVE -o coupon`, GROOVE being a job of `jigcam start groove` with these two in it"


def board_trial(setups: Sequence[Setup], *, corners: str = "") -> Iterator[str]:
    """On the machine: each file in an offcut first. setups: those that cut boards. corners: the step that says
    what is done to those that bits leave round; "": none."""
    boards = list(dict.fromkeys(setup.board for setup in setups))
    wide = any(setup.clamping == "upright" for setup in setups)
    like = " and ".join(boards)
    yield (
        f"Cut offcuts first, {WOOD}{' and width' if wide else ''} as {like}, clamped and zeroed as below, with the "
        "same files."
    )
    if len(setups) > 1:
        if corners:
            yield (
                f"Do to the corners first what is said in {corners}: with wood in them the joint does not close, "
                "and blows would split it."
            )
        yield "Put the two parts of the joint together dry: by hand most of the way, home by light blows."
    else:
        yield (
            "Measure the cut with calipers, its width and its depth, and try it with the board that it goes together "
            "with."
        )
    yield (
        f"{FOR_A_FIT}: measure what the bit cuts, and write its true diameter into the kit, or change the clearance in "
        "the job; then make the files again, and try again."
    )


def hand_trial() -> Iterator[str]:
    """By hand: the settings in an offcut first."""
    yield (
        f"Go through the steps below once in offcuts {WOOD}, and try the parts in each other: gauges, fences and stops "
        "that are set by them stay set for the good boards."
    )
