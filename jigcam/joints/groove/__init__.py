"""Grooves: stopped or open, square or sloping; dados and housings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.groove.entry import GrooveEntry
from jigcam.joints.groove.groove import groove, guided
from jigcam.joints.groove.rule_table import RULES
from jigcam.making.kind import Kind, Sharing, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.laid_again import Use
    from jigcam.making.opening_plan import OpeningPlan
    from jigcam.making.plan import Plan
    from jigcam.template import TemplatePlan
    from jigcam.wood import Meeting


def _plan(joint: Groove, entry: GrooveEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.groove.plan import plan_groove

    return plan_groove(joint, entry, job, kit)


def _on_sheet(joint: Groove, entry: GrooveEntry, job: Job, kit: Kit, opening: TemplatePlan) -> OpeningPlan:
    from jigcam.joints.groove.by_template import groove_on_sheet

    return groove_on_sheet(joint, job, kit, opening)


def _meets(joint: Groove, entry: GrooveEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.joints.groove.meets import groove_meets

    return groove_meets(joint, entry, job)


def _again(joint: Groove) -> tuple[Use, ...]:
    from jigcam.joints.groove.by_template import again_on_sheet

    return again_on_sheet(joint)


ALSO = ("dado", "housing", "housing joint", "housed joint", "trench", "plough", "plow", "slot", "shelf", "stopped dado")
NEAR = (
    "lap",
    "half lap",
    "halving",
    "tongue and groove",
    "bridle",
    "spline",
)

SHARING = Sharing(cuts=lambda joint: joint.cuts(), plan=_on_sheet, again=_again)

KIND = Kind(
    GrooveEntry,
    groove,
    _plan,
    starter_in(__name__),
    RULES,
    guided=guided,
    sharing=SHARING,
    meets=_meets,
    also=ALSO,
    near=NEAR,
)
