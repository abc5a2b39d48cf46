"""Milling a template: marks, the opening, the holes, and last the outline with its tabs, if it is not sawn already."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, difference, offset, rectangle, union
from jigcam.kit import Kit
from jigcam.making.setup import Engraving, Step, Waste
from jigcam.template import SheetHole, Stroke, Tab, TemplatePlan, Text
from jigcam.toolpath import engrave
from jigcam.toolpath.curve import smooth
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.hole import can_make, drills, hole_run, not_made
from jigcam.toolpath.humps import Hump, humps_over
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.outline import around, finish_ring, finishing_note, rough_ring
from jigcam.toolpath.pocket import ALLOWANCE, Pocket, pocket
from jigcam.toolpath.program import Operation
from jigcam.toolpath.time import shared_seconds
from jigcam.toolpath.track import Cutter, Run
from jigcam.units import Voice
from jigcam.wood import Prism

THROUGH = 0.25
"""mm that the last pass goes below the sheet, into the spoilboard (common practice, no source)."""
SPOIL = 0.5
"""How far into the spoilboard a through cut may go, mm."""
AIR = 1000.0
"""How far beyond the stock a drawing allows the cutter to be, mm; more than any machine travels past it."""
KERF = 1.0
"""Width beside a finished outline that has to be gone, so that the piece is free but for its tabs, mm."""
TAB_CORE = 2.0
"""Length of a tab's middle, which has to stay, mm; its flat top is longer."""
TAB_REACH = 10.0
"""How far from the sheet a tab's middle has to stay, mm; more than any kerf is wide."""

OPENING, HOLES, OUTLINE = "opening", "holes", "outline"
"""Names of what is taken from a sheet."""


def sheet_steps(
    sheet: TemplatePlan, kit: Kit, voice: Voice, *, beside: Sequence[TemplatePlan] = (), name: str = ""
) -> tuple[tuple[Step, ...], list[Finding], Cutter]:
    """The steps that mill a template from its blank, what is to be said, and the bit that mills as it is run.

    sheet: the plan in the file's frame; beside: those of further openings in the same sheet. name: of the sheet in
    findings; "": its joint's. voice: of findings and notes.
    """
    where = name or sheet.cut.joint
    thickness = sheet.blank[2]
    through = thickness + THROUGH
    machine, bit = kit.the_machine, sheet.cutter
    assert bit is not None, "a sheet is planned for a machine with the bit that mills it"
    cutter = Cutter(bit, choose(bit, kit.the_sheet.material, machine, through, voice=voice), machine)
    every = (sheet, *beside)
    milled: list[Operation] = []
    findings: list[Finding] = []
    for each in every:
        opening = pocket(each.opening, cutter, even_levels(through, cutter.feeds.depth_per_pass))
        findings += _cleared_or_outlined(each.opening, opening, cutter, through, each.cut.joint)
        milled += _opening_operations(opening, cutter, voice, f" of {each.cut.joint}" if beside else "")
    opened = union(*(each.opening for each in every)) if beside else sheet.opening
    guided = union(*(each.guided for each in every)) if beside else sheet.guided
    # Corners of the opening tighter than the bushing guide nothing: they may stay.
    steps = [_milling(cutter, milled, Waste(OPENING, Prism(opened, thickness), Prism(guided, thickness)), voice)]
    holes, missing = _holes(sheet.holes, cutter, through, where, voice)
    findings += missing
    if holes:
        made = [h for h in sheet.holes if not (h.by_hand or can_make(cutter.bit, h.diameter, through))]
        steps.append(_milling(cutter, holes, Waste(HOLES, Prism(union(*(h.region for h in made)), thickness)), voice))
    if not sheet.sawn:
        may, must = _Outside.of(sheet), _Kerf.of(sheet)
        outline = _outline_operations(sheet, cutter, through, voice)
        steps.append(_milling(cutter, outline, Waste(OUTLINE, may, must), voice))
    return (*_marks(sheet, kit, voice), *steps), findings, cutter


