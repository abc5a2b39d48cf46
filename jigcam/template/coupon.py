"""A test coupon: a small sheet with a row of openings whose grooves step past the wanted width, to find the true one.

Each opening is for a short groove; from one to the next the groove is a step wider, and the wanted one is among them.
The maker rides each in an offcut, tries the mate in the grooves, and measures opening and groove. The frame is the
sheet's own, mm: openings upright, side by side, narrowest on the left, zero in the sheet's lower left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.geometry import Path, Region, slot, union
from jigcam.job import Board
from jigcam.kit import Kit
from jigcam.template.advice import LEAST_SUPPORT, no_cutter, too_large
from jigcam.template.box import Box
from jigcam.template.cutters import marker, rejected_cutters, template_cutter
from jigcam.template.marks import Text, plain, text_width
from jigcam.template.opening import ride_region, template_opening
from jigcam.template.pair_words import pair_marks
from jigcam.template.pairs import Verdict
from jigcam.template.plan import TemplatePlan
from jigcam.template.sheet import HOLD, INCHES, METRIC, TooLarge, blank_margin, blank_side
from jigcam.template.support import Support, support
from jigcam.template.tabs import outline_tabs
from jigcam.tolerances import TOLERANCES
from jigcam.units import Voice
from jigcam.wood.solid import Cut, Prism

LENGTH = 50.0
"""Of a groove beyond its own width, mm: long enough to measure and to try a mate in."""
WEB = 15.0
"""Sheet between two openings, mm."""
CAPITAL = 4.0
"""Height of the labels' capitals, mm."""
CLEAR = 4.0
"""Labels keep this far from an opening, mm."""


@dataclass(frozen=True, slots=True)
class Coupon:
    """A coupon's template, and its steps from left to right.

    widths: of the grooves, mm; openings: of the template's; wanted: which of them is the joint's width.
    """

    plan: TemplatePlan
    widths: tuple[float, ...]
    wanted: int

    @property
    def openings(self) -> tuple[float, ...]:
        """Widths of the openings, mm."""
        return tuple(width + 2.0 * self.plan.offset for width in self.widths)


def stepped_widths(width: float, bit: float, *, steps: int, step: float) -> tuple[tuple[float, ...], int]:
    """The widths (mm), narrowest first, and which of them is the wanted one: `steps` to either side of it.

    Below, fewer where the bit (its diameter) would be wider than the groove or bind in it.
    """
    room = width - bit - TOLERANCES.binds / 2.0
    below = max(0, min(steps, floor(room / step + 1e-9)))
    return tuple(width + k * step for k in range(-below, steps + 1)), below


def plan_coupon(
    joint: str, width: float, depth: float, verdict: Verdict, kit: Kit, *, steps: int = 2, step: float, voice: Voice
) -> Coupon:
    """The coupon of a joint whose groove is `width` by `depth` (mm), cut with the pair of a verdict.

    step: from groove to groove, mm. voice: of labels and findings. Raises `Refused`
    where the pair will not do, no bit mills the sheet, or the machine is too small for it.
    """
    pair = verdict.pair
    if not verdict.ok:
        raise Refused(f"{joint}: no coupon can be cut with {pair}", verdict.findings)
    widths, wanted = stepped_widths(width, pair.bit.diameter, steps=steps, step=step)
    pitch = widths[-1] + pair.difference + WEB
    length = LENGTH + widths[-1]
    regions = [slot((k * pitch, 0.0), (k * pitch, length), each) for k, each in enumerate(widths)]
    rides = [ride_region(region, pair.bit.diameter, each) for region, each in zip(regions, widths, strict=True)]
    cutter = template_cutter(kit, widths[0] + pair.difference, pair.bushing.outside)
    if cutter is None:
        rejected = rejected_cutters(kit, widths[0] + pair.difference, pair.bushing.outside, voice)
        raise Refused(f"{joint}: no coupon can be made", [no_cutter(joint, rejected)])
    sawn, step_of_rule = kit.the_sheet.sawn_to_size, (INCHES if voice.inch else METRIC).step
    margin = 0.0 if sawn else blank_margin(cutter.diameter)
    x0, y0, x1, y1 = template_opening(union(*regions), pair.bit.diameter, pair.bushing.outside).bounds
    limit = tuple(extent - 2.0 * margin for extent in kit.the_machine.travel[:2])
    reach = [
        min(kit.the_router.base_radius, (most - size) / 2.0)
        for most, size in zip(limit, (x1 - x0, y1 - y0), strict=True)
    ]
    if min(reach) < HOLD:
        need = (x1 - x0 + 2.0 * (HOLD + margin), y1 - y0 + 2.0 * (HOLD + margin))
        raise Refused(f"{joint}: no coupon can be made", [too_large(joint, TooLarge(need), kit, voice)])
    move = ((1.0, 0.0, reach[0] - x0), (0.0, 1.0, reach[1] - y0))
    box = Box(0.0, 0.0, x1 - x0 + 2.0 * reach[0], y1 - y0 + 2.0 * reach[1])
    if sawn:  # to sizes that a rule has
        box = Box(0.0, 0.0, *(step_of_rule * floor(size / step_of_rule + 1e-9) for size in box.size))
    region = union(*regions).transformed(move)
    opening = template_opening(region, pair.bit.diameter, pair.bushing.outside)
    ride = Region(tuple(loop for each in rides for loop in each.transformed(move).loops))
    middle = wanted * pitch + move[0][2]
    cut = Cut(
        f"{joint}, test",
        Board(name="offcut", length=box.x1, width=box.y1, thickness=2.0 * depth),
        "outside",
        "as drawn",
        Prism(region, depth),
        Path.through([(middle, move[1][2]), (middle, move[1][2] + length)]),
        width,
    )
    held = support(box.region, opening, ride, kit.the_router.base_radius)
    labels = _labels(
        box, opening, [k * pitch + move[0][2] for k in range(len(widths))], widths, wanted, verdict, joint, voice
    )
    said = _findings(cut.joint, widths, wanted, steps, verdict, held, voice)
    findings = (*verdict.findings, *said)
    if stops(findings):
        raise Refused(f"{joint}: no coupon can be made", findings)
    blank = box.size
    if not sawn:
        blank = (blank_side(box.x1, cutter.diameter, step_of_rule), blank_side(box.y1, cutter.diameter, step_of_rule))
    plan = TemplatePlan(
        cut=cut,
        bit=pair.bit,
        bushing=pair.bushing,
        offset=pair.offset,
        opening=opening,
        ride=ride,
        sheet=box.region,
        blank=(*blank, kit.the_sheet.thickness),
        placement=((1.0, 0.0, margin), (0.0, 1.0, margin)),
        fence=None,
        stop=None,
        indexes=(),
        holes=(),
        marks=labels,
        tabs=() if sawn else outline_tabs(box, kit.the_sheet.thickness, cutter.diameter),
        sawn=sawn,
        cutter=cutter,
        marker=marker(kit),
        stack=verdict.stack,
        support=held,
        corners=(),
        verdicts=(verdict,),
        findings=findings,
    )
    return Coupon(plan, widths, wanted)


