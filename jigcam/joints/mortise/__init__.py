"""Mortises for loose tenons: in a face or an end, in rows, with their mates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.mortise.entry import MateEntry, MortiseEntry
from jigcam.joints.mortise.mortise import mortise
from jigcam.joints.mortise.rule_table import RULES
from jigcam.making.kind import Kind, Sharing, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.kit import Kit
    from jigcam.making.laid_again import Use
    from jigcam.making.opening_plan import OpeningPlan
    from jigcam.making.plan import Plan
    from jigcam.template import TemplatePlan
    from jigcam.wood import Meeting

__all__ = ["KIND", "MateEntry", "MortiseEntry", "mortise"]


def _plan(joint: Mortise, entry: MortiseEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.mortise.plan import plan_mortise

    return plan_mortise(joint, entry, job, kit)


def _meets(joint: Mortise, entry: MortiseEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.joints.mortise.meets import mortise_meets

    return mortise_meets(joint, entry, job)


def _on_sheet(joint: Mortise, entry: MortiseEntry, job: Job, kit: Kit, opening: TemplatePlan) -> OpeningPlan:
    from jigcam.joints.mortise.by_template import mortise_on_sheet

    return mortise_on_sheet(joint, job, kit, opening)


def _again(joint: Mortise) -> tuple[Use, ...]:
    from jigcam.joints.mortise.laying import again_on_sheet

    return again_on_sheet(joint)


ALSO = ("mortice", "loose tenon", "slip tenon", "floating tenon", "loose tongue")
NEAR = ("mortise and tenon", "tenon", "twin mortise", "dowel", "dowels")

SHARING = Sharing(cuts=lambda joint: joint.seen.sound().first.cuts(joint.name)[:1], plan=_on_sheet, again=_again)

KIND = Kind(
    MortiseEntry,
    mortise,
    _plan,
    starter_in(__name__),
    RULES,
    sharing=SHARING,
    meets=_meets,
    also=ALSO,
    near=NEAR,
)
