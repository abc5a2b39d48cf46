"""The sheet for a socket by template: one opening in which both bits ride, or two with the distance held by the sheet.

An opening is made for the bottom of the socket, which the dovetail bit cuts at its tip. At the open end both go on over
the board's edge until the bit hangs free there. Where the straight bit wants an opening of its own, the two lie beside
each other across the socket, and the sheet is moved by their distance between the bits. Face frame, mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, offset, translation
from jigcam.joints.sliding_dovetail.guided_socket import BACKER, ClearingPair, SocketTools
from jigcam.joints.sliding_dovetail.solids import CLEAR_SIDE, Socket
from jigcam.template import FenceStrip, Need, SharedSheet, Stack, TemplatePlan, Verdict, judge
from jigcam.template import bushing as sums
from jigcam.template.bare import BareOpening
from jigcam.template.opening import ride_region, template_opening
from jigcam.template.pair_words import pair_marks
from jigcam.template.pairs import SLACK
from jigcam.template.plan import furnished
from jigcam.template.shared import GOOD_WALL
from jigcam.template.sheet import INCHES, METRIC, Step
from jigcam.template.stack import REACH_SPARE
from jigcam.template.support import support
from jigcam.tolerances import TOLERANCES
from jigcam.wood import Cut
from jigcam.wood.solid import Prism

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Kit
    from jigcam.units import Voice

OWN = frozenset({"hand-feed", "strip-is-cut"})
"""Rules whose findings are about straight bits: the words of the socket say it for both of its bits."""


@dataclass(frozen=True)
class SocketSheet:
    """The sheet of a socket. bottom: as the dovetail bit has to leave it, in the frame of the face.

    dovetail: the plan of its opening, where that lies in the sheet as milled; clearing: the same of the straight bit,
    None without one. shared: the sheet with both openings, where the straight bit has one of its own; step: by which
    it is then moved between the bits, else (0, 0). findings: none of them stops.
    """

    joint: SlidingDovetail
    tools: SocketTools
    bottom: Cut
    dovetail: TemplatePlan
    clearing: TemplatePlan | None
    shared: SharedSheet | None
    step: Step
    findings: tuple[Finding, ...]

    @property
    def plans(self) -> tuple[TemplatePlan, ...]:
        """Of its openings, each once."""
        return (self.dovetail,) if self.shared is None else self.shared.openings

    @property
    def strips(self) -> tuple[tuple[str, FenceStrip], ...]:
        """The strips under the sheet, by name."""
        both = (("fence", self.dovetail.fence), ("stop block", self.dovetail.stop))
        return tuple((name, strip) for name, strip in both if strip is not None)


def socket_sheet(joint: SlidingDovetail, tools: SocketTools, kit: Kit, voice: Voice) -> SocketSheet:
    """The sheet for a joint, with the flanks of its bit (`sloped`). Raises `Refused` where there can be none."""
    bottom = _bottom(joint, tools)
    verdict = _verdict(joint, tools, kit, voice)
    if tools.clearing is None or tools.shared:
        opening = _bare(bottom, verdict, joint)
        (plan,), _ = furnished(joint.name, [opening], kit, voice, faces=_pass_texts(joint, tools, kit, voice))
        before = None if tools.clearing is None else _before(joint, plan, tools.clearing, kit, voice)
        return SocketSheet(joint, tools, bottom, plan, before, None, (0.0, 0.0), _kept(plan.findings))
    channel = _channel(joint, tools.clearing, kit, voice)
    step = _step(joint, tools.socket.opening + channel.verdict.opening, voice)
    dovetail = _bare(_moved(bottom, step), verdict, joint)
    openings = [_named(channel, "straight bit"), _named(dovetail, "dovetail bit")]
    plans, said = furnished(joint.name, openings, kit, voice, steps=((0.0, 0.0), step))
    sheet = SharedSheet(joint.name, plans, (), said)
    found = [*said, *(finding for each in plans for finding in each.findings)]
    return SocketSheet(joint, tools, bottom, plans[1], plans[0], sheet, step, _kept(found))


def _kept(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys(each for each in findings if each.rule not in OWN))


def _bottom(joint: SlidingDovetail, tools: SocketTools) -> Cut:
    """What the tip of the dovetail bit cuts, with the round that it leaves in a stopped end."""
    shape, pair = joint.shape, tools.socket
    socket = Socket(shape, joint.band, over=pair.beyond_edge, round_to=pair.bit.radius)
    line = Path.through([joint.band.at(0.0), joint.band.at(shape.length)])
    return _cut(joint, socket.section(-shape.depth), shape.depth, line, shape.base)


def _cut(joint: SlidingDovetail, region: Region, depth: float, line: Path, width: float) -> Cut:
    shape = joint.shape
    ends = not shape.stopped_start, not shape.stopped_finish
    return Cut(joint.name, joint.board, joint.face, "as drawn", Prism(region, depth), line, width, *ends, "socket")


def _bare(cut: Cut, verdict: Verdict, joint: SlidingDovetail) -> BareOpening:
    region, pair = cut.solid.section(0.0), verdict.pair
    opening = template_opening(region, pair.bit.diameter, pair.bushing.outside)
    ride = ride_region(region, pair.bit.diameter, joint.shape.least_base)
    return BareOpening(cut, verdict, (verdict,), opening, ride, verdict.findings, both_hands=False)


def _verdict(joint: SlidingDovetail, tools: SocketTools, kit: Kit, voice: Voice) -> Verdict:
    """On the dovetail bit in its bushing, with the cautions that there are."""
    shape, pair, says = joint.shape, tools.socket.pair, voice.length
    bit, bushing = pair.bit, pair.bushing
    stack = Stack.of(bit, bushing, sheet=kit.the_sheet.thickness, depth=shape.depth, router=kit.the_router)
    play = sums.play(shape.least_base, bit.diameter)
    found = []
    if play < TOLERANCES.binds - SLACK:
        text = (
            f"{bushing.name} will bind in its opening: it has {says(play)} of play, and wants "
            f"{says(TOLERANCES.binds)}; make the base of the socket {says(TOLERANCES.binds - play)} wider"
        )
        found.append(Finding("caution", "bushing-binds", joint.name, text))
    if stack.reach_spare < REACH_SPARE - SLACK:
        text = (
            f"the tip of {bit.name} goes {says(stack.projection)} below the base, and it reaches only "
            f"{says(stack.reach_spare)} further, so the collet's nut comes close to the bushing: try it, unplugged, "
            "before cutting"
        )
        found.append(Finding("caution", "bit-just-reaches", joint.name, text))
    return Verdict(
        pair,
        opening=tools.socket.opening - shape.taper,
        play=play,
        chip_room=(bushing.inside - bit.shank) / 2.0,
        corner_radius=bit.radius,
        laps=1,
        stack=stack,
        findings=tuple(found),
    )


def _before(joint: SlidingDovetail, plan: TemplatePlan, pair: ClearingPair, kit: Kit, voice: Voice) -> TemplatePlan:
    """The same opening with the straight bit, and what that cuts there."""
    bit, bushing = pair.bit, pair.bushing
    region = offset(plan.opening, -sums.offset(bit.diameter, bushing.outside))
    verdict = _straight_verdict(joint, pair, kit, voice)
    ride = offset(plan.opening, -bushing.outside / 2.0)
    return replace(
        plan,
        cut=_cut(joint, region, joint.shape.depth - CLEAR_SIDE, plan.cut.centreline, pair.cut),
        bit=bit,
        bushing=bushing,
        offset=sums.offset(bit.diameter, bushing.outside),
        ride=ride,
        stack=verdict.stack,
        support=support(plan.sheet, plan.opening, ride, kit.the_router.base_radius),
        findings=(*plan.findings, *verdict.findings),
    )


def _straight_verdict(joint: SlidingDovetail, pair: ClearingPair, kit: Kit, voice: Voice) -> Verdict:
    need = Need(pair.cut, joint.shape.depth - CLEAR_SIDE, False, voice, "socket")
    return judge(pair.pair, kit, need, joint.name)


def _channel(joint: SlidingDovetail, pair: ClearingPair, kit: Kit, voice: Voice) -> BareOpening:
    """The opening that the straight bit has to itself."""
    over = pair.bit.diameter + BACKER
    channel = Socket(joint.shape, joint.band, over=over).cleared()
    assert channel is not None, "a straight bit that clears the mouth has a channel there"
    region, verdict = channel.solid.section(0.0), _straight_verdict(joint, pair, kit, voice)
    cut = _cut(joint, region, channel.solid.depth, channel.line, channel.width)
    opening = template_opening(region, pair.bit.diameter, pair.bushing.outside)
    ride = ride_region(region, pair.bit.diameter, channel.width)
    return BareOpening(cut, verdict, (verdict,), opening, ride, verdict.findings, both_hands=False)


def _named(opening: BareOpening, bit: str) -> BareOpening:
    """An opening of two, by the bit that rides in it: so it is told from the other on the sheet and in files."""
    return replace(opening, cut=replace(opening.cut, joint=f"{opening.cut.joint}, {bit}"))


def _step(joint: SlidingDovetail, widths: float, voice: Voice) -> Step:
    """By which the sheet is moved between the bits. widths: of both openings, added up."""
    (ux, uy), board = joint.band.along, joint.board
    round_to = (INCHES if voice.inch else METRIC).line
    apart = widths / 2.0 + GOOD_WALL
    middle = joint.band.at(joint.shape.length / 2.0)
    # The second opening lies toward the middle of the board; the sheet then moves the other way.
    if abs(uy) >= abs(ux):
        size = round_to * ceil(apart / abs(uy) / round_to)
        return (size if middle[0] > board.length / 2.0 else -size), 0.0
    size = round_to * ceil(apart / abs(ux) / round_to)
    return 0.0, (size if middle[1] > board.width / 2.0 else -size)


def _moved(cut: Cut, step: Step) -> Cut:
    """The cut where its opening lies in the sheet before that is moved by the step."""
    back = translation(-step[0], -step[1])
    region = cut.solid.section(0.0).transformed(back)
    return replace(cut, solid=Prism(region, cut.solid.depth), centreline=cut.centreline.transformed(back))


def _pass_texts(joint: SlidingDovetail, tools: SocketTools, kit: Kit, voice: Voice) -> tuple[str, ...]:
    """What is engraved of the face that is up, and of the pass before the dovetail bit."""
    up = "this face up: as drawn"
    if tools.clearing is None:
        return (up,)
    depth = joint.shape.depth - CLEAR_SIDE
    one, *other = pair_marks(tools.clearing.pair, voice)
    return (
        up,
        f"first {one}",
        *other,
        f"{voice.length(kit.the_sheet.thickness + depth)} below base",
        "then the dovetail bit:",
    )
