"""A template in the making: its setup on the machine, and what comes of the sheet as its file mills it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.gcode import read
from jigcam.geometry import Path, Region, compose, invert, mirror_x, rectangle
from jigcam.making.clamp_room import clamp_lines
from jigcam.making.gcode_file import bit_facts, tidy
from jigcam.making.setup import Placement, Setup, moves_of
from jigcam.making.sheet_milling import OPENING, sheet_steps
from jigcam.proof import Ride, filled, milled_region, ride
from jigcam.toolpath.frame import extent, reached, too_large
from jigcam.units import MM, Voice

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.template import SharedSheet, TemplatePlan
    from jigcam.units import Unit
    from jigcam.wood import Cut


HOLD = (
    "Zero is the blank's lower left corner as it lies before you; the face that is up gets the marks.",
    "Fix the blank to a spoilboard: the last pass goes through the sheet into it.",
)
"""How a blank is laid; what clamps it is said with numbers of its own."""
LOW, HIGH = ("left", "lower"), ("right", "upper")
"""The edges of a blank as it lies, by axis."""
ROUNDING = 1e-9
"""mm, and the same of bulges: what sums of coordinates may be off."""


def template_setup(
    plan: TemplatePlan, kit: Kit, *, both_hands: bool = False, voice: Voice = MM
) -> tuple[Setup, list[Finding]]:
    """The blank on the machine, and the sheet that is milled from it; with what is to be said.

    both_hands: the sheet is also used turned over. File frame: zero at the blank's lower left corner, top face. Raises
    `Refused` where the path is larger than the machine.
    """
    return _setup(plan.cut.joint, [plan], {"guide": guide_facts(plan, both_hands)}, kit, voice)


def shared_setup(sheet: SharedSheet, turned: Collection[str], kit: Kit, voice: Voice) -> tuple[Setup, list[Finding]]:
    """The same for a sheet with several openings. turned: joints for which it is also used turned over.

    Raises `Refused` as `template_setup`.
    """
    guides = {each.cut.joint: guide_facts(each, each.cut.joint in turned) for each in sheet.openings}
    return _setup(sheet.name, sheet.openings, {"guides": guides}, kit, voice)


def _setup(
    name: str, plans: Sequence[TemplatePlan], facts: dict[str, Any], kit: Kit, voice: Voice
) -> tuple[Setup, list[Finding]]:
    """The setup of a sheet with the openings of plans."""
    plan, *beside = plans
    steps, findings, cutter = sheet_steps(
        plan.in_file_frame(), kit, voice, beside=[each.in_file_frame() for each in beside], name=name
    )
    need = extent(move for each in moves_of(steps) for move in each.moves)
    if not reached(need, kit.the_machine):
        raise too_large([need], kit.the_machine, name, voice)
    on_end = plan.cut.on_end
    setup = Setup(
        name=f"{name}, template",
        board=plan.cut.board.name,
        clamping="template",
        stock=plan.blank,
        zero=f"{_corner_words(plan)} corner, top",
        placement=_of_board(plan),
        clear_height=cutter.clear,
        title="Mill the template on the machine",
        hold=_sawn_hold(plan)
        if plan.sawn
        else (*HOLD, *clamp_lines(moves_of(steps), plan.blank, cutter.clear, kit.the_machine.nut, voice)),
        steps=steps,
        corner=plan.corner,
        sized=plan.sawn,
        facts={**facts, **({"end": plan.cut.face.removesuffix(" end")} if on_end else {})},
        face=plan.cut.toward_you,
        # At an end strips bear on faces and edges just below it.
        against=() if on_end else tuple(strip.side for strip in (plan.fence, plan.stop) if strip is not None),
    )
    return setup, findings


def _corner_words(plan: TemplatePlan) -> str:
    """The corner of the blank that is zero, as it lies: `lower left`."""
    x, y = (HIGH[axis] if at < 0.0 else LOW[axis] for axis, at in enumerate(plan.corner))
    return f"{y} {x}"


def _sawn_hold(plan: TemplatePlan) -> tuple[str, ...]:
    """How a blank lies and is held that is sawn to the template's size."""
    corner = _corner_words(plan)
    y, x = corner.split()
    return (
        f"The blank is sawn to the size of the template: its {y} and {x} edge straight and square to each other, as "
        "zero and the strips lie on them. No outline is milled.",
        f"Zero is its {corner} corner as it lies before you; the face that is up gets the marks. Lay its {y} edge "
        "along the machine's x.",
        "Tape it to a spoilboard, or wedge it between strips that are no thicker than it is: nothing may stand above "
        "its face. The last pass goes through the sheet into the spoilboard.",
    )


