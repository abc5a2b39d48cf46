"""Mortises by way of a template: one sheet with one opening, laid again for each mortise of a row and for the mate."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding, by_gravity
from jigcam.joints.mortise.fit import MortiseFit, RowFit, TenonApart, row_fit, tenon_seat
from jigcam.joints.mortise.laying import (
    depth_lines,
    end_lines,
    face_lines,
    lead,
    mate_lines,
    middle_words,
    move_to,
    next_lines,
    turned_over,
)
from jigcam.joints.mortise.words import bench_lines, mortise_words, tenon_title
from jigcam.making.axes import MEND
from jigcam.making.blocks import section
from jigcam.making.handwork import HandWork, laid_for, work_in
from jigcam.making.opening_plan import OpeningPlan
from jigcam.making.plan import Outcome, RiddenCut
from jigcam.making.template import ridden, template_setups
from jigcam.making.template_words import sheet_table, strip_words
from jigcam.proof.fit import SEAT
from jigcam.template import plan_template
from jigcam.template.hand import fitting_line, hand_lines
from jigcam.template.laying import STAYS, as_move
from jigcam.template.stack import COLLAR_SPARE
from jigcam.template.turning import laying_line

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.geometry import Region
    from jigcam.job import Job
    from jigcam.joints.mortise.entry import MortiseEntry
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.laid_again import Use
    from jigcam.proof import Ride
    from jigcam.template import TemplatePlan
    from jigcam.template.laying import Move
    from jigcam.units import Voice
    from jigcam.wood import Cut

SAID = frozenset(
    {
        "hand-feed",
        "index-line",
        "sights",
        "fence",
        "stop-block",
        "screws",
        "marks-by-hand",
        "next-mortise",
        "mate-template",
    }
)
"""Rules whose findings the words have said."""


def plan_by_template(it: Mortise, entry: MortiseEntry, job: Job, kit: Kit) -> TemplateMortise:
    """The sheet for mortises, and its milling. Raises `Refused`, and InputError for tools that the kit lacks."""
    voice = job.voice
    it = it.seen
    cut = it.first.cuts(it.name)[lead(it.first)]
    try:
        plan = plan_template(
            cut,
            kit,
            bit=kit.bit(entry.bit) if entry.bit else None,
            bushing=kit.bushing(entry.bushing) if entry.bushing else None,
            faces=face_lines(it),
            voice=voice,
        )
    except Refused as refused:
        raise Refused(refused.what, by_gravity([*refused.findings, *_reaches(it, kit, voice)])) from refused
    setups, said = template_setups(plan, kit, voice=voice)
    laid = [Finding("note", "next-mortise", it.name, says) for says in next_lines(it, plan, voice)]
    if len(it.rows) > 1:
        laid += [Finding("note", "mate-template", it.name, says) for says in mate_lines(it, plan, voice)]
    _check_depths(it, plan, kit, voice)
    findings = tuple(dict.fromkeys([*it.findings, *plan.findings, *said, *laid]))
    return TemplateMortise(it.name, setups, findings, kit, voice, it=it, template=plan, home=lead(it.first))


def mortise_on_sheet(it: Mortise, job: Job, kit: Kit, opening: TemplatePlan) -> TemplateMortise:
    """Mortises by an opening of a sheet that they share with other joints, which has the milling. Raises `Refused`."""
    it = it.seen
    _check_depths(it, opening, kit, job.voice)
    findings = tuple(dict.fromkeys([*it.findings, *opening.findings]))
    return TemplateMortise(it.name, (), findings, kit, job.voice, it=it, template=opening, home=0)


def _check_depths(it: Mortise, plan: TemplatePlan, kit: Kit, voice: Voice) -> None:
    """A mate that is deeper than the first has to be within reach of the same bit. Raises `Refused` where it is not."""
    deepest = max(row.depth for row in it.rows)
    most = min(plan.bit.cutting_length, plan.stack.reach - plan.stack.sheet)
    if deepest > most + SEAT:
        what = (
            f"{plan.bit.name} in {plan.bushing.name} over a sheet of {voice.length(plan.stack.sheet)} cuts "
            f"{voice.length(most)} deep at the most, and the mate wants {voice.length(deepest)}: make that mortise "
            "less deep, or take a thinner sheet"
        )
        stop = Finding("stop", "bit-too-short", it.name, what)
        raise Refused(f"{it.name}: the mate is too deep", [stop, *_reaches(it, kit, voice)])


def _reaches(it: Mortise, kit: Kit, voice: Voice) -> Iterator[Finding]:
    """How deep each bit could go through the kit's sheet, and how thin a sheet would have to be for this depth."""
    if kit.router is None or kit.sheet is None:
        return
    says, depth, sheet = voice.length, max(row.depth for row in it.rows), kit.sheet.thickness
    told = []
    for bit in kit.bits:
        if not (bit.upright_walls and kit.router.takes(bit) and bit.diameter <= it.first.width):
            continue
        reach = kit.router.reach(bit)
        most = min(bit.cutting_length, reach - sheet)
        words = f"{bit.name} {says(max(most, 0.0))} deep"
        if most < depth and bit.cutting_length >= depth and reach - depth > COLLAR_SPARE:
            thin = reach - depth
            words += (
                f" ({says(depth)} under a sheet of at most {says(thin)}, and a collar of {says(thin - COLLAR_SPARE)})"
            )
        told.append((most, words))
    if told:
        listed = ", ".join(words for _, words in sorted(told, key=lambda each: -each[0]))
        what = f"the mortise is {says(depth)} deep and the sheet {says(sheet)} thick; through it reach: {listed}"
        yield Finding("note", "mortise-reach", it.name, what)


