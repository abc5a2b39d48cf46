"""Small G-code files written by hand for the tests of the proof, with their drawings in plain numbers.

They share nothing with the planner: each is a few lines of text, and beside it what it is meant to cut.
"""

from __future__ import annotations

from dataclasses import dataclass, field

HEAD = ("G17", "G21", "G40 G49 G80 G90 G94 G54 G61", "G0 Z5.")
TAIL = ("G0 Z5.", "M5", "M30")


@dataclass(frozen=True)
class HandFile:
    """A text, the stock (width, height, thickness), the bit by its name in the inch shop, and free ground: rectangles
    (x0, y0, x1, y1) where it does not matter what is cut."""

    name: str
    text: str
    stock: tuple[float, float, float]
    bit: str
    free: tuple[tuple[float, float, float, float], ...] = field(default=())


def file_of(*lines: str, rpm: int = 16000) -> str:
    """Head, spindle on, lines, tail."""
    return "\n".join([*HEAD, f"S{rpm} M3", *lines, *TAIL, ""])


def slot_loop(half: float, radius: float, x0: float, x1: float, y: float, z: float, feed: int = 1000) -> list[str]:
    """One round inside a slot of half width `half` along x whose extreme ends are x0 and x1, after a ramp to z."""
    o = half - radius
    a, b = x0 + half, x1 - half
    return [
        f"G1 X{b:.4f} Y{y - o:.4f} Z{z:.4f} F{feed}",
        f"G3 X{b:.4f} Y{y + o:.4f} I0. J{o:.4f}",
        f"G1 X{a:.4f}",
        f"G3 X{a:.4f} Y{y - o:.4f} I0. J{-o:.4f}",
        f"G1 X{b:.4f}",
        f"G3 X{b:.4f} Y{y + o:.4f} I0. J{o:.4f}",
        f"G1 X{a:.4f}",
        f"G3 X{a:.4f} Y{y - o:.4f} I0. J{-o:.4f}",
    ]


def slot_file() -> HandFile:
    """A round-ended slot 12 wide and 6 deep in two passes with a bit of 6.35."""
    x0, x1, y, half, radius = 20.0, 120.0, 30.0, 6.0, 3.175
    lines = [f"G0 X{x0 + half:.4f} Y{y - (half - radius):.4f}", "G0 Z1.", "G1 Z0. F400"]
    lines += slot_loop(half, radius, x0, x1, y, -3.0) + slot_loop(half, radius, x0, x1, y, -6.0)
    return HandFile("slot", file_of(*lines), (150.0, 60.0, 12.7), "straight 1/4")


def pocket_file() -> HandFile:
    """A rectangle 40 × 25, 5 deep, with a bit of 3.175: back and forth, then once round; two passes, a lift between."""
    x0, y0, x1, y1, r = 10.0, 10.0, 50.0, 35.0, 1.5875
    a, b, c, d = x0 + r, y0 + r, x1 - r, y1 - r
    lines: list[str] = []
    for z in (-2.5, -5.0):
        lines += [f"G0 X{a:.4f} Y{b:.4f}", f"G0 Z{z + 3.0:.4f}", f"G1 X{c:.4f} Z{z:.4f} F600", f"X{a:.4f}"]
        y, at_left = b, True
        while y < d - 1e-6:
            y = min(y + 2.0, d)
            lines += [f"Y{y:.4f}", f"X{c if at_left else a:.4f}"]
            at_left = not at_left
        lines += [f"X{a:.4f}", f"Y{b:.4f}", f"X{c:.4f}", f"Y{d:.4f}", f"X{a:.4f}", "G0 Z5."]
    return HandFile("pocket", file_of(*lines), (60.0, 45.0, 12.0), "straight 1/8")