def template_setups(
    plan: TemplatePlan, kit: Kit, *, both_hands: bool = False, voice: Voice = MM
) -> tuple[tuple[Setup, ...], list[Finding]]:
    """The one setup in which the sheet is milled; none where the kit has no machine, and the sheet is made by hand.

    As `template_setup`. Raises `Refused`.
    """
    if kit.machine is None:
        return (), []
    setup, findings = template_setup(plan, kit, both_hands=both_hands, voice=voice)
    return (setup,), findings


def _of_board(plan: TemplatePlan) -> Placement:
    """The plan's placement; at a right end, which is seen with the lower edge at the right, from board y and depth."""
    if plan.cut.face != "right end":
        return plan.placement
    (a, b, c), (d, e, f) = compose(mirror_x(plan.cut.board.length), plan.placement).tolist()
    return (a, b, c), (d, e, f)


def guide_facts(plan: TemplatePlan, both_hands: bool = False) -> dict[str, Any]:
    """How the template is ridden, for the manifest: the router's bit, the bushing, and the sums, mm."""
    facts: dict[str, Any] = {
        "bit": bit_facts(plan.bit),
        "bushing": {
            "name": plan.bushing.name,
            "outside": tidy(plan.bushing.outside),
            "inside": tidy(plan.bushing.inside),
            "collar": tidy(plan.bushing.collar),
        },
        "offset": tidy(plan.offset),
        "projection": tidy(plan.stack.projection),
        "depth": tidy(plan.stack.depth),
        "base_supported": round(plan.support.fraction, 3),
    }
    if len(plan.steps) > 1:
        facts["moved_by"] = [[tidy(dx), tidy(dy)] for dx, dy in plan.steps]
    if both_hands:
        turned = compose(mirror_x(plan.cut.board.length), plan.placement)
        facts["turned_over_for_opposite_hand"] = [[tidy(value) for value in row] for row in turned]
    return facts


def milled_opening(plan: TemplatePlan, files: Sequence[GcodeFile], texts: Mapping[str, str], kit: Kit) -> Region:
    """The opening as the text of the milling file leaves it half way down the sheet; in the face frame.

    Only its edge is looked at, as that guides the bushing; waste that stands within it is for the file's own proof.
    """
    file = next(each for each in files if each.takes(OPENING))
    wall = plan.in_file_frame().opening
    milled = milled_region(read(texts[file.file]), kit.the_machine, file.tools, -plan.blank[2] / 2.0, wall=wall)
    loops = [loop for part in wall.parts for loop in filled(_opening_in(milled, part)).loops]
    return Region(tuple(loops)).transformed(invert(plan.placement))


def _opening_in(milled: Region, wall: Region) -> Region:
    """The part of what was milled that is the opening: the one that holds a point of it."""
    inside = wall.loops[0].points()
    parts = [(part, float(part.signed_distance(inside).max())) for part in milled.parts]
    return max(parts, key=lambda pair: pair[1])[0] if parts else Region.empty()


def ridden(plan: TemplatePlan, opening: Region, cut: Cut, kit: Kit, where: str, units: Unit) -> Ride:
    """The bushing of a plan in an opening as milled, against the drawing of a cut; face frame of the cut, mm.

    units: of the job, in which findings speak.
    """
    assert plan.cutter is not None, "an opening that was milled has a bit that milled it"
    return ride(
        opening,
        plan.bushing.outside,
        plan.bit.diameter,
        cut.solid.section(0.0),
        rectangle(0.0, 0.0, cut.board.length, cut.board.width),
        centreline=cut.centreline,
        eccentricity=kit.the_router.eccentricity or 0.0,
        milled_with=plan.cutter.diameter,
        depth=cut.solid.depth,
        where=where,
        units=units,
    )


def ridden_again(before: Ride, drawn: Cut, cut: Cut) -> Ride | None:
    """The ride in the sheet turned over, for the mirrored board: the one before in a mirror, where that is exact.

    drawn: the cut of the ride before, in the same board. None where the cut is not its mirror image as drawn, and where
    the ride before had something to say, so that it has to be made anew. Board and sheet are the same in the mirror.
    """
    mirror = mirror_x(drawn.board.length)
    alike = (
        before.silent
        and drawn.board == cut.board
        and drawn.solid.depth == cut.solid.depth
        and _same(drawn.solid.section(0.0).transformed(mirror).loops, cut.solid.section(0.0).loops)
        and _same([drawn.centreline.transformed(mirror)], [cut.centreline])
    )
    return before.mirrored(mirror) if alike else None


def _same(a: Sequence[Path], b: Sequence[Path]) -> bool:
    """Whether paths have the same vertices, to rounding."""
    return len(a) == len(b) and all(
        one.vertices.shape == other.vertices.shape and bool(np.abs(one.vertices - other.vertices).max() < ROUNDING)
        for one, other in zip(a, b, strict=True)
    )
