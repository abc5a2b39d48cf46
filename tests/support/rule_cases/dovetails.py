"""Rules of through dovetails."""

from __future__ import annotations

from functools import cache
from math import atan, radians
from typing import Any

import numpy as np
from support.dovetails import SIDE, TOP, dovetail_job, made
from support.kinds.half_blind_dovetail import drawer_job
from support.rule_cases.case import Case, Say, case, said

from jigcam.dovetails import dovetail, measured_layout
from jigcam.dovetails.choice import DovetailChoice, choose_ways
from jigcam.dovetails.fit import ContactFit, fit_findings
from jigcam.dovetails.judging import JointSizes, layout_findings
from jigcam.dovetails.mates import contacts
from jigcam.dovetails.plan import plan_dovetail
from jigcam.job import Board, Job
from jigcam.joints.half_blind_dovetail import HalfBlindDovetailEntry
from jigcam.kit import Kit, load_kit
from jigcam.units import Voice

TAILS = ((7.0, 37.5, 9.0, 35.5), (46.0, 82.0, 48.0, 80.0))
WIDE = {"pin": 10.0}
THIN = {"side": SIDE | {"width": 45.0, "thickness": 12.0}, "top": TOP | {"width": 45.0, "thickness": 8.0}, "count": 1}
"""Thinner boards take fewer terraces, and so less time to plan."""


def drawn(**keys: Any) -> Say:
    """What is said of the joint before any tool is known."""
    return said(lambda: made(dovetail_job(**keys)).findings)


def measured(*tails: tuple[float, float, float, float]) -> Say:
    return drawn(measured=tails, count=None, pin=None, half_pin=None, slope=None)


def laid_out(*tails: tuple[float, float, float, float]) -> Say:
    """What is said of a layout that no job comes to: measurements that overlap are refused before."""
    stock = JointSizes(SIDE["thickness"], TOP["thickness"], 0.0, 0.05, 0.0)
    layout = measured_layout(SIDE["width"], TOP["thickness"], tails)
    return said(lambda: layout_findings("corner", layout, stock, "mm"))


def kit_with(bits: tuple[str, ...] | None = None, **machine: Any) -> Kit:
    kit = load_kit("metric-shop")
    return kit.model_copy(
        update={
            "machine": kit.machine.model_copy(update=machine),
            "bits": tuple(bit for bit in kit.bits if bits is None or bit.name in bits),
        }
    )


def chosen(kit: Kit | None = None, **keys: Any) -> Say:
    """What is said of the choice of ways with a kit."""
    return said(lambda: choose_ways(made(dovetail_job(**keys)), kit or kit_with()).findings)


def planned(kit: Kit | None = None, **keys: Any) -> Say:
    """What is said of the whole plan with a kit."""

    def findings() -> Any:
        job = dovetail_job(**keys)
        return plan_dovetail(made(job), job.joints[0], job, kit or kit_with()).findings

    return said(findings)


@cache
def _choice() -> DovetailChoice:
    return choose_ways(made(dovetail_job(**WIDE)), kit_with())


def fitted(by: float) -> Say:
    """Every gap of a corner wider than drawn by that much, mm."""

    def findings() -> Any:
        fits = [ContactFit(each, np.full(len(each.places), each.drawn + by)) for each in contacts(_choice())]
        return fit_findings(fits, "corner", pared=False, voice=Voice("mm"))

    return said(findings)


SOUND = drawn()
UPRIGHT, UPRIGHT_ONLY = chosen(**WIDE), {"tails_setup": "upright", "pins_setup": "upright"}
FLAT = planned(tails_setup="flat", pins_setup="flat", **THIN, **WIDE)
RABBET = planned(tails_setup="upright", pins_setup="upright", rabbet=1.0, **WIDE)
STANDING = planned(**UPRIGHT_ONLY, **WIDE)
CLOSE = kit_with(bits=("dovetail 12.7 x 8", "straight 8", "straight 6"))


def half_blind(**keys: Any) -> Say:
    """What is said of a drawer's corner."""

    def findings() -> Any:
        table = drawer_job(**keys)
        entry = HalfBlindDovetailEntry(**table["joints"][0] | {"slope": atan(1 / 8)})
        boards = {name: Board(name=name, **sizes) for name, sizes in table["boards"].items()}
        job = Job(title="Sheet-music cabinet", units="mm", boards=boards, joints=(entry,))
        return dovetail(entry, job).findings

    return said(findings)


DOVETAILS: dict[str, Case] = {
    "dovetail-lap": case(half_blind(lap=2.3), half_blind(lap=1.4), silent=half_blind()),
    "dovetail-tail-short": case(half_blind(front=9.9), silent=half_blind(front=10.1)),
    "dovetail-ends": case(drawn(tails_end="left", pins_end="left"), silent=drawn(tails_end="left", pins_end="right")),
    "dovetail-widths": case(drawn(top=TOP | {"width": 92.0}), silent=drawn(side=SIDE | {"width": 90.03})),
    "dovetail-measured": case(measured(TAILS[1], TAILS[0]), silent=measured(*TAILS)),
    "dovetail-no-room": case(drawn(count=6, pin=16), silent=SOUND),
    "dovetail-tail-vanishes": case(drawn(count=6, pin=11, slope=atan(1 / 4)), silent=SOUND),
    "dovetail-pin-vanishes": case(laid_out((7.0, 47.0, 9.0, 45.0), TAILS[1]), silent=laid_out(*TAILS)),
    "dovetail-tail-narrow": case(drawn(count=5, pin=10.5), drawn(count=5, pin=9), silent=SOUND),
    "dovetail-tail-under-pin": case(drawn(count=4, pin=14), silent=SOUND),
    "dovetail-pin-narrow": case(drawn(pin=1.2), drawn(pin=2.5), silent=SOUND),
    "dovetail-half-pin-splits": case(drawn(half_pin=3.5), drawn(half_pin=4.3, pin=12), silent=SOUND),
    "dovetail-slope": case(drawn(slope=atan(1 / 1.5)), drawn(slope=atan(1 / 11)), silent=drawn(slope=atan(1 / 6))),
    "dovetail-rabbet": case(drawn(rabbet=18.0), drawn(rabbet=8.0), silent=drawn(rabbet=1.0)),
    "dovetail-clearance": case(drawn(clearance=0.0), drawn(clearance=0.13), silent=drawn(clearance=0.05)),
    "dovetail-pare": case(drawn(pare=5.0), silent=drawn(pare=0.4)),
    "dovetail-way": case(UPRIGHT, silent=chosen(kit_with(bits=("vee 60",)))),
    "dovetail-way-refused": case(chosen(kit_with(upright=None), **WIDE), chosen(pin=2.6), silent=UPRIGHT),
    "dovetail-setup": case(chosen(kit_with(upright=None), **UPRIGHT_ONLY, **WIDE), silent=UPRIGHT),
    "dovetail-bit": case(chosen(bit="ball 6", **WIDE), silent=chosen(bit="straight 6", **WIDE)),
    "dovetail-slope-changed": case(
        UPRIGHT, chosen(slope=radians(7.9), **WIDE), silent=chosen(tails_setup="flat", **WIDE)
    ),
    "fit-off": case(fitted(0.05), silent=fitted(0.0)),
}
