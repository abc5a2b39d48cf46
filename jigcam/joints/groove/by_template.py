"""A groove by way of a template: the sheet that is milled, the ride of the bushing in it, the mate in the groove."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.geometry import compose, mirror_x, translation
from jigcam.joints.groove.axes_apart import groove_envelope, warned_once
from jigcam.joints.groove.fit import GrooveFit, groove_fit
from jigcam.joints.groove.laying import face_lines, turned_over
from jigcam.joints.groove.season import season_findings
from jigcam.joints.groove.template_words import SAID, template_joint_words, template_words
from jigcam.joints.groove.words import groove_words, mate_words
from jigcam.making.blocks import table
from jigcam.making.handwork import HandWork, laid_for, work_in
from jigcam.making.laid_again import Use
from jigcam.making.opening_plan import OpeningPlan
from jigcam.making.plan import Outcome, RiddenCut
from jigcam.making.programs import programs
from jigcam.making.template import ridden, ridden_again, template_setups
from jigcam.making.words import minutes
from jigcam.template import plan_template
from jigcam.template.hand import hand_lines
from jigcam.template.laying import STAYS, Move, Site, as_move
from jigcam.toolpath.time import seconds

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.geometry import Region
    from jigcam.job import Entry, Job
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.proof import Corner, Ride
    from jigcam.template import TemplatePlan
    from jigcam.wood import Cut


def plan_by_template(groove: Groove, entry: Entry, job: Job, kit: Kit) -> TemplateGroove:
    """The sheet for a groove, and its milling. Raises `Refused`, and InputError for tools that the kit lacks."""
    places = groove.places()
    cuts = tuple(place.cut for place in places)
    turned = any(place.mirrored for place in places)
    plan = plan_template(
        cuts[0],
        kit,
        bit=kit.bit(entry.bit) if entry.bit else None,
        bushing=kit.bushing(entry.bushing) if entry.bushing else None,
        both_hands=turned,
        faces=face_lines(groove) if groove.both_faces else None,
        steps=groove.steps,
        voice=job.voice,
    )
    setups, said = template_setups(plan, kit, both_hands=turned, voice=job.voice)
    of_sheet = [turned_over(each, groove) if each.rule == "turn-over" else each for each in plan.findings]
    findings = tuple(dict.fromkeys([*groove.findings, *season_findings(groove, job, kit), *of_sheet, *said]))
    return TemplateGroove(groove.name, setups, findings, kit, job.voice, groove=groove, cuts=cuts, template=plan)


def groove_on_sheet(groove: Groove, job: Job, kit: Kit, opening: TemplatePlan) -> TemplateGroove:
    """A groove by an opening of a sheet that it shares with other joints, which has the milling."""
    findings = tuple(dict.fromkeys([*groove.findings, *season_findings(groove, job, kit), *opening.findings]))
    return TemplateGroove(
        groove.name, (), findings, kit, job.voice, groove=groove, cuts=groove.cuts(), template=opening
    )


def again_on_sheet(groove: Groove) -> tuple[Use, ...]:
    """The rest of its row, for which a shared sheet is moved on."""
    site, count = Site.of(groove.cuts()[0]), len(groove.row)
    return tuple(
        Use(groove.name, f"groove {number + 1} of {count}", site, (as_move(translation(*step)),), (0, number))
        for number, step in enumerate(groove.steps)
        if number
    )


@dataclass(frozen=True)
class TemplateGroove(OpeningPlan):
    """A groove cut with the hand-held router in a template; one sheet serves both hands.

    Without a setup the sheet is made by hand, and nothing of it can be proved; or it is shared, and has it all.
    """

    groove: Groove
    cuts: tuple[Cut, ...]

    def drawings(self) -> Mapping[str, Drawing]:
        """The template, and the groove on its board for each hand."""
        from jigcam.drawing.scenes.template import scene_template
        from jigcam.joints.groove.picture import scene_groove

        return {
            "template": scene_template(
                self.template, units=self.voice.units, base_radius=self.kit.the_router.base_radius
            ),
            "groove": scene_groove(self.cuts, units=self.voice.units, mate=self.groove.mate),
        }

    def joint_words(self) -> list[Block]:
        """The joint, and the template for it."""
        lines = template_joint_words(self.groove, self.template, self.kit, self.voice)
        count = len(self.cuts)
        if count == 1 or not (self.groove.others or self.groove.both_faces):
            return lines
        sheets = len(self.groove.row) * len(self.groove.faces)  # one serves both hands in any case
        rows = [("serves", f"{count} grooves, one after the other, at the same settings")]
        if self.setups:
            machine = self.kit.the_machine
            took = sum(seconds(program, machine) for setup in self.setups for program, _ in programs(setup, machine))
            rows.append(
                ("saves", f"{minutes((sheets - 1) * took)} of milling: one sheet of {minutes(took)}, not {sheets}")
            )
        return [*lines, *table("One sheet for all", rows)]

    def bench_words(self, number: int) -> list[Block]:
        """The sheet made ready, and the groove with the router, for each hand."""
        return template_words(self.groove, self.template, self.kit, self.voice, number)

    @property
    def handwork(self) -> tuple[HandWork, ...]:
        """Each groove of the row, in each face, for each hand."""
        return (work_in(self.template, laid_for(self.template, self._laid())),)

    def _laid(self) -> Iterator[tuple[Cut, Move, str, tuple[int, int]]]:
        places, count = self.groove.places(), len(self.groove.row)
        mirror = mirror_x(self.groove.board.length)
        for place, step in zip(places, self.groove.steps * (len(places) // count), strict=True):
            # The sheet is moved along the row, and turned over where the groove is mirrored along the grain.
            move = translation(*step)
            move = compose(move, mirror) if place.mirrored else move
            name = f"groove {place.number + 1} of {count}" if count > 1 else ""
            yield place.cut, as_move(move), name, (0, place.number)

    @property
    def both_hands(self) -> bool:
        """Whether it is cut in the mirrored board too."""
        return any(cut.hand == "opposite" for cut in self.cuts)

    def after_words(self) -> tuple[str, list[str]] | None:
        """What is done to the board that enters."""
        return mate_words(self.groove, self.kit, self.voice)

    def drawn_words(self, title: str) -> list[Block]:
        """The groove, and what its mate needs."""
        return groove_words(self.groove, self.kit, self.voice, title)

    def routing_words(self) -> list[str]:
        """The router in the opening, from the first pass to the last."""
        return hand_lines(self.template, self.voice, self.kit.the_router.base_radius)

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return SAID

    def judged_in(self, opening: Region) -> Outcome:
        """The ride in the opening for each hand, the mate in the groove."""
        gouge = left = 0.0
        corners: tuple[Corner, ...] = ()
        findings: list[Finding] = []
        ways: list[RiddenCut] = []
        fit: GrooveFit | None = None
        others: list[tuple[str, GrooveFit]] = []
        warned: list[Finding] = []
        rides: dict[int, tuple[Ride, Cut]] = {}
        places = self.groove.places()
        count, faces = len(self.groove.row), len(self.groove.faces)
        for place, (cut, move, _, _) in zip(places, self._laid(), strict=True):
            member = place.groove
            named = place.named(count, faces)
            where = f"{self.name}, {named}" if named else self.name
            before = rides.get(place.number) if place.mirrored else None
            ride = before and ridden_again(*before, cut)
            if ride is None:
                laid = opening.transformed(move) if move != STAYS else opening
                ride = ridden(self.template, laid, cut, self.kit, f"{self.name}, {named or cut.hand}", self.voice.units)
            if not place.mirrored:
                rides[place.number] = ride, cut
            gouge, left = max(gouge, ride.gouge_mm), max(left, ride.left_mm)
            findings += ride.findings
            ways.append(RiddenCut(cut.board, cut.face, cut.hand, ride.cut, cut.solid.depth))
            if fit is None:
                corners = ride.left_for_chisel
                fit, says = self._laid_in(member, ride, cut, self.name, warned)
                findings += says
            elif count > 1 or faces > 1:
                each, says = self._laid_in(member, ride, cut, where, warned)
                others.append((named, each))
                findings += says
        findings += warned_once(warned, 1 + len(others), self.name)
        if fit is not None:
            fit = replace(fit, places=tuple(others))
        return Outcome(gouge, left, corners, fit, tuple(findings), tuple(ways))

    def _laid_in(
        self, member: Groove, ride: Ride, cut: Cut, where: str, warned: list[Finding]
    ) -> tuple[GrooveFit, list[Finding]]:
        """The mate in one place as ridden, and what is to be said; `warned` gets what axes apart may do to it there."""
        fit, says = groove_fit(member, ride.cut, cut.centreline, where, self.voice)
        apart, warns = groove_envelope(member, ride, cut.centreline, self.voice.units, where)
        warned += warns
        return replace(fit, ridden=True, play=ride.play_mm, apart=apart), says
