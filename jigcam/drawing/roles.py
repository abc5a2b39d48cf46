"""What the parts of a drawing stand for, and the line that stands for each.

Words: a *role* is what a shape means to a maker (board, cut, opening …); a *pen* is how a line of that role is
drawn: its kind of line, its weight, its hatching and its ink. Every renderer draws from this one table, so that a
legend means the same on the screen and on paper. Roles can be told apart without ink: by kind of line, weight and
hatching.

Kinds of line follow the habits of technical drawing as ISO 128-2 sets them out (from memory): continuous wide for
visible edges, dashed narrow for hidden ones, long-dashed dotted for axes, long-dashed double-dotted for parts that
move or lie next to the work, continuous narrow for dimensions and hatching, zigzag for breaks.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Role = Literal[
    "gouge",
    "left",
    "cut",
    "waste",
    "opening",
    "bit",
    "bushing",
    "stock",
    "arris",
    "grain",
    "sheet",
    "blank",
    "fence",
    "backer",
    "free",
    "hole",
    "tab",
    "mark",
    "mate",
    "hidden",
    "behind",
    "scribed",
    "crack",
    "target",
    "parting",
    "break",
    "path-cut",
    "path-rapid",
    "ride",
    "base",
    "centreline",
    "plane",
    "zero",
    "dimension",
    "extension",
]
Line = Literal["solid", "fine", "dashed", "dotted", "chain", "double-chain", "extension"]
Fill = Literal["none", "hatch", "hatch-back", "cross", "stipple", "level", "upright", "solid"]
Weight = Literal["heavy", "wide", "medium", "narrow"]
Tone = Literal["plain", "strong", "faint", "cut", "edge", "tool", "doubt", "fault"]

DASHES: dict[Line, tuple[float, ...]] = {
    "solid": (),
    "fine": (),
    "dashed": (3.0, 1.5),
    "dotted": (0.6, 1.6),
    "chain": (7.0, 1.4, 0.7, 1.4),
    "double-chain": (7.0, 1.4, 0.7, 1.4, 0.7, 1.4),
    "extension": (),
}
"""Lengths drawn and skipped in turn, mm on paper."""

DOT_DASHES: dict[Line, tuple[int, ...]] = {
    "solid": (),
    "fine": (2, 1),
    "dashed": (4, 2),
    "dotted": (1, 2),
    "chain": (6, 2, 1, 2),
    "double-chain": (6, 2, 1, 2, 1, 2),
    "extension": (1, 3),
}
"""The same, in dots of a terminal's picture."""

TONES: dict[Tone, str] = {
    "plain": "",
    "strong": "1",
    "faint": "2",
    "cut": "35",
    "edge": "36",
    "tool": "32",
    "doubt": "31",
    "fault": "1;31",
}
"""How a tone is asked for on a terminal: parameters of SGR (ECMA-48, from memory), "" for the owner's own ink.

Only weights and four of the sixteen colours that a terminal's owner has chosen: the ones that stand out from black and
from white alike. Blue is lost on black, yellow on white, and the bright ones on one of the two.
"""

WIDTHS: dict[Weight, float] = {"heavy": 0.7, "wide": 0.5, "medium": 0.35, "narrow": 0.25}
"""Line widths on paper, mm (four steps of the √2 series of ISO 128-2, from memory)."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How a role is drawn. name: its words in the legend. fill: how a region that is cut through or lies open is
    filled.

    ink: colour on paper, dark enough to print in grey (hex). tone: how it stands out on a terminal.
    """

    name: str
    line: Line
    weight: Weight
    ink: str
    tone: Tone
    fill: Fill = "none"


PENS: dict[Role, Pen] = {
    "gouge": Pen("cut too far", "solid", "wide", "#a3122a", "fault", "solid"),
    "left": Pen("left standing", "solid", "medium", "#8a4b00", "doubt", "cross"),
    "cut": Pen("cut", "solid", "wide", "#7a1f3d", "cut", "hatch"),
    "waste": Pen("waste", "solid", "wide", "#7a1f3d", "cut", "hatch"),
    "opening": Pen("opening in the sheet", "solid", "heavy", "#0b4f6c", "edge"),
    "bit": Pen("bit", "solid", "medium", "#1d3557", "tool", "upright"),
    "bushing": Pen("guide bushing", "solid", "medium", "#6b4e00", "edge", "cross"),
    "stock": Pen("board", "solid", "wide", "#2b2b2b", "plain", "hatch-back"),
    "arris": Pen("edge within its outline", "solid", "narrow", "#2b2b2b", "plain"),
    "grain": Pen("end grain", "solid", "wide", "#2b2b2b", "plain", "stipple"),
    "sheet": Pen("template sheet", "solid", "wide", "#4a3a1a", "plain", "stipple"),
    "blank": Pen("blank as clamped", "double-chain", "narrow", "#4a3a1a", "faint"),
    "fence": Pen("fence", "solid", "medium", "#5b4636", "plain", "level"),
    "backer": Pen("backer of waste wood", "solid", "narrow", "#5b4636", "faint", "level"),
    "free": Pen("keep free", "dashed", "medium", "#a3122a", "doubt", "cross"),
    "hole": Pen("hole", "solid", "medium", "#2b2b2b", "plain"),
    "tab": Pen("tab that holds the piece", "solid", "narrow", "#4a3a1a", "plain", "solid"),
    "mark": Pen("mark on the sheet", "fine", "narrow", "#3d3d5c", "faint"),
    "mate": Pen("board that enters", "double-chain", "narrow", "#2b2b2b", "faint"),
    "hidden": Pen("board beneath", "dashed", "narrow", "#2b2b2b", "faint"),
    "behind": Pen("edge out of sight", "dashed", "narrow", "#2b2b2b", "faint"),
    "scribed": Pen("line to scribe", "fine", "narrow", "#3d3d5c", "faint"),
    "crack": Pen("crack", "dotted", "medium", "#2b2b2b", "doubt"),
    "target": Pen("as it should be", "dashed", "medium", "#7a1f3d", "cut"),
    "parting": Pen("way that boards come apart", "dashed", "narrow", "#0b4f6c", "edge"),
    "break": Pen("goes on beyond here", "solid", "narrow", "#2b2b2b", "faint"),
    "path-cut": Pen("path of the cutter", "solid", "narrow", "#14532d", "tool"),
    "path-rapid": Pen("rapid move, clear of the work", "dotted", "narrow", "#555555", "faint"),
    "ride": Pen("ride of the bushing's centre", "dotted", "medium", "#0b4f6c", "edge"),
    "base": Pen("base of the router", "double-chain", "narrow", "#444444", "faint"),
    "centreline": Pen("centreline", "chain", "narrow", "#7a1f3d", "cut"),
    "plane": Pen("plane of a section", "solid", "wide", "#1a1a1a", "strong"),
    "zero": Pen("zero of the frame", "solid", "medium", "#000000", "strong"),
    "dimension": Pen("dimension", "solid", "narrow", "#1a1a1a", "plain"),
    "extension": Pen("extension of a dimension", "extension", "narrow", "#1a1a1a", "faint"),
}
"""Role → pen. The order is that of the legend; what comes first is also drawn on top of what comes later."""

UNNAMED: frozenset[Role] = frozenset({"arris", "dimension", "extension", "break", "plane"})
"""Roles that explain themselves, and stay out of the legend."""


def order(role: Role) -> int:
    """Place in the legend; the smaller, the further on top."""
    return _ORDER[role]


_ORDER: dict[Role, int] = {role: place for place, role in enumerate(PENS)}