def sheet_file() -> HandFile:
    """A sheet 80 × 50 cut out of a blank with a bit of 6.35, clockwise, four tabs 8 long and 3 high, and two holes."""
    r, t = 3.175, 12.7
    x0, y0, x1, y1 = 15.0, 15.0, 95.0, 65.0
    a, b, c, d = x0 - r, y0 - r, x1 + r, y1 + r
    lines: list[str] = []
    for x in (30.0, 80.0):
        lines += [f"G0 X{x - 1.0:.4f} Y40.", "G0 Z1.", "G1 Z0. F300"]
        for z in (-3.0, -6.0, -9.0, -12.0, -13.0):
            lines += [f"G3 X{x + 1.0:.4f} Y40. Z{z + 1.5:.4f} I1. J0. F600"]
            lines += [f"G3 X{x - 1.0:.4f} Y40. Z{z:.4f} I-1. J0."]
        lines += [f"G3 X{x + 1.0:.4f} I1. J0.", f"G3 X{x - 1.0:.4f} I-1. J0.", "G0 Z5."]
    lines += [f"G0 X{a:.4f} Y{b:.4f}", "G0 Z1.", "G1 Z0. F300"]
    for z in (-3.0, -6.0, -9.0):
        lines += [f"Y{d:.4f} Z{z:.4f} F900", f"X{c:.4f}", f"Y{b:.4f}", f"X{a:.4f}", f"Y{d:.4f}", f"X{c:.4f}"]
        lines += [f"Y{b:.4f}", f"X{a:.4f}"]
    # Round once more through the bottom, lifting over each tab; its length is what stands between two plunges.
    lines.append("Z-13. F300")
    reach = 4.0 + r
    for axis, start, end in (("Y", b, d), ("X", a, c), ("Y", d, b), ("X", c, a)):
        middle, step = (start + end) / 2.0, 1.0 if end > start else -1.0
        lines += [
            f"{axis}{middle - step * reach:.4f} F900",
            "Z-9.7",
            f"{axis}{middle + step * reach:.4f}",
            "Z-13. F300",
            f"{axis}{end:.4f} F900",
        ]
    lines.append("G0 Z5.")
    # What is outside the sheet and more than a kerf of 1 mm away from it is waste.
    w, h = 110.0, 80.0
    free = ((0.0, 0.0, w, y0 - 1.0), (0.0, y1 + 1.0, w, h), (0.0, 0.0, x0 - 1.0, h), (x1 + 1.0, 0.0, w, h))
    return HandFile("sheet", file_of(*lines), (w, h, t), "straight 1/4", free)


def marks_file() -> HandFile:
    """A cross and an arc engraved 0.8 deep with a vee of 60°."""
    lines = [
        "G0 X10. Y10.",
        "G0 Z1.",
        "G1 Z-0.8 F200",
        "X40. Y25. F800",
        "G0 Z1.",
        "G0 X10. Y25.",
        "G1 Z-0.8 F200",
        "X40. Y10. F800",
        "G0 Z5.",
        "G0 X45. Y10.",
        "G0 Z1.",
        "G1 Z-0.8 F200",
        "G2 X45. Y26. I4. J8. F800",
    ]
    return HandFile("marks", file_of(*lines), (70.0, 40.0, 12.0), "vee 60")


def inch_file() -> HandFile:
    """A groove one bit wide, 1/4 deep, in inches, from the left edge of the board, in two ramped passes."""
    lines = [
        "G0 X-0.3 Y1.5",
        "G0 Z0.04",
        "G1 Z-0.125 F20.",
        "X2.5 F60.",
        "X-0.3",
        "Z-0.25 F20.",
        "X2.5 F60.",
        "G0 Z0.2",
    ]
    text = file_of(*lines).replace("G21", "G20").replace("Z5.", "Z0.2")
    return HandFile("inch groove", text, (101.6, 76.2, 19.05), "straight 1/2")


def hand_files() -> tuple[HandFile, ...]:
    """All of them."""
    return slot_file(), pocket_file(), sheet_file(), marks_file(), inch_file()
