"""Rules of sliding dovetails that no other kind has."""

from __future__ import annotations

import math
from typing import Any

from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.job import Board, Job
from jigcam.joints.sliding_dovetail import SlidingDovetailEntry, sliding_dovetail
from jigcam.kit import Kit, load_kit

STOPPED: dict[str, Any] = {"start_point": (100.0, 15.0), "length": 105.0, "start": "stopped"}
DEGREE = math.pi / 180.0


def _job(width: float, keys: dict[str, Any]) -> tuple[SlidingDovetailEntry, Job]:
    drawn: dict[str, Any] = {"start_point": (100.0, 0.0), "angle": math.pi / 2, "length": 120.0, "depth": 8.0}
    drawn |= {"base": 12.7, "angle_of_flank": 8.0 * DEGREE, **keys}
    entry = SlidingDovetailEntry(
        name="divider", socket="top", face="inside", tail="divider", tail_end="left", **_by_alias(drawn)
    )
    top = Board(name="top", length=300.0, width=width, thickness=20.0)
    divider = Board(name="divider", length=200.0, width=120.0, thickness=18.0)
    boards = {"top": top, "divider": divider}
    return entry, Job(title="Sheet-music cabinet", units="mm", boards=boards, joints=(entry,))


def _by_alias(keys: dict[str, Any]) -> dict[str, Any]:
    return {"from" if key == "start_point" else key: value for key, value in keys.items()}


def drawn(width: float = 120.0, **keys: Any) -> Say:
    """What the trade says of a divider in a top of that width."""

    def findings() -> Findings:
        return sliding_dovetail(*_job(width, keys)).findings

    return said(findings)


def planned(kit: Kit | None = None, **keys: Any) -> Say:
    """What is said with a kit, the metric shop by default."""

    def findings() -> Findings:
        from jigcam.joints.sliding_dovetail.plan import plan_sliding

        entry, job = _job(120.0, keys)
        return plan_sliding(sliding_dovetail(entry, job), entry, job, kit or load_kit("metric-shop")).findings

    return said(findings)


def moved(by: float) -> Say:
    """What the fit says of a socket that its file cuts so far aside, mm."""

    def findings() -> Findings:
        from jigcam.workshop.build import plan_job

        _, job = _job(120.0, {})
        (joint,) = plan_job(job, load_kit("metric-shop"))
        texts = {
            name: text.replace("X100.0000", f"X{100.0 + by:.4f}") if name.endswith("02-socket.nc") else text
            for name, text in joint.texts.items()
        }
        return joint.judged(texts).findings

    return said(findings)


def _without(*names: str) -> Kit:
    """The metric shop without some of its bits."""
    kit = load_kit("metric-shop")
    return kit.model_copy(update={"bits": tuple(bit for bit in kit.bits if bit.name not in names)})


def _low_vise() -> Kit:
    """The metric shop without anything to hold a board upright."""
    kit = load_kit("metric-shop")
    return kit.model_copy(update={"machine": kit.the_machine.model_copy(update={"upright": None})})


NARROW: dict[str, Any] = {"base": 6.35, "depth": 6.0, "angle_of_flank": 7.0 * DEGREE}

SLIDING_DOVETAILS: dict[str, Case] = {
    "sliding-extended": case(drawn(length=119.4), silent=drawn(length=119.6)),
    "sliding-shallow": case(drawn(depth=6.6), silent=drawn(depth=6.7)),
    "sliding-neck": case(drawn(base=4.0), drawn(base=8.0), silent=drawn(base=8.3)),
    "sliding-shoulder": case(drawn(base=18.1), drawn(base=17.5), silent=drawn(base=18.0)),
    "sliding-notch": case(drawn(**STOPPED), silent=drawn()),
    "sliding-edges": case(drawn(121.0, length=121.0), silent=drawn()),
    "sliding-taper": case(drawn(base=17.0, taper=1.4), silent=drawn(base=17.0, taper=1.3)),
    "sliding-clearance": case(drawn(clearance=0.0), drawn(clearance=0.13), silent=drawn(clearance=0.12)),
    "sliding-slope": case(
        planned(angle_of_flank=9.5 * DEGREE), planned(angle_of_flank=8.13 * DEGREE), silent=planned()
    ),
    "sliding-preclear": case(planned(_without("straight 3"), **NARROW), planned(), silent=planned(preclear=False)),
    "sliding-tail": case(planned(_low_vise()), silent=planned(_low_vise(), tail_way="hand")),
    "sliding-template": case(planned(way="template"), silent=planned(way="template", base=12.8)),
    "sliding-fit-off": case(moved(0.04), silent=moved(0.0)),
}
