"""An opening with its pair, before its sheet is furnished: what mills it, how large the sheet is, how the base rests.

That much decides whether there can be a sheet at all; screws, marks and words follow in `jigcam.template.plan`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.geometry import Region, union
from jigcam.kit import Bit, Kit
from jigcam.template.advice import no_cutter, support_findings, too_large
from jigcam.template.box import Box
from jigcam.template.cutters import rejected_cutters, template_cutter
from jigcam.template.opening import has_corners, ride_region, template_opening
from jigcam.template.pairs import Need, Verdict
from jigcam.template.sheet import INCHES, METRIC, STAYS, SheetLayout, Sizes, TooLarge, lay_out
from jigcam.template.sheet import Step as SheetStep
from jigcam.template.support import Support, support
from jigcam.units import Voice
from jigcam.wood.solid import Cut

HAND_SIZE = (1220.0, 610.0)
"""mm; a template that is made by hand is no larger than a quarter of a sheet of 4 by 8 ft, as sold (from memory)."""


@dataclass(frozen=True, slots=True)
class BareOpening:
    """The opening for a cut, with its pair, before there is a sheet about it. Face frame, mm.

    verdict: on the pair that is used; verdicts: on every pair that was looked at. findings: of the choice. both_hands:
    the cut is also wanted in the mirrored board.
    """

    cut: Cut
    verdict: Verdict
    verdicts: tuple[Verdict, ...]
    opening: Region
    ride: Region
    findings: tuple[Finding, ...]
    both_hands: bool

    @property
    def region(self) -> Region:
        """What the router cuts, seen square at the face."""
        return self.cut.solid.section(0.0)


def need_of(cut: Cut, voice: Voice) -> Need:
    """What a cut asks of the pair that is to make it."""
    corners = has_corners(cut.solid.section(0.0), (cut.board.length, cut.board.width))
    return Need(cut.narrowest, cut.solid.depth, corners, voice, cut.what)


def opened(
    cut: Cut, verdict: Verdict, verdicts: tuple[Verdict, ...], findings: Sequence[Finding], *, both_hands: bool
) -> BareOpening:
    """The opening in which that pair makes a cut."""
    pair, region = verdict.pair, cut.solid.section(0.0)
    return BareOpening(
        cut,
        verdict,
        verdicts,
        template_opening(region, pair.bit.diameter, pair.bushing.outside),
        ride_region(region, pair.bit.diameter, cut.width),
        tuple(findings),
        both_hands,
    )


def refused(name: str, findings: Sequence[Finding]) -> Refused:
    """The refusal of a sheet. name: of it, or of its joint."""
    return Refused(f"{name}: no template can be made", findings)


def sizes_of(voice: Voice) -> Sizes:
    """Whole sizes in the units of that voice."""
    return INCHES if voice.inch else METRIC


@dataclass(frozen=True, slots=True)
class BareSheet:
    """A bare sheet about openings of one face. Face frame, mm.

    cutter: mills it, None: made by hand. opening: all of them. layout: of the sheet and its strips. held: how the base
    rests on it, round the ride of each opening. sawn: to size, before it is milled.
    """

    cutter: Bit | None
    opening: Region
    layout: SheetLayout
    held: tuple[Support, ...]
    sawn: bool

    @property
    def across(self) -> float:
        """The cutter's diameter, mm; 0 by hand."""
        return self.cutter.diameter if self.cutter else 0.0


def bare_sheet(
    name: str,
    openings: Sequence[BareOpening],
    kit: Kit,
    voice: Voice,
    steps: tuple[SheetStep, ...] = STAYS,
) -> BareSheet:
    """The bare sheet about openings. name: of it, in findings; steps: by which it is moved.

    Raises `Refused` where no bit of a kit with a machine mills it, and where it is larger than can be made.
    """
    first, alone = openings[0], len(openings) == 1
    before = [finding for each in openings for finding in each.findings]
    widest = min(each.verdict.opening for each in openings)
    outside = min(each.verdict.pair.bushing.outside for each in openings)
    cutter = template_cutter(kit, widest, outside) if kit.machine else None
    if cutter is None and kit.machine is not None:
        raise refused(name, [*before, no_cutter(name, rejected_cutters(kit, widest, outside, voice))])
    opening = first.opening if alone else union(*(each.opening for each in openings))
    sawn = kit.the_sheet.sawn_to_size and cutter is not None
    layout = lay_out(
        Box(*opening.bounds),
        Box.about(each.ride.bounds for each in openings),
        (first.cut.board.length, first.cut.board.width),
        base_radius=kit.the_router.base_radius,
        travel=kit.machine.travel[:2] if kit.machine else HAND_SIZE,
        cutter=cutter.diameter if cutter else 0.0,
        sizes=sizes_of(voice),
        steps=steps,
        sawn=sawn,
    )
    if isinstance(layout, TooLarge):
        raise refused(name, [*before, too_large(name, layout, kit, voice, first.cut.what, shared=not alone)])
    sheet, base = layout.box.region, kit.the_router.base_radius
    return BareSheet(
        cutter, opening, layout, tuple(support(sheet, opening, each.ride, base) for each in openings), sawn
    )


def rests(opening: BareOpening, kit: Kit, voice: Voice) -> Support:
    """How the router's base rests on the sheet about one opening. Raises `Refused` where none can be made."""
    lies = bare_sheet(opening.cut.joint, [opening], kit, voice)
    (held,) = lies.held
    found = [*opening.findings, *support_findings(opening.cut.joint, held, lies.layout, kit, voice)]
    if stops(found):
        raise refused(opening.cut.joint, found)
    return held
