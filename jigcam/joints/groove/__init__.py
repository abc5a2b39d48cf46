"""Grooves: stopped or open, square or sloping; dados and housings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.groove.entry import GrooveEntry
from jigcam.joints.groove.groove import groove, guided
from jigcam.joints.groove.rule_table import RULES
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan


def _plan(joint: Groove, entry: GrooveEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.groove.plan import plan_groove

    return plan_groove(joint, entry, job, kit)


ALSO = ("dado", "housing", "housing joint", "housed joint", "trench", "plough", "plow", "slot", "shelf", "stopped dado")
NEAR = (
    "sliding dovetail",
    "dovetail housing",
    "lap",
    "half lap",
    "halving",
    "tongue and groove",
    "bridle",
    "spline",
)

KIND = Kind(GrooveEntry, groove, _plan, starter_in(__name__), RULES, guided=guided, also=ALSO, near=NEAR)
