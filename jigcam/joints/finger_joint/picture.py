"""A finger joint: the outside faces of both boards with their slots, and the corner put together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.drawing import Dimension, Drawing, Item, Label, View
from jigcam.drawing.scenes.board import break_line
from jigcam.geometry import Path, Region, difference, intersection, rectangle, union

if TYPE_CHECKING:
    from jigcam.drawing.model import Spot
    from jigcam.joints.finger_joint.entry import Part
    from jigcam.joints.finger_joint.joint import FingerJoint
    from jigcam.units import Voice
    from jigcam.wood.taken import End

ROOM = 30.0
"""mm of a board that are shown beyond the baseline."""


def scene_fingers(it: FingerJoint, voice: Voice) -> Drawing:
    """Both boards at the first corner, lower edges down, and the corner seen on the outside of `a`."""
    a_end, b_end = it.ends[0]
    facts = [
        ("boards", f"{it.a.name}, {a_end} end; {it.b.name}, {b_end} end"),
        ("fingers", f"{len(it.layout.intervals)}, {voice.rule(it.layout.intervals[0].width)} wide"),
        ("clearance", f"{voice.drawn(it.clearance)} at each cheek"),
    ]
    notes = ("Outside faces, lower edges down; numbers count the fingers of both boards from the lower edge.",)
    row = (_face(it, "a", a_end), _face(it, "b", b_end), _together(it, a_end))
    return Drawing(it.name, (row,), voice.units, tuple(facts), notes)


def _face(it: FingerJoint, part: Part, end: End) -> View:
    """The outside face of one board at its end, which is at the left or at the right as it is on the board."""
    board, deep, width = it.board(part), it.depth(part), it.layout.width
    far = min(deep + ROOM, board.length)
    sign = 1.0 if end == "left" else -1.0

    def box(u0: float, s0: float, u1: float, s1: float) -> Region:
        left, right = sorted((sign * u0, sign * u1))
        return rectangle(left, s0, right, s1)

    wood = box(0.0, 0.0, far, width)
    waste = [intersection(box(0.0, slot.low, deep, slot.high), wood) for slot in it.slots(part)]
    fingers = it.layout.fingers(part)
    items = [
        *(Item("waste", region, True) for region in waste),
        Item("stock", Path.through([(sign * far, 0.0), (0.0, 0.0), (0.0, width), (sign * far, width)])),
        Item("break", break_line((sign * far, 0.0), (sign * far, width), min(5.0, 0.05 * width))),
        Item("scribed", Path.through([(sign * deep, 0.0), (sign * deep, width)])),
    ]
    outward: Spot = end
    inward: Spot = "right" if end == "left" else "left"
    labels = [
        Label(sign * 0.5 * deep, 0.5 * (each.low + each.high), str(each.number), "on", weight=3) for each in fingers
    ]
    labels += [
        Label(0.0, width + 5.0, f"{end} end", outward, weight=4),
        Label(sign * deep, width + 5.0, "baseline", inward, weight=4),
        Label(sign * 0.5 * (deep + far), 0.0, "lower edge", "below", weight=2),
    ]
    one = fingers[0]
    dimensions = [Dimension((0.0, 0.0), (sign * deep, 0.0), -9.0, along="x")]
    dimensions += [Dimension((0.0, one.low), (0.0, one.high), 9.0 * sign, along="y")]
    if it.slots(part):
        slot = it.slots(part)[0]
        dimensions += [Dimension((0.0, slot.low), (0.0, slot.high), 9.0 * sign, along="y")]
    caption = f"outside face of {board.name}, {end} end"
    return View(caption, tuple(items), tuple(labels), tuple(dimensions))


def _together(it: FingerJoint, end: End) -> View:
    """The corner closed, seen square on the outside face of `a`: its fingers, and the end grain of those of `b`."""
    deep, width = it.depth("a"), it.layout.width
    far = min(deep + ROOM, it.a.length)
    sign = 1.0 if end == "left" else -1.0
    low, high = sorted((0.0, sign * deep))
    grain = [rectangle(low, slot.low, high, slot.high) for slot in it.slots("a")]
    cut = [rectangle(low, slot.low, high, slot.high) for slot in it.slots("b")]
    ends = [difference(region, union(*cut)) for region in grain]
    items = [
        *(Item("grain", region, True) for region in ends if not region.is_empty),
        Item("stock", Path.through([(sign * far, 0.0), (0.0, 0.0), (0.0, width), (sign * far, width)])),
        Item("break", break_line((sign * far, 0.0), (sign * far, width), min(5.0, 0.05 * width))),
    ]
    labels = (
        Label(sign * 0.5 * (deep + far), 0.5 * width, it.a.name, "on", weight=3),
        Label(0.0, width + 5.0, f"{end} end", end, weight=4),
        Label(sign * 0.5 * (deep + far), 0.0, "lower edge", "below", weight=2),
    )
    return View(f"put together, outside face of {it.a.name}", tuple(items), labels, minor=True)
