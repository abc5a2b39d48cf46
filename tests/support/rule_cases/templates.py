"""Rules of bits, bushings, templates, coupons and direct cuts."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any

from support.grooves import groove_job, made
from support.rule_cases.case import Case, Findings, Say, case, said
from support.setups import direct_programs, template_programs

from jigcam.geometry import rectangle, slot
from jigcam.kit import Kit, Measured, load_kit
from jigcam.template import Need, Pair, SheetHole, judge, plan_coupon, plan_template, rank_pairs
from jigcam.template.shared import Wanted, plan_shared
from jigcam.toolpath import choose
from jigcam.toolpath.track import Cutter
from jigcam.toolpath.undercut import undercut_runs
from jigcam.units import Voice
from jigcam.wood import Cut

IN = 25.4
METRIC, INCH = load_kit("metric-shop"), load_kit("inch-shop")

SAWING = METRIC.model_copy(update={"sheet": METRIC.the_sheet.model_copy(update={"sawn_to_size": True})})


def changed(kit: Kit, **machine: Any) -> Kit:
    """A shop with a changed machine."""
    return kit.model_copy(update={"machine": kit.machine.model_copy(update=machine)})


def cut_of(**keys: Any) -> Cut:
    """The cut of a groove; without a board that it receives where it has a width."""
    free = {"receives": None, "clearance": 0.1} if "width" in keys else {}
    return made(groove_job(**free | keys)).cuts()[0]


def pair(*, bit: dict[str, Any] | None = None, bushing: dict[str, Any] | None = None, width: float = 0.506) -> Say:
    """The half-inch bit in the three-quarter bushing, or either changed; lengths in inches."""

    def mm(values: dict[str, Any] | None) -> dict[str, Any]:
        return {key: value * IN if isinstance(value, float) else value for key, value in (values or {}).items()}

    one = INCH.bit("straight 1/2").model_copy(update=mm(bit))
    other = INCH.bushing("bushing 3/4").model_copy(update=mm(bushing))
    return said(
        lambda: judge(Pair(one, other), INCH, Need(width * IN, 5 / 16 * IN, voice=Voice("in")), "shelf").findings
    )


def template(kit: Kit = METRIC, names: dict[str, str] | None = None, *, both: bool = False, **keys: Any) -> Say:
    """What is said of the template of a groove. names: of bit and bushing that the job asks for."""

    def findings() -> Findings:
        tools: dict[str, Any] = {what: getattr(kit, what)(name) for what, name in (names or {}).items()}
        return plan_template(cut_of(**keys), kit, both_hands=both, voice=Voice("mm"), **tools).findings

    return said(findings)


def milled(kit: Kit = METRIC, holes: tuple[SheetHole, ...] | None = None, **keys: Any) -> Say:
    """What is said of milling the template. holes: instead of its own."""

    def findings() -> Findings:
        plan = plan_template(cut_of(**keys), kit, voice=Voice("mm"))
        return template_programs(plan if holes is None else replace(plan, holes=holes), kit).findings

    return said(findings)


def direct(kit: Kit = METRIC, bit: str | None = None, **keys: Any) -> Say:
    """What is said of a groove cut on the machine."""
    return said(lambda: direct_programs(cut_of(**keys), kit, bit).findings)


def coupon(kit: Kit = METRIC, width: float = 12.35) -> Say:
    """What is said of a test coupon."""

    def findings() -> Findings:
        best = rank_pairs(kit, Need(width, 8.0))[0]
        return plan_coupon("shelf", width, 8.0, best, kit, step=0.1, voice=Voice("mm")).plan.findings

    return said(findings)


def undercut(*, open_end: bool) -> Say:
    """A socket for a dovetail bit, closed or open at one end."""

    def findings() -> Findings:
        bit = INCH.bit("dovetail 1/2 x 8")
        cutter = Cutter(bit, choose(bit, "black cherry", METRIC.machine, 12.0), METRIC.machine)
        board = rectangle(-100.0, 0.0, 100.0, 120.0)
        region = slot((0.0, -40.0 if open_end else 30.0), (0.0, 90.0), 20.0)
        assert undercut_runs(region, cutter, 12.0, lambda p: -board.signed_distance(p) - bit.radius, "socket")
        return ()

    return said(findings)


def shared(kit: Kit = METRIC, *, below: float = 250.0, strip: float = 12.2, depth: float = 8.0, **names: str) -> Say:
    """What is said of one sheet for two grooves along the grain, the second so far from the lower edge (mm).

    strip: what the second receives, mm thick.
    """

    def findings() -> Findings:
        run = {"angle": 0.0, "length": 150.0, "shelf": 12.2}
        cuts = [
            cut_of(name="shelf", start_point=(100.0, 200.0), **run),
            cut_of(name="strip", start_point=(100.0, below), **{**run, "shelf": strip}, depth=depth),
        ]
        tools: dict[str, Any] = {what: getattr(kit, what)(name) for what, name in names.items()}
        sheet = plan_shared("both", [Wanted(cuts[0], **tools), Wanted(cuts[1])], kit, Voice("mm"))
        return (*sheet.findings, *(each for plan in sheet.openings for each in plan.findings))

    return said(findings)


LARGE = changed(METRIC, travel=(1300.0, 900.0, 80.0))
MIDDLE: dict[str, Any] = {
    "start_point": (500.0, 300.0),
    "angle": 0.0,
    "length": 150.0,
    "board": {"length": 1200.0, "width": 600.0, "thickness": 24.0},
}
OPEN: dict[str, Any] = {"start_point": (0.0, 12.0), "angle": 0.0, "length": 100.0, "start": "open"}
BESIDE: dict[str, Any] = {"start_point": (200.0, 60.0), "length": 150.0, "width": 60.0}
BROAD: dict[str, Any] = {"start_point": (100.0, 142.5), "angle": 0.0, "length": 300.0, "width": 180.0}
"""So wide that the base has the sheet on one side of it only."""
TESTED = METRIC.model_copy(
    update={
        "measured": (
            Measured(bit="straight 12", bushing="bushing 17", opening=17.5, width=12.5, date=datetime.date(2026, 3, 1)),
        )
    }
)
NAMED = {"bit": "straight 12", "bushing": "bushing 17"}
HALF = {"bit": "straight 1/2", "bushing": "bushing 7/16"}
UNBUSHED = METRIC.model_copy(update={"bushings": ()})
COARSE = METRIC.model_copy(update={"bits": tuple(b for b in METRIC.bits if b.kind == "straight" and b.diameter >= 6.0)})
BLUNT = changed(INCH, collets=(6.35,)).model_copy(update={"bits": (INCH.bit("straight 1/2"), INCH.bit("vee 60"))})

SOUND, PAIR, TEMPLATE, NONE = template(), pair(), template(), template(UNBUSHED)
DIRECT, NO_BIT = direct(width=12.5), direct(width=0.5)

TEMPLATES: dict[str, Case] = {
    "bit-kind": case(pair(bit={"kind": "ball"}), direct(INCH, "vee 60", width=8.0), silent=PAIR),
    "bit-too-wide": case(pair(width=0.49), direct(INCH, "straight 1/4", width=6.0), silent=PAIR),
    "bit-too-short": case(
        pair(bit={"overall_length": 1.5}), direct(INCH, "straight 1/8", width=8.0, depth=14.0), silent=PAIR
    ),
    "bushing-binds": case(pair(width=0.5), pair(width=0.501), silent=PAIR),
    "no-collet": case(pair(bit={"shank": 11 / 16}), silent=PAIR),
    "bit-does-not-pass": case(pair(bushing={"inside": 0.5}), silent=PAIR),
    "tight-bushing": case(pair(bushing={"inside": 0.53}), silent=PAIR),
    "collar-too-long": case(pair(bushing={"collar": 0.5}), silent=PAIR),
    "collar-near-work": case(pair(bushing={"collar": 0.48}), silent=PAIR),
    "bit-just-reaches": case(pair(bit={"overall_length": 1.92}), silent=PAIR),
    "edges-too-short": case(pair(bit={"cutting_length": 0.3}), silent=PAIR),
    "slender-bit": case(pair(bit={"diameter": 0.2}), silent=PAIR),
    "pair": case(TEMPLATE, silent=NONE),
    "measured-pair": case(template(TESTED, NAMED), silent=TEMPLATE),
    "no-pair": case(NONE, silent=TEMPLATE),
    "better-pair": case(template(INCH, HALF, shelf=12.7), silent=TEMPLATE),
    "one-pair": case(shared(strip=8.2), silent=shared(strip=8.2, bit="straight 12")),
    "several-pairs": case(shared(strip=8.2, bit="straight 12"), silent=shared()),
    "sheet-wall": case(shared(below=215.0), shared(below=227.0), shared(), silent=TEMPLATE),
    "no-template-cutter": case(template(BLUNT, shelf=12.7), silent=TEMPLATE),
    "template-too-large": case(template(changed(METRIC, travel=(200.0, 200.0, 60.0))), silent=TEMPLATE),
    "base-tips": case(template(LARGE, **BROAD), silent=TEMPLATE),
    "base-support": case(template(changed(INCH, travel=(230.0, 292.0, 60.0)), **BESIDE), TEMPLATE, silent=NONE),
    "sawn-blank": case(template(SAWING), silent=TEMPLATE),
    "fence": case(TEMPLATE, silent=template(changed(METRIC, travel=(400.0, 300.0, 80.0)), **MIDDLE)),
    "stop-block": case(template(**OPEN), silent=template(changed(METRIC, travel=(400.0, 300.0, 80.0)), **MIDDLE)),
    "no-fence": case(
        template(changed(METRIC, travel=(400.0, 300.0, 80.0)), **MIDDLE), silent=template(LARGE, **MIDDLE)
    ),
    "index-line": case(template(changed(METRIC, travel=(400.0, 300.0, 80.0)), **MIDDLE), silent=template(**OPEN)),
    "far-side": case(template(start_point=(430.0, 45.0)), silent=TEMPLATE),
    "sights": case(TEMPLATE, silent=NONE),
    "screws": case(TEMPLATE, silent=NONE),
    "strip-too-deep": case(
        template(board={"length": 560.0, "width": 285.0, "thickness": 11.0}, depth=3.0), silent=TEMPLATE
    ),
    "change-place": case(
        milled(changed(METRIC, tool_change="pause", change_at=(-900.0, -10.0, 60.0))),
        silent=milled(changed(METRIC, tool_change="pause", change_at=(-40.0, -10.0, 60.0))),
    ),
    "zero-at-far-end": case(
        direct(changed(METRIC, travel=(300.0, 400.0, 80.0)), width=12.5, start_point=(430.0, 45.0)), silent=DIRECT
    ),
    "few-screws": case(template(changed(METRIC, travel=(200.0, 130.0, 80.0)), **OPEN), silent=template(**OPEN)),
    "strip-is-cut": case(template(**OPEN), silent=TEMPLATE),
    "turn-over": case(template(both=True), silent=TEMPLATE),
    "marks-by-hand": case(template(COARSE), silent=TEMPLATE),
    "corners": case(template(ends="square"), silent=TEMPLATE),
    "hand-feed": case(TEMPLATE, silent=NONE),
    "concentricity": case(TEMPLATE, silent=NONE),
    "coupon": case(coupon(), silent=coupon(changed(METRIC, travel=(150.0, 150.0, 80.0)))),
    "coupon-narrow": case(coupon(width=12.15), silent=coupon()),
    "no-bit": case(NO_BIT, silent=DIRECT),
    "bit-shank": case(direct(changed(INCH, collets=(6.35,)), "straight 1/2", width=15.0), silent=DIRECT),
    "bit-choice": case(DIRECT, silent=direct(bit="straight 12", width=12.5)),
    "bits-not-taken": case(DIRECT, silent=direct(bit="straight 12", width=12.5)),
    "path-too-large": case(direct(changed(METRIC, travel=(100.0, 100.0, 80.0)), width=12.5), silent=DIRECT),
    "corners-left": case(direct(width=12.5, ends="square"), silent=DIRECT),
    "hole-by-hand": case(milled(holes=(SheetHole(50.0, 50.0, 2.0, "screw"),)), silent=milled()),
    "undercut-closed": case(undercut(open_end=False), silent=undercut(open_end=True)),
    "cleared": case(milled(width=12.35), silent=milled(width=6.2)),
}
