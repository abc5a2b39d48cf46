"""Through dovetails: layout, hand work, the ways to cut them, solids, and how the two boards meet."""

from __future__ import annotations

from jigcam.joints.through_dovetail.cuts import EndCut, end_cuts
from jigcam.joints.through_dovetail.handwork import HandLayout, hand_layout
from jigcam.joints.through_dovetail.joint import ThroughDovetail, through_dovetail
from jigcam.joints.through_dovetail.layout import Flank, Layout, Strip, even_layout, measured_layout, tail_width
from jigcam.joints.through_dovetail.plan import DovetailPlan, plan_dovetail
from jigcam.joints.through_dovetail.ways import Way

__all__ = [
    "DovetailPlan",
    "EndCut",
    "Flank",
    "HandLayout",
    "Layout",
    "Strip",
    "ThroughDovetail",
    "Way",
    "end_cuts",
    "even_layout",
    "hand_layout",
    "measured_layout",
    "plan_dovetail",
    "tail_width",
    "through_dovetail",
]
