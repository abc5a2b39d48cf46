"""Scenes of the music cabinet for tests: the tilted shelf's groove, its template, and a short file."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigcam.drawing import Drawing
from jigcam.drawing.scenes import Flaw, scene_program, scene_section, scene_template
from jigcam.gcode import read
from jigcam.geometry import Path, Region, bar, slot
from jigcam.job import Board
from jigcam.joints.groove.picture import scene_groove
from jigcam.kit import load_kit
from jigcam.template import TemplatePlan, plan_template
from jigcam.wood.solid import Cut, Prism

SIDE = Board(name="side", length=558.8, width=285.75, thickness=23.8125)

FILE = """\
(template for the tilted shelf)
G17 G21 G40 G49 G80 G90 G94 G54 G61
M3 S16000
(screw holes)
G0 X20 Y20
G0 Z5
G1 Z-12.7 F300
G2 X22 Y20 I1 J0 F500
G2 X20 Y20 I-1 J0
G0 Z5
G0 X260 Y20
G1 Z-12.7 F300
G2 X260 Y20 I1 J0 F500
G0 Z5
(opening)
G0 X60 Y90
G1 Z-6 F300
G1 X220 Y124 F1000
G3 X216 Y143 I-2 J9.5
G1 X56 Y109
G3 X60 Y90 I2 J-9.5
G1 Z-12.7 F300
G1 X220 Y124 F1000
G3 X216 Y143 I-2 J9.5
G1 X56 Y109
G3 X60 Y90 I2 J-9.5
G0 Z5
(outline)
G0 X10 Y10
G1 Z-12.7 F300
G1 X290 Y10 F1000
G1 X290 Y200
G1 X10 Y200
G1 X10 Y10
G0 Z5
M5
M30
"""


@dataclass(frozen=True)
class Shelf:
    """The board that enters."""

    board: str = "shelf"
    thickness: float = 12.7


def groove_cut(
    angle_deg: float = 78.0,
    start: tuple[float, float] = (101.6, 38.1),
    length: float = 203.2,
    board: Board = SIDE,
    face: str = "inside",
    *,
    width: float = 12.8524,
    depth: float = 7.9375,
    open_start: bool = False,
    open_finish: bool = False,
    round_ends: bool = True,
    hand: str = "as drawn",
) -> Cut:
    """A groove's cut; open ends run 30 mm on."""
    way = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))

    def at(s: float) -> tuple[float, float]:
        return start[0] + s * way[0], start[1] + s * way[1]

    shape = slot if round_ends else bar
    region: Region = shape(at(-30.0 if open_start else 0.0), at(length + (30.0 if open_finish else 0.0)), width)
    return Cut(
        "tilted shelf",
        board,
        face,
        hand,
        Prism(region, depth),
        Path.through([at(0.0), at(length)]),
        width,
        open_start,
        open_finish,
    )


def template_plan() -> TemplatePlan:
    """For the tilted shelf, with the shipped tools."""
    return plan_template(groove_cut(), load_kit("inch-shop"), both_hands=True)


def groove_scene() -> Drawing:
    """The groove, its section and its opposite."""
    return scene_groove([groove_cut(), groove_cut(102.0, (457.2, 38.1), hand="opposite")], units="in", mate=Shelf())


def template_scene() -> Drawing:
    """The template on the board."""
    return scene_template(template_plan(), units="in", base_radius=76.2)


def section_scene() -> Drawing:
    """The stack of lengths."""
    return scene_section(template_plan(), units="in")


def program_scene() -> Drawing:
    """A short file, with one place where it cuts too far."""
    return scene_program(
        read(FILE),
        stock=(300.0, 210.0, 12.7),
        title="template.nc",
        targets=[("target", slot((45, 95), (235, 138), 25))],
        places=[Flaw(140, 107, "0.12 mm too far")],
    )
