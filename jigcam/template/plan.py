"""The whole plan of a template: from a cut and a kit to a sheet, its opening, fence, marks, and what is to be said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from jigcam.findings import Finding, stops
from jigcam.geometry import Region, offset, translation, union
from jigcam.kit import Bit, Bushing, Kit
from jigcam.template.advice import (
    choice_findings,
    refusal,
    sawn_findings,
    sheet_findings,
    strip_findings,
    support_findings,
    use_findings,
)
from jigcam.template.bare import BareOpening, bare_sheet, need_of, opened, refused, sizes_of
from jigcam.template.cutters import marker
from jigcam.template.marking import mark_sheet
from jigcam.template.marks import Mark, moved, plain
from jigcam.template.opening import RoundedCorner, corners_left, has_corners
from jigcam.template.pair_words import pair_marks
from jigcam.template.pairs import Need, Pair, Verdict, rank_pairs
from jigcam.template.screws import Screws, SheetHole, screw_holes, screws_for, sight_diameter, thinned
from jigcam.template.sheet import STAYS, FenceStrip, Index, SheetLayout, blank_margin, blank_side
from jigcam.template.sheet import Step as SheetStep
from jigcam.template.stack import Stack
from jigcam.template.support import Support
from jigcam.template.tabs import Tab, outline_tabs
from jigcam.units import INCH, Voice
from jigcam.wood.band import sides
from jigcam.wood.solid import Cut

Placement = tuple[tuple[float, float, float], tuple[float, float, float]]

HAND_DRILL = {"in": INCH / 4.0, "mm": 6.0}
"""mm; sights of a template that is made by hand, by units (common practice, no source)."""
AS_DRAWN, TURNED = "this face up: as drawn", "turned over: opposite"
"""Which face of a sheet is up for which hand. It stands on the sheet itself: turned over by mistake, it spoils a board,
and its setup sheet may be far away by then."""


@dataclass(frozen=True, slots=True)
class TemplatePlan:
    """A template for a cut, made from a sheet on the machine or by hand, and used with a hand-held router. mm.

    cut: what it is for, in the board's face frame. bit, bushing: of the hand-held router; offset: (B − d)/2. opening:
    to be cleared through the sheet. ride: of the bushing's centre. sheet: finished outline. blank: stock as clamped,
    along x, y and z; file zero is its lower left corner, top. sawn: whether it is as large as the sheet, and no outline
    is milled; file zero is then the corner on whose edges the strips lie. corner: the blank's lowest x and y in the
    file's frame. placement: 2×3, face frame to file frame. fence, stop:
    strips screwed under the sheet; indexes: lines to lay it by. holes: screws and sights, all through. marks: engraved
    on the upper face. tabs: on the outline. cutter: mills the sheet on the machine, None where the kit has none and the
    sheet is made by hand; marker: engraves it, None where that is left to the hand. stack, support: of the set-up.
    corners: that the bit leaves. steps: by which the sheet is moved for the other cuts that it serves, the first none,
    (x, y) in mm. verdicts: on every pair that was looked at, best first. findings: none of them stops.

    Opening, ride, sheet, strips, holes, marks and tabs are in the face frame; `in_file_frame` gives them moved.
    """

    cut: Cut
    bit: Bit
    bushing: Bushing
    offset: float
    opening: Region
    ride: Region
    sheet: Region
    blank: tuple[float, float, float]
    placement: Placement
    fence: FenceStrip | None
    stop: FenceStrip | None
    indexes: tuple[Index, ...]
    holes: tuple[SheetHole, ...]
    marks: tuple[Mark, ...]
    tabs: tuple[Tab, ...]
    cutter: Bit | None
    marker: Bit | None
    stack: Stack
    support: Support
    corners: tuple[RoundedCorner, ...]
    verdicts: tuple[Verdict, ...]
    findings: tuple[Finding, ...]
    steps: tuple[SheetStep, ...] = STAYS
    sawn: bool = False
    corner: tuple[float, float] = (0.0, 0.0)

    @property
    def pair(self) -> Pair:
        """Bit and bushing."""
        return Pair(self.bit, self.bushing)

    @property
    def guided(self) -> Region:
        """The part of the opening that the bushing needs: all of it but corners tighter than B/2.

        What a cutter leaves in such a corner changes nothing, and needs no chisel.
        """
        return offset(self.ride, self.bushing.outside / 2.0)

    def in_file_frame(self) -> TemplatePlan:
        """The same with everything on the sheet moved into the file frame. `cut` and `placement` stay as they are."""
        (_, _, dx), (_, _, dy) = self.placement  # face and sheet axes are parallel

        def strip(each: FenceStrip | None) -> FenceStrip | None:
            return each and replace(each, box=each.box.moved(dx, dy))

        return replace(
            self,
            opening=self.opening.transformed(self.placement),
            ride=self.ride.transformed(self.placement),
            sheet=self.sheet.transformed(self.placement),
            fence=strip(self.fence),
            stop=strip(self.stop),
            holes=tuple(replace(hole, x=hole.x + dx, y=hole.y + dy) for hole in self.holes),
            tabs=tuple(replace(tab, x=tab.x + dx, y=tab.y + dy) for tab in self.tabs),
            marks=moved(self.marks, self.placement),
        )


def plan_template(
    cut: Cut,
    kit: Kit,
    *,
    bit: Bit | None = None,
    bushing: Bushing | None = None,
    both_hands: bool = False,
    faces: Sequence[str] | None = None,
    steps: tuple[SheetStep, ...] = STAYS,
    voice: Voice | None = None,
) -> TemplatePlan:
    """The template for a cut with the tools of a kit.

    bit, bushing: the ones that the job names; None: chosen from the kit, see `rank_pairs`. both_hands: the sheet is
    also used turned over. faces: texts that say which face is up for what; None: those of the hands. steps: by which it
    is moved for each cut that it serves. voice: of texts and findings; None: the kit's. A kit without a machine gets
    the same template, to be made by hand.

    Raises `Refused`, with all findings so far, where a finding stops the plan: no pair that works, no bit that mills
    the sheet, a sheet larger than the machine, a base that would tip.
    """
    voice = voice or kit.voice
    need = need_of(cut, voice)
    verdict, verdicts, findings = _chosen(cut, kit, need, bit, bushing)
    alone = opened(cut, verdict, verdicts, findings, both_hands=both_hands)
    (plan,), _ = furnished(cut.joint, [alone], kit, voice, faces, steps)
    return plan


def furnished(
    name: str,
    openings: Sequence[BareOpening],
    kit: Kit,
    voice: Voice,
    faces: Sequence[str] | None = None,
    steps: tuple[SheetStep, ...] = STAYS,
) -> tuple[tuple[TemplatePlan, ...], tuple[Finding, ...]]:
    """One sheet about openings of one face, as the plan of each of them, and what is to be said of the sheet itself.

    name: of the sheet, in findings and on it. faces, steps: see `plan_template`. The findings of a sheet with one
    opening are also those of its plan. Raises `Refused` where a finding stops the sheet.
    """
    first, alone = openings[0], len(openings) == 1
    cuts = [each.cut for each in openings]
    board = (first.cut.board.length, first.cut.board.width)
    lies = bare_sheet(name, openings, kit, voice, steps)
    cutter, layout, opening, sheet = lies.cutter, lies.layout, lies.opening, lies.layout.box.region
    region = first.region if alone else union(*(each.region for each in openings))
    sizes, across, sawn = sizes_of(voice), lies.across, lies.sawn
    # Straight down a hole takes no more time than its depth: no helix where the bit may plunge.
    drills = cutter is not None and cutter.plunges
    held_by = screws_for(kit.the_sheet.thickness, across, voice.units, drills=drills)
    screws = _screws(layout, opening, region, held_by, voice)
    both_hands = any(each.both_hands for each in openings)
    marking = mark_sheet(
        layout,
        [(each.opening, each.cut) for each in openings],
        screws,
        sight=sight_diameter(across, drills=drills) if cutter else HAND_DRILL[voice.units],
        lines=_lines(
            name,
            openings,
            faces or ((AS_DRAWN, TURNED) if both_hands else (AS_DRAWN,)),
            voice,
            by_pencil=kit.machine is None,
        ),
        labels=_labels(layout, first.cut, voice),
        blocks=[] if alone else [_block_of(each, openings, voice) for each in openings],
    )
    engraver = marker(kit) if kit.machine else None
    of_sheet = [
        *sheet_findings(name, cuts, layout, screws, marking, engraver, kit, both_hands=both_hands, voice=voice),
        *sawn_findings(name, layout, kit, voice),
        *strip_findings(
            name, cuts, layout, screws, held_by, kit, crossed=engraver is not None, both_hands=both_hands, voice=voice
        ),
    ]
    wide, high = layout.box.size
    right, upper = layout.true_corner if sawn else (False, False)
    corner = (-wide if right else 0.0, -high if upper else 0.0)
    margin = 0.0 if sawn else blank_margin(across)
    blank = (wide, high) if sawn else (blank_side(wide, across, sizes.step), blank_side(high, across, sizes.step))
    plans = []
    for each, rest in zip(openings, lies.held, strict=True):
        pair = each.verdict.pair
        corners = (
            corners_left(each.region, each.ride, pair.bit.diameter, board) if has_corners(each.region, board) else ()
        )
        plans.append(
            TemplatePlan(
                cut=each.cut,
                bit=pair.bit,
                bushing=pair.bushing,
                offset=pair.offset,
                opening=each.opening,
                ride=each.ride,
                sheet=sheet,
                blank=(*blank, kit.the_sheet.thickness),
                placement=_placement(corner[0] + margin - layout.box.x0, corner[1] + margin - layout.box.y0),
                fence=layout.fence,
                stop=layout.stop,
                indexes=layout.indexes,
                holes=(*screws, *marking.sights),
                marks=marking.marks,
                tabs=outline_tabs(layout.box, kit.the_sheet.thickness, across) if cutter and not sawn else (),
                cutter=cutter,
                marker=engraver,
                stack=each.verdict.stack,
                support=rest,
                corners=corners,
                verdicts=each.verdicts,
                findings=(
                    *each.findings,
                    *support_findings(each.cut.joint, rest, layout, kit, voice),
                    *(of_sheet if alone else ()),
                    *use_findings(each.cut, pair, each.verdict.stack, corners, kit, voice),
                ),
                steps=steps,
                sawn=sawn,
                corner=corner,
            )
        )
    everything = [finding for plan in plans for finding in plan.findings]
    if stops([*everything, *of_sheet]):
        raise refused(name, everything if alone else [*everything, *of_sheet])
    return tuple(plans), tuple(of_sheet)


def _chosen(
    cut: Cut, kit: Kit, need: Need, bit: Bit | None, bushing: Bushing | None
) -> tuple[Verdict, tuple[Verdict, ...], list[Finding]]:
    """The pair to use, all verdicts, and what is to be said about the choice. Raises `Refused` where none works."""
    everything = rank_pairs(kit, need, where=cut.joint)
    bits, bushings = kit.bits if bit is None else (bit,), kit.bushings if bushing is None else (bushing,)
    asked = rank_pairs(kit, need, bits=bits, bushings=bushings, where=cut.joint)
    if not asked or not asked[0].ok:
        raise refused(cut.joint, refusal(cut.joint, asked, everything, named=bit is not None or bushing is not None))
    best = asked[0]
    named = bit is not None and bushing is not None
    return best, everything, [*best.findings, *choice_findings(cut.joint, best, asked, need, named=named)]


def _screws(
    layout: SheetLayout, opening: Region, region: Region, screws: Screws, voice: Voice
) -> tuple[SheetHole, ...]:
    strips = [strip for strip in (layout.fence, layout.stop) if strip is not None]
    says = screws.says(voice)
    return thinned([hole for strip in strips for hole in screw_holes(strip, opening, region, layout.box, screws, says)])


def _lines(
    name: str, openings: Sequence[BareOpening], faces: Sequence[str], voice: Voice, *, by_pencil: bool
) -> list[str]:
    """The main block of texts: of the sheet, and of its opening where it has just one.

    by_pencil: no machine engraves them, so that bit and bushing cost nothing.
    """
    lines = [name, *faces]
    if len(openings) == 1:
        lines += _settings(openings[0].verdict, voice, named=by_pencil)
    return [text for text in map(plain, lines) if text]


def _settings(verdict: Verdict, voice: Voice, *, named: bool = False) -> list[str]:
    """What is set anew each time that the template is used. Bit and bushing stand on the setup sheet.

    named: on the template as well; so they are in any case where a tool acts as one of another size.
    """
    tools = pair_marks(verdict.pair, voice)
    return [*(tools if named or len(tools) > 1 else ()), f"{voice.length(verdict.stack.projection)} below base"]


def _block_of(
    opened: BareOpening, openings: Sequence[BareOpening], voice: Voice
) -> tuple[list[str], tuple[float, float]]:
    """What is written beside one opening of several, and the place that it is to be near.

    Where they take several bits or bushings, each has its own beside it: here one could be taken for another.
    """
    x0, y0, x1, y1 = opened.opening.bounds
    several = len({str(each.verdict.pair) for each in openings}) > 1
    lines = [opened.cut.joint, *_settings(opened.verdict, voice, named=several)]
    return [text for text in map(plain, lines) if text], ((x0 + x1) / 2.0, (y0 + y1) / 2.0)


def _labels(layout: SheetLayout, cut: Cut, voice: Voice) -> dict[int, str]:
    """What is written beside the lines, by side of the board; ends and edges are those of the board as drawn."""
    names = sides(cut.face)
    labels = dict(enumerate(names))
    if layout.fence:
        labels[layout.fence.side] = f"fence: {names[layout.fence.side]}"
    if layout.stop:
        labels[layout.stop.side] = f"stop: {names[layout.stop.side]}"
    for index in layout.indexes:
        labels[index.side] = f"{voice.length(index.distance)} from {names[index.side]}"
        if layout.moves_along(index.side):
            labels[index.side] = f"no. 1: {labels[index.side]}"
    return {side: plain(text) for side, text in labels.items()}


def _placement(dx: float, dy: float) -> Placement:
    (a, b, c), (d, e, f) = translation(dx, dy).tolist()
    return (a, b, c), (d, e, f)