def _below(written: Voice, voice: Voice) -> tuple[str, ...]:
    """How far the last passes go into the spoilboard, in the units of the file, and of the job."""
    also = "" if voice == written else f", {voice.length(THROUGH)}"
    return (f"a spoilboard under the sheet: the last passes go {written.length(THROUGH)}{also} into it",)


def _milling(cutter: Cutter, operations: Sequence[Operation], waste: Waste, voice: Voice) -> Step:
    below = _below(Voice(cutter.machine.output_units), voice)
    return Step(cutter, "template", tuple(operations), (waste,), spoil=SPOIL, comments=below)


def _marks(sheet: TemplatePlan, kit: Kit, voice: Voice) -> tuple[Step, ...]:
    """Lines and letters, engraved before anything else; none without a bit that writes."""
    if sheet.marker is None or not sheet.marks:
        return ()
    feeds = choose(sheet.marker, kit.the_sheet.material, kit.the_machine, engrave.DEPTH, voice=voice, at_once=True)
    writer = Cutter(sheet.marker, feeds, kit.the_machine)
    lines = [smooth(mark.points) for mark in sheet.marks if isinstance(mark, Stroke)]
    texts = [
        engrave.written(mark.string, mark.x, mark.y, mark.height, mark.angle, room=mark.width)
        for mark in sheet.marks
        if isinstance(mark, Text)
    ]
    runs = [engrave.line_run(line, writer) for line in lines] + [engrave.text_run(text, writer) for text in texts]
    note = f"Between letters only {voice.length(engrave.LIFT)} above the sheet: hold it flat."
    engraved = operation("engrave the marks", writer, runs, note if texts else "")
    drawn = (*lines, *(stroke for text in texts for letter in text for stroke in letter.drawn))
    engraving = Engraving(drawn, engrave.stroke_width(sheet.marker), engrave.DEPTH)
    return (Step(writer, "template-marks", (engraved,), engravings=(engraving,)),)


def _opening_operations(work: Pocket, cutter: Cutter, voice: Voice, of: str) -> list[Operation]:
    return [
        operation(
            f"clear the opening{of}",
            cutter,
            work.rough,
            f"{cutter.machine.roughing.capitalize()}, from the inside out, ramped entry.",
        ),
        operation(f"finish the opening{of}", cutter, work.finish, finishing_note(cutter, work.finish, voice)),
    ]


def _cleared_or_outlined(opening: Region, work: Pocket, cutter: Cutter, through: float, where: str) -> list[Finding]:
    """A note where cutting round the waste would be quicker than clearing it, and why it is cleared all the same."""
    levels = even_levels(through, cutter.feeds.depth_per_pass)
    loops = offset(opening, -(cutter.radius + ALLOWANCE)).loops
    cored = [rough_ring(loop, cutter, levels) for loop in loops]
    clearing = sum(shared_seconds([operation("", cutter, work.rough)], cutter.machine))
    coring = sum(shared_seconds([operation("", cutter, cored)], cutter.machine))
    core = offset(opening, -(2.0 * cutter.radius + ALLOWANCE))
    if coring >= clearing or core.is_empty:
        return []
    says = (
        f"The opening is cleared, which takes {clearing - coring:.0f} s longer than cutting round its waste: that "
        "would come loose, or hang on tabs that leave stubs on the edge that guides the bushing."
    )
    return [Finding("note", "cleared", where, says)]


