"""The sheet turned over for the opposite hand, in words that come from the matrix."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from jigcam.geometry import mirror_x
from jigcam.template.plan import TemplatePlan
from jigcam.units import Voice
from jigcam.wood.band import at_hand, sides

MIRRORED = (1, 0, 2, 3)
"""Which side of the board, in the order of `sides`, takes the place of each where the board is mirrored along x."""


def turning_lines(plan: TemplatePlan, voice: Voice) -> list[str]:
    """How the sheet is turned and laid for the opposite hand, a sentence each; only of what there is on it."""
    (a, _, _), (_, d, _) = mirror_x(plan.cut.board.length).tolist()
    assert (a, d) == (-1.0, 1.0), "the opposite hand is mirrored along the grain"
    names = sides(plan.cut.face)
    lines = [
        "Turn the sheet over like the page of a book, left for right: its left edge comes to the right, the edge "
        f"toward the board's {names[2]} stays there, and the {_marked(plan)} face is down.",
        f"The mirrored board lies as the other did, its {plan.cut.side} up and its lower edge toward you.",
    ]
    strips = [(what, strip) for what, strip in (("fence", plan.fence), ("stop block", plan.stop)) if strip is not None]
    for what, strip in strips:
        lines.append(
            f"Move the {what} to the other face through the same holes; it then bears against the "
            f"{at_hand(names[MIRRORED[strip.side]], plan.cut.face)} of the mirrored board."
        )
    for index in plan.indexes:
        side = at_hand(names[MIRRORED[index.side]], plan.cut.face)
        lines.append(f"The line on the mirrored board is {voice.rule(index.distance)} from its {side}.")
    return lines


def laying_line(plan: TemplatePlan, voice: Voice, openings: Sequence[TemplatePlan] = ()) -> str:
    """How the sheet is laid on the board as drawn, by what there is to lay it by, and the room that clamps leave.

    openings: all of the sheet, where there are others than that of the plan.
    """
    cut = plan.cut
    names = [at_hand(each, cut.face) for each in sides(cut.face)]
    by = [f"the fence against the {names[plan.fence.side]}"] if plan.fence else []
    by += [f"the stop block against the {names[plan.stop.side]}"] if plan.stop else []
    by += [f"its line on the one drawn from the {names[index.side]}" for index in plan.indexes]
    lies = f"{cut.board.name} lies with its {cut.side} up and its lower edge toward you."
    if cut.on_end:
        lies = f"{cut.board.name} stands with its {cut.side} up and its outside face toward you."
    return (
        f"{lies} Lay the sheet, {_marked(plan)} face up, with {', '.join(by)}; clamp board and sheet: "
        f"{clamps_room(openings or (plan,), voice)}."
    )


CLAMP_ROOM: Final = 15.0
"""mm of sheet beyond the base's reach that a clamp needs to hold on (common practice, no source)."""


def clamps_room(openings: Sequence[TemplatePlan], voice: Voice) -> str:
    """How far clamps and screw heads stay off the rims of openings, where the base goes with the bushing at the rim."""
    off = max(each.support.base_radius - each.bushing.outside / 2.0 for each in openings)
    rim = "the rim of the opening" if len(openings) == 1 else "the rims of all openings"
    return (
        f"clamps, and screw heads that stand above the sheet, stay {voice.at_least(off)} or more off {rim}, all round, "
        f"as the router's base comes there{_no_room(openings, off)}"
    )


def _no_room(openings: Sequence[TemplatePlan], off: float) -> str:
    """What holds the sheet where it ends too near to where the base comes; "" where a clamp finds room on it."""
    x0, y0, x1, y1 = openings[0].sheet.bounds
    rims = [each.opening.bounds for each in openings]
    left, low = min(each[0] for each in rims) - x0, min(each[1] for each in rims) - y0
    right, high = x1 - max(each[2] for each in rims), y1 - max(each[3] for each in rims)
    if max(left, low, right, high) - off >= CLAMP_ROOM:
        return ""
    return (
        "; the sheet leaves no room for clamps there: hold it to the board with double-sided tape, or with screws, "
        "sunk below its face, into waste"
    )


def _marked(plan: TemplatePlan) -> str:
    """What the face with the marks is called: they are engraved by the machine, or written by hand."""
    return "engraved" if plan.marker else "marked"
