"""A sliding dovetail whose socket is cut with the hand-held router in a template: the plan, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.gcode import read
from jigcam.geometry import translation
from jigcam.joints.sliding_dovetail.choice import SAME_ANGLE, Choice, slope_findings
from jigcam.joints.sliding_dovetail.fit import face_frame, fit_findings, fit_sliding, tail_frame
from jigcam.joints.sliding_dovetail.glue import Glue
from jigcam.joints.sliding_dovetail.guided_socket import SocketTools, fault_of, socket_tools
from jigcam.joints.sliding_dovetail.ridden_socket import RiddenSocket, SocketRides, ride_socket
from jigcam.joints.sliding_dovetail.season import season_findings
from jigcam.joints.sliding_dovetail.sliding_plan import SlidingPlan
from jigcam.joints.sliding_dovetail.socket_sheet import SocketSheet, socket_sheet
from jigcam.joints.sliding_dovetail.solids import Socket
from jigcam.joints.sliding_dovetail.strategy import not_held, tail_setup
from jigcam.joints.sliding_dovetail.template_cures import cures
from jigcam.joints.sliding_dovetail.template_words import SAID, pair_findings, socket_words, tools_table
from jigcam.joints.sliding_dovetail.words import sliding_words
from jigcam.kit import Want
from jigcam.making.axes import MEND
from jigcam.making.handwork import HandWork, Laid, laid_for, work_in
from jigcam.making.plan import Outcome, RiddenCut
from jigcam.making.template import guide_facts, milled_opening, shared_setup, template_setup
from jigcam.proof.assembly import PlacedFile
from jigcam.template.hand import DepthSetting
from jigcam.template.laying import STAYS, as_move

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.geometry import Region
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Bit, Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice

SHOWS = 0.02
"""Axes that are further apart than this show in the fit, mm: what counts as drawn there."""


def choose_tools(
    joint: SlidingDovetail, entry: SlidingDovetailEntry, kit: Kit, voice: Voice
) -> tuple[SlidingDovetail, SocketTools]:
    """The joint with the flanks of its bit, and what rides its template.

    Raises `Refused` where nothing does; InputError for a bit or a bushing that is not in the kit.
    """
    bits = kit.bits if entry.bit is None else (kit.bit(entry.bit),)
    bushings = kit.bushings if entry.bushing is None else (kit.bushing(entry.bushing),)
    tools = socket_tools(joint, kit, bits, bushings, preclear=entry.preclear)
    if tools is not None:
        return joint.sloped(tools.socket.bit.angle, voice), tools
    shown = [bit for bit in bits if bit.undercuts or entry.bit is not None]
    why = "; ".join(f"{bit.name}: {fault_of(bit, joint, kit, bushings, voice)}" for bit in shown)
    if not bushings:
        why = "the kit has no guide bushing"
    which = "the bit that is named does not ride" if entry.bit else "no dovetail bit of the kit rides"
    mend = ", or ".join(cures(joint, entry, kit, voice))
    says = f"{which} the socket in a bushing ({why or 'it has none'}){mend and f': {mend}'}"
    stop = Finding("stop", "sliding-template", joint.name, says)
    raise Refused(f"{joint.name} cannot be cut by a template", [*joint.findings, stop])


def plan_by_template(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job, kit: Kit) -> TemplateSliding:
    """The sheet for the socket, with its milling, and the tail as it is asked for.

    Raises `Refused`, and InputError for tools that the kit lacks and a climate that is none.
    """
    voice = job.voice
    try:
        sloped, tools = choose_tools(joint, entry, kit, voice)
    except Refused as refused:  # what is wrong with the tail is told in the same breath, not by the next run
        tail = not_held(joint, kit, voice) if entry.tail_way == "upright" else None
        raise Refused(refused.what, [*refused.findings, tail]) if tail else refused from None
    if entry.tail_way == "upright" and (stop := not_held(joint, kit, voice)):
        raise Refused(f"the tail of {joint.name} cannot be cut standing", [stop])
    if stops(sloped.findings):
        raise Refused(f"{joint.name} cannot be cut with the flanks of {tools.socket.bit.name}", sloped.findings)
    sheet = socket_sheet(sloped, tools, kit, voice)
    season, glue = season_findings(joint, job, kit), Glue.of(joint, job, kit)
    bit = tools.socket.bit
    setups, said = _sheet_setups(sheet, kit, voice)
    if entry.tail_way == "upright":
        setups = (*setups, tail_setup(Choice(sloped, _tail_bit(sloped, tools, kit, voice), None, ()), kit, voice))
    findings = [
        *sloped.findings,
        *season,
        *slope_findings(bit, joint, voice),
        *pair_findings(sheet, voice, preclear=entry.preclear),
        *sheet.findings,
        *said,
        *_axes(sheet, kit, voice),
    ]
    return TemplateSliding(
        name=joint.name,
        setups=setups,
        findings=tuple(dict.fromkeys(findings)),
        kit=kit,
        voice=voice,
        joint=sloped,
        by_hand=False,
        tail_way=entry.tail_way,
        glue=glue,
        bit=bit,
        sheet=sheet,
    )


def _sheet_setups(sheet: SocketSheet, kit: Kit, voice: Voice) -> tuple[tuple[Setup, ...], list[Finding]]:
    """The milling of the sheet; none where the kit has no machine, and it is made by hand."""
    if kit.machine is None:
        return (), []
    if sheet.shared is not None:
        setup, said = shared_setup(sheet.shared, (), kit, voice)
    else:
        setup, said = template_setup(sheet.dovetail, kit, voice=voice)
        if sheet.clearing is not None:
            first = {**setup.facts["guide"], "first": guide_facts(sheet.clearing)}
            setup = replace(setup, facts={**setup.facts, "guide": first})
    return (setup,), said


def _tail_bit(joint: SlidingDovetail, tools: SocketTools, kit: Kit, voice: Voice) -> Bit:
    """The bit that cuts the tail on the machine: that of the socket, or another of its angle. Raises `Refused`."""
    own = kit.bit(tools.socket.bit.name)
    want = Want("undercuts", kit.the_machine, edges=joint.shape.tail_length)
    able = [bit for bit in (own, *kit.bits) if abs(bit.angle - own.angle) <= SAME_ANGLE and not want.lacks(bit)]
    if able:
        return able[0]
    ways = 'write tail_way = "router-table" for the same bit in a table, or tail_way = "hand"'
    why = f"no collet of the machine takes {own.name}, nor any bit of its angle that is high enough: {ways}"
    stop = Finding("stop", "sliding-tail", joint.name, why)
    raise Refused(f"the tail of {joint.name} cannot be cut standing", [stop])


def _axes(sheet: SocketSheet, kit: Kit, voice: Voice) -> list[Finding]:
    """A caution where the axes of bushing and bit were measured so far apart that the fit shows it."""
    off = kit.the_router.eccentricity or 0.0
    if off <= SHOWS:
        return []
    says = (
        f"bushing and bit are {voice.length(off)} out of line, as measured: held one way the socket shifts by that; "
        f"where the router turns it comes out up to {voice.length(2.0 * off)} wider, and the tail looser: {MEND}"
    )
    return [Finding("caution", "axes-apart", sheet.joint.name, says)]


@dataclass(frozen=True, kw_only=True)
class TemplateSliding(SlidingPlan):
    """A sliding dovetail by a template for its socket. Without a setup for the sheet that is made by hand."""

    sheet: SocketSheet

    @property
    def guided(self) -> bool:
        """Always: whoever makes the sheet, the router rides it."""
        return True

    @property
    def handwork(self) -> tuple[HandWork, ...]:
        """The straight bit in the mouth, if there is one, then the dovetail bit at full depth."""
        joint, dovetail, clearing = self.joint, self.sheet.dovetail, self.sheet.clearing
        solid = Socket(joint.shape, joint.band, over=self.sheet.tools.socket.beyond_edge, round_to=dovetail.bit.radius)
        depth = joint.shape.depth
        once = (DepthSetting(dovetail.stack.projection, depth, depth),)
        flanks = Laid(replace(self.sheet.bottom, solid=solid), once, as_move(translation(*self.sheet.step)))
        works = (work_in(dovetail, [flanks]),)
        if clearing is None:
            return works
        mouth = laid_for(clearing, [(clearing.cut, STAYS, "", (0, 0))])
        return (replace(work_in(clearing, mouth), part="mouth of the socket", first=True), *works)

    @property
    def numbered(self) -> bool:
        """The sheet comes first, then the tail."""
        return len(self.setups) > 1

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return super().said | SAID

    def drawings(self) -> Mapping[str, Drawing]:
        """The joint, the template, and each bit in its opening at full depth."""
        from jigcam.joints.sliding_dovetail.template_picture import scene_passes, scene_sheet

        base = self.kit.the_router.base_radius
        found = {**super().drawings(), "template": scene_sheet(self.sheet, self.voice, base)}
        return {**found, "passes": scene_passes(self.sheet, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint, and the template for its socket."""
        return [*sliding_words(self.joint, self.voice), *tools_table(self.sheet, self.kit, self.voice)]

    def bench_words(self, number: int) -> list[Block]:
        """The sheet made ready, the straight bit, the dovetail bit, then the tail."""
        lines, number = socket_words(self.sheet, self.kit, self.voice, number)
        return [*lines, *self.tail_words(number)]

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """From the texts alone: the openings as milled, both bits in them, and the tail put into what they leave."""
        if not any(file.setup.clamping == "template" for file in files):
            return Outcome()
        rides = self._rides(files, texts)
        socket = RiddenSocket(
            rides.flanks[0].centres, self.sheet.dovetail.bit, self.joint.shape.depth, face_frame(self.joint)
        )
        tail = [
            PlacedFile.of(
                read(texts[file.file]), self.kit.the_machine, file.tools, tail_frame(self.joint, file.setup.placement)
            )
            for file in files
            if file.setup.clamping == "upright"
        ]
        fit = replace(fit_sliding(self.joint, [socket], tail), play=rides.flanks[0].play_mm)
        findings = (*rides.findings, *fit_findings(fit, self.joint.name, self.voice))
        joint = self.joint
        bottom = RiddenCut(joint.board, joint.face, "as drawn", rides.flanks[0].cut, joint.shape.depth)
        return Outcome(rides.gouge, rides.left, rides.corners, fit, findings, (bottom,))

    def _rides(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> SocketRides:
        """The ride of each bit in its opening, laid on the board as the sheet lies for it."""
        sheet, dovetail = self.sheet, self.sheet.dovetail

        def laid(plan: TemplatePlan, step: tuple[float, float]) -> Region:
            opening = milled_opening(plan, files, texts, self.kit)
            return opening.transformed(translation(*step)) if any(step) else opening

        opening, clearing = laid(dovetail, sheet.step), sheet.clearing
        assert dovetail.cutter is not None, "an opening that was milled has a bit that milled it"
        straight = None
        if clearing is not None:
            region = opening if sheet.shared is None else laid(clearing, (0.0, 0.0))
            straight = region, clearing.bit, clearing.bushing
        return ride_socket(
            self.joint,
            opening,
            (dovetail.bit, dovetail.bushing),
            straight,
            self.kit,
            self.voice,
            milled_with=dovetail.cutter.diameter,
        )