def _holes(
    holes: Sequence[SheetHole], cutter: Cutter, through: float, where: str, voice: Voice
) -> tuple[list[Operation], list[Finding]]:
    """The holes that are drilled and those that are bored, and cautions for those that no bit makes."""
    drilled: list[Run] = []
    bored: list[Run] = []
    by_hand: dict[tuple[float, str], list[tuple[float, float]]] = {}
    for hole in (each for each in holes if not each.by_hand):
        why = can_make(cutter.bit, hole.diameter, through)
        if why:
            by_hand.setdefault((hole.diameter, why), []).append((hole.x, hole.y))
        else:
            runs = drilled if drills(cutter.bit, hole.diameter) else bored
            runs.append(hole_run(hole.x, hole.y, hole.diameter, cutter, -through))
    cautions = [not_made(places, diameter, why, where, voice) for (diameter, why), places in by_hand.items()]
    made: list[Operation] = []
    which = " Sights only, screw holes by hand." if any(hole.by_hand for hole in holes) else ""
    if drilled:
        # All out to one height: a run of cycles that changes heights is not read alike by every control.
        made.append(operation("drill the holes", cutter, drilled, f"Straight down, in pecks.{which}", hops=False))
    if bored:
        made.append(operation("bore the holes", cutter, bored, f"Helical, {cutter.machine.finishing}.{which}"))
    return made, cautions


def _outline_operations(sheet: TemplatePlan, cutter: Cutter, through: float, voice: Voice) -> list[Operation]:
    """Round the sheet, clockwise where the machine is to climb, over its tabs."""
    thickness = sheet.blank[2]
    levels = even_levels(through, cutter.feeds.depth_per_pass)
    ramp = None if cutter.bit.plunges else cutter.feeds.ramp_angle

    def loops(grown: float) -> list[Path]:
        return [loop.reversed() for loop in offset(sheet.sheet, grown).loops]

    def humps(loop: Path) -> list[Hump]:
        return humps_over(sheet.tabs, loop, -thickness, -through, ramp)

    centres = offset(sheet.sheet, cutter.radius)
    rough = [rough_ring(loop, cutter, levels, humps(loop)) for loop in loops(cutter.radius + ALLOWANCE)]
    finish = [
        finish_ring(loop, cutter, [-through], around(centres), (ALLOWANCE, ALLOWANCE), humps(loop))
        for loop in loops(cutter.radius)
    ]
    tabs = f"{len(sheet.tabs)} tabs."
    note = finishing_note(cutter, finish, voice)
    return [
        operation("cut the outline", cutter, rough, f"{cutter.machine.roughing.capitalize()}, ramped entry; {tabs}"),
        operation("finish the outline", cutter, finish, f"{note} {tabs}"),
    ]


@dataclass(frozen=True, slots=True)
class _Outside:
    """All outside the finished sheet, which may go; below the tops of the tabs all but their middles.

    A tab has sloped ends, which may come out as they like; what has to stay of it is its middle.
    """

    above: Region
    below: Region
    tabs_top: float
    depth: float

    @classmethod
    def of(cls, sheet: TemplatePlan) -> _Outside:
        width, height, thickness = sheet.blank
        outside = difference(rectangle(-AIR, -AIR, width + AIR, height + AIR), sheet.sheet)
        middles = [replace(tab, width=TAB_CORE).region(TAB_REACH) for tab in sheet.tabs]
        between = difference(outside, union(*middles)) if middles else outside
        return cls(outside, between, _tops(sheet.tabs, thickness), thickness)

    def section(self, z: float) -> Region:
        return self.above if z > self.tabs_top else self.below

    def levels(self) -> tuple[float, ...]:
        return 0.0, self.tabs_top, -self.depth


class _Kerf(_Outside):
    """The kerf beside the finished sheet, which has to go, down to the tabs and between them."""

    @classmethod
    def of(cls, sheet: TemplatePlan) -> _Kerf:
        kerf = difference(offset(sheet.sheet, KERF), sheet.sheet)
        tabs = [tab.region(KERF + 1.0) for tab in sheet.tabs]
        below = difference(kerf, union(*tabs)) if tabs else kerf
        return cls(kerf, below, _tops(sheet.tabs, sheet.blank[2]), sheet.blank[2])


def _tops(tabs: Sequence[Tab], thickness: float) -> float:
    return -thickness + max((tab.height for tab in tabs), default=0.0)