def _labels(
    box: Box,
    opening: Region,
    middles: list[float],
    widths: tuple[float, ...],
    wanted: int,
    verdict: Verdict,
    joint: str,
    voice: Voice,
) -> tuple[Text, ...]:
    """Above each opening the width of its groove, below it that of the opening itself; a line of words at each edge."""

    def number(mm: float) -> str:
        return voice.length(mm).split()[0]

    _, low, _, high = opening.bounds
    texts: list[Text] = []

    def write(string: str, middle: float, baseline: float) -> None:
        string = plain(string)
        height = min(CAPITAL, CAPITAL * (box.x1 - 2.0 * CLEAR) / text_width(string, CAPITAL))
        left = min(max(CLEAR, middle - text_width(string, height) / 2.0), box.x1 - CLEAR - text_width(string, height))
        texts.append(Text(string, left, baseline, height))

    for middle, width in zip(middles, widths, strict=True):
        write(number(width), middle, high + CLEAR)
        write(number(width + verdict.pair.difference), middle, low - CLEAR - CAPITAL)
    pair, centre = verdict.pair, (middles[0] + middles[-1]) / 2.0
    write(f"{joint}: groove {voice.units}, wanted {number(widths[wanted])}", centre, high + 2.0 * CLEAR + CAPITAL)
    write(
        f"openings, {', '.join(pair_marks(pair, voice))}",
        centre,
        low - 2.0 * CLEAR - 2.0 * CAPITAL,
    )
    return tuple(texts)


def _findings(
    where: str, widths: tuple[float, ...], wanted: int, steps: int, verdict: Verdict, held: Support, voice: Voice
) -> list[Finding]:
    says = voice.length
    pair = verdict.pair
    found = [
        Finding(
            "note",
            "coupon",
            where,
            f"{len(widths)} grooves from {says(widths[0])} to {says(widths[-1])} with {pair}; the wanted "
            f"{says(widths[wanted])} is number {wanted + 1} from the left",
        )
    ]
    if wanted < steps:
        found.append(
            Finding(
                "note",
                "coupon-narrow",
                where,
                f"no narrower groove than {says(widths[0])} can be tried with {pair.bit.name}: the bushing would bind",
            )
        )
    if held.tips:
        found.append(
            Finding(
                "stop",
                "base-tips",
                where,
                "the router's base would tip on the coupon: the machine is too small for a sheet that carries it",
            )
        )
    elif held.fraction < LEAST_SUPPORT:
        found.append(
            Finding(
                "caution",
                "base-support",
                where,
                f"only {held.fraction:.0%} of the base rests on the coupon: lay strips of the same thickness beside it",
            )
        )
    return found