@dataclass(frozen=True)
class TemplateMortise(OpeningPlan):
    """Mortises cut with the hand-held router in one template. it: its rows as they are seen. home: the mortise of the
    first row for which the sheet is laid out.

    Without a setup the sheet is made by hand; or it is shared, and has it all.
    """

    it: Mortise
    home: int

    @property
    def both_hands(self) -> bool:
        """Never: a mirrored board is another joint."""
        return False

    @property
    def templates(self) -> tuple[TemplatePlan, ...]:
        """The one sheet."""
        return (self.template,)

    @property
    def handwork(self) -> tuple[HandWork, ...]:
        """Each mortise of the row, the one that the sheet is laid out for first; then those of the mate."""
        cuts = sorted(self._laid(), key=lambda each: each[3] != (0, self.home))
        return (work_in(self.template, laid_for(self.template, cuts)),)

    def _laid(self) -> Iterator[tuple[Cut, Move, str, tuple[int, int]]]:
        for place, row in enumerate(self.it.rows):
            turned = place > 0 and turned_over(self.it)
            for number, cut in enumerate(row.cuts(self.name)):
                move = as_move(move_to(self.it.first, self.home, row, number, turned=turned))
                yield cut, move, f"mortise {number + 1} of {row.count}" if row.count > 1 else "", (place, number)

    def drawings(self) -> Mapping[str, Drawing]:
        """The template, and each board with its mortises."""
        from jigcam.drawing.scenes.template import scene_template
        from jigcam.joints.mortise.picture import scene_mortise

        base = self.kit.the_router.base_radius
        return {
            "template": scene_template(self.template, units=self.voice.units, base_radius=base),
            "mortise": scene_mortise(self.it, self.voice),
        }

    def joint_words(self) -> list[Block]:
        """The joint, its tenon, and the template."""
        return [*mortise_words(self.it, self.voice), *sheet_table(self.template, self.kit, self.voice)]

    def bench_words(self, number: int) -> list[Block]:
        """The sheet made ready, each mortise with the router, the tenons."""
        plan, voice = self.template, self.voice
        row = self.it.first
        which = f"mortise {lead(row) + 1}" if row.count > 1 else "the mortise"
        first = [
            laying_line(plan, voice),
            fitting_line(plan),
            *hand_lines(plan, voice, self.kit.the_router.base_radius),
        ]
        lines = strip_words(number, plan, voice)
        if row.end:
            first = [*self.held_words(), *first]
        lines += section(f"{number + 1}. Cut {which} in {row.board.name} with the hand-held router", first)
        number += 2
        more = list(next_lines(self.it, plan, voice))
        if more:
            lines += section(f"{number}. The other mortises of the row, at the same settings", more)
            number += 1
        if len(self.it.rows) > 1:
            mate = self.it.rows[1]
            title = f"{number}. Its mate, in the {mate.where} of {mate.board.name}"
            lines += section(title, mate_lines(self.it, plan, voice))
            number += 1
        return [*lines, *bench_lines(self.it, number, voice)]

    def drawn_words(self, title: str) -> list[Block]:
        """The mortises and their tenon."""
        return mortise_words(self.it, self.voice, title)

    def routing_words(self) -> list[str]:
        """The router in the opening, from the first pass to the last."""
        return hand_lines(self.template, self.voice, self.kit.the_router.base_radius)

    def held_words(self, move: Move = STAYS, use: Use | None = None) -> list[str]:
        """How a board stands whose end is cut."""
        row = self.it.rows[use.place[0] if use else 0]
        return list(end_lines(row, self.template, [move], self.voice)) if row.end else []

    def again_words(self, use: Use) -> list[str]:
        """Where the middle of the mortise is, and how deep a mate is where that is another depth."""
        place, number = use.place
        middle = middle_words(self.it.rows[place], number, self.voice)
        deep = depth_lines(self.it, self.template, self.voice) if place else ()
        return [f"{use.named[0].upper()}{use.named[1:]}: {middle}.", *deep]

    def after_words(self) -> tuple[str, list[str]]:
        """The tenons."""
        return tenon_title(self.it), list(self.it.tenon.lines(self.it.first.count, self.voice))

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return SAID

    def judged_in(self, opening: Region) -> Outcome:
        """The ride in the opening, the tenon in each mortise."""
        it, plan, voice = self.it, self.template, self.voice
        ride = ridden(plan, opening, plan.cut, self.kit, it.name, voice.units)
        findings = list(ride.findings)
        fits: list[RowFit] = []
        ways: list[RiddenCut] = []
        for place, row in enumerate(it.rows):
            turned = place > 0 and turned_over(it)
            moves = [move_to(it.first, self.home, row, number, turned=turned) for number in range(row.count)]
            sections = [ride.cut.transformed(move) for move in moves]
            fit, says = row_fit(it, row, sections, voice, None, ride.play_mm)
            fits.append(fit)
            findings += says
            ways += [RiddenCut(row.board, row.side, "as drawn", each, row.depth) for each in sections]
        apart, warns = _apart(it, ride, voice)
        fits_of = MortiseFit(it.tenon, tuple(fits), ridden=True, apart=apart)
        return Outcome(ride.gouge_mm, ride.left_mm, ride.left_for_chisel, fits_of, (*findings, *warns), tuple(ways))


def _apart(it: Mortise, ride: Ride, voice: Voice) -> tuple[TenonApart | None, list[Finding]]:
    """What axes that are apart may make of the tenon's room, with what is to be said of it."""
    if ride.eccentricity_mm <= 0.0:
        return None, []
    tenon = it.tenon
    tight, loose = (tenon_seat(tenon, it.first, cut).total for cut in (ride.sure, ride.envelope))
    # Turning moves the cut, and does not close it: it comes out no narrower than the bit.
    tight = max(tight, ride.bit_mm - tenon.thickness)
    apart = TenonApart(ride.eccentricity_mm, (tight, loose))
    if tight >= min(0.0, tenon.play) - SEAT and loose <= tenon.play + max(0.05, tenon.play):
        return apart, []
    says = voice.length
    what = (
        f"bushing and bit are {says(ride.eccentricity_mm)} out of line, as measured: where the router turns, the tenon "
        f"has {says(tight)} to {says(loose)} of play in all, and {says(tenon.play)} is drawn; held one way the "
        f"mortise keeps its width and shifts by {says(ride.eccentricity_mm)}: {MEND}"
    )
    return apart, [Finding("caution", "axes-apart", it.name, what)]
