"""Through dovetails: layout, hand work, solids, how the two boards meet. The ways to cut them wait for a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.through_dovetail.entry import ThroughDovetailEntry
from jigcam.joints.through_dovetail.handwork import HandLayout, hand_layout
from jigcam.joints.through_dovetail.joint import ThroughDovetail, through_dovetail
from jigcam.joints.through_dovetail.layout import Flank, Layout, Strip, even_layout, measured_layout, tail_width
from jigcam.joints.through_dovetail.rule_table import RULES
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan


def _plan(joint: ThroughDovetail, entry: ThroughDovetailEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.through_dovetail.plan import plan_dovetail

    return plan_dovetail(joint, entry, job, kit)


ALSO = ("dovetail", "dovetails", "through dovetails", "dovetail joint", "common dovetail", "carcase dovetail")
NEAR = (
    "half blind dovetail",
    "lapped dovetail",
    "blind dovetail",
    "mitred dovetail",
    "mitered dovetail",
    "box joint",
    "finger joint",
    "comb joint",
)

KIND = Kind(ThroughDovetailEntry, through_dovetail, _plan, starter_in(__name__), RULES, also=ALSO, near=NEAR)

__all__ = [
    "KIND",
    "Flank",
    "HandLayout",
    "Layout",
    "Strip",
    "ThroughDovetail",
    "even_layout",
    "hand_layout",
    "measured_layout",
    "tail_width",
    "through_dovetail",
]
