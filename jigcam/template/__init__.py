"""Templates for a router with a guide bushing: the sums, the choice of tools, the sheet, its fence and its marks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.late import late

if TYPE_CHECKING:
    from jigcam.template.coupon import Coupon as Coupon
    from jigcam.template.coupon import plan_coupon as plan_coupon
    from jigcam.template.cutters import marker as marker
    from jigcam.template.cutters import template_cutter as template_cutter
    from jigcam.template.hand import hand_lines as hand_lines
    from jigcam.template.inlay import Inlay as Inlay
    from jigcam.template.inlay import rank_inlays as rank_inlays
    from jigcam.template.marks import ALPHABET as ALPHABET
    from jigcam.template.marks import Mark as Mark
    from jigcam.template.marks import Stroke as Stroke
    from jigcam.template.marks import Text as Text
    from jigcam.template.marks import plain as plain
    from jigcam.template.opening import RoundedCorner as RoundedCorner
    from jigcam.template.opening import ride_region as ride_region
    from jigcam.template.opening import template_opening as template_opening
    from jigcam.template.pairs import Need as Need
    from jigcam.template.pairs import Pair as Pair
    from jigcam.template.pairs import Verdict as Verdict
    from jigcam.template.pairs import judge as judge
    from jigcam.template.pairs import rank_pairs as rank_pairs
    from jigcam.template.plan import TemplatePlan as TemplatePlan
    from jigcam.template.plan import plan_template as plan_template
    from jigcam.template.screws import SheetHole as SheetHole
    from jigcam.template.shared import Neighbours as Neighbours
    from jigcam.template.shared import SharedSheet as SharedSheet
    from jigcam.template.shared import Wanted as Wanted
    from jigcam.template.shared import plan_shared as plan_shared
    from jigcam.template.sheet import FenceStrip as FenceStrip
    from jigcam.template.stack import Stack as Stack
    from jigcam.template.support import Support as Support
    from jigcam.template.support import supported_fraction as supported_fraction
    from jigcam.template.tabs import Tab as Tab

__getattr__, __dir__ = late(
    __name__,
    {
        "coupon": "Coupon plan_coupon",
        "cutters": "marker template_cutter",
        "hand": "hand_lines",
        "inlay": "Inlay rank_inlays",
        "marks": "ALPHABET Mark Stroke Text plain",
        "opening": "RoundedCorner ride_region template_opening",
        "pairs": "Need Pair Verdict judge rank_pairs",
        "plan": "TemplatePlan plan_template",
        "screws": "SheetHole",
        "shared": "Neighbours SharedSheet Wanted plan_shared",
        "sheet": "FenceStrip",
        "stack": "Stack",
        "support": "Support supported_fraction",
        "tabs": "Tab",
    },
)
