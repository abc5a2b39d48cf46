"""Templates for a router with a guide bushing: the sums, the choice of tools, the sheet, its fence and its marks."""

from __future__ import annotations

from jigcam.template.coupon import Coupon, plan_coupon
from jigcam.template.cutters import marker, template_cutter
from jigcam.template.hand import hand_lines
from jigcam.template.inlay import Inlay, rank_inlays
from jigcam.template.marks import ALPHABET, Mark, Stroke, Text, plain
from jigcam.template.opening import RoundedCorner, ride_region, template_opening
from jigcam.template.pairs import Need, Pair, Verdict, judge, rank_pairs
from jigcam.template.plan import TemplatePlan, plan_template
from jigcam.template.screws import SheetHole
from jigcam.template.shared import Neighbours, SharedSheet, Wanted, plan_shared
from jigcam.template.sheet import FenceStrip
from jigcam.template.stack import Stack
from jigcam.template.support import Support, support, supported_fraction
from jigcam.template.tabs import Tab

__all__ = [
    "ALPHABET",
    "Coupon",
    "FenceStrip",
    "Inlay",
    "Mark",
    "Need",
    "Neighbours",
    "Pair",
    "RoundedCorner",
    "SharedSheet",
    "SheetHole",
    "Stack",
    "Stroke",
    "Support",
    "Tab",
    "TemplatePlan",
    "Text",
    "Verdict",
    "Wanted",
    "hand_lines",
    "judge",
    "marker",
    "plain",
    "plan_coupon",
    "plan_shared",
    "plan_template",
    "rank_inlays",
    "rank_pairs",
    "ride_region",
    "support",
    "supported_fraction",
    "template_cutter",
    "template_opening",
]
