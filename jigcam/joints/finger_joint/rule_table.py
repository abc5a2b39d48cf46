"""Findings that finger joints have and other kinds do not."""

from __future__ import annotations

from jigcam.findings import Rule

RULES = {
    "finger-ends": Rule(
        ("stop",),
        "The two ends cannot meet without turning a face inside out.",
        "Name the end that the finding says.",
    ),
    "finger-widths": Rule(("stop",), "The boards of the corner are not equally wide.", "Plane them to one width."),
    "finger-alone": Rule(("stop",), "One finger takes the whole width.", "Write a narrower finger, or a count."),
    "finger-thin": Rule(("stop",), "A finger is so narrow that it snaps off.", "Take fewer or more even fingers."),
    "finger-last": Rule(
        ("caution",), "The uppermost finger is much narrower than the others.", "Say a count, or another width."
    ),
    "finger-width": Rule(
        ("caution",), "The fingers are narrower or wider than is usual.", "Half of the thinner board, up to all of it."
    ),
    "finger-even": Rule(
        ("note",), "Each board has a finger at one edge.", "An odd count, if one board is to have both."
    ),
    "finger-clearance": Rule(
        ("caution",), "There is no clearance, or so much that a glue line may fail.", "Give each cheek what is usual."
    ),
    "finger-long": Rule(
        ("caution",), "Fingers are long for how thick they are.", "Boards that are nearer to each other in thickness."
    ),
    "finger-vise": Rule(
        ("stop",),
        "The machine cannot hold the board, or the gang of boards, upright.",
        "Gang fewer boards, or cut the joint by hand.",
    ),
}
