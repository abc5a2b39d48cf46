"""Sections through what a file cuts, against areas worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest
from support.goldens import assert_as_ever

from jigcam.drawing.scenes import scene_program
from jigcam.drawing.scenes.slice import Plane, Slice, look, slice_of, with_slice
from jigcam.gcode import read
from jigcam.geometry import Path, Region, rectangle
from jigcam.kit import Bit, load_kit
from jigcam.proof import Mark, Proof, Removal, Stock, Target, prove
from jigcam.proof.prove import works_of
from jigcam.proof.sweeps import Work
from jigcam.proof.travel import travel_of

KIT = load_kit("metric-shop")
STRAIGHT = Bit(
    name="straight 6",
    kind="straight",
    diameter=6.0,
    angle=0.0,
    cutting_length=20.0,
    overall_length=50.0,
    shank=6.0,
    flutes=2,
    plunges=True,
)
DOVETAIL = Bit(
    name="dovetail",
    kind="dovetail",
    diameter=12.0,
    angle=float(np.radians(10.0)),
    cutting_length=10.0,
    overall_length=50.0,
    shank=6.0,
    flutes=2,
)
BOARD = Stock.of_size(100.0, 60.0, 18.0)
GROOVE = Target(BOARD, (Removal.prism("groove", rectangle(-20.0, 27.0, 120.0, 33.0), 5.0),), units="mm")
HEAD = "G17 G21 G40 G49 G80 G90 G94 G54 G61\nM3 S16000\n"


def file(y: float, z: float = -5.0) -> str:
    """A pass along X from one side of the board to the other."""
    return f"{HEAD}G0 X-20 Y{y}\nG0 Z5\nG1 Z{z} F300\nG1 X120 F1000\nG0 Z5\nM5\nM30\n"


def works(text: str, bit: Bit) -> Mapping[int, Work]:
    motions = read(text).motions
    return works_of(motions, travel_of(motions), bit, KIT.machine)


def cut_of(text: str, target: Target = GROOVE, bit: Bit = STRAIGHT) -> tuple[Slice, Proof]:
    """The slice where it is most worth looking."""
    proof = prove(text, target, KIT.machine, bit)
    return look(works(text, bit), target, proof.gouges, proof.lefts), proof


def test_a_groove_as_drawn_has_neither_gouge_nor_anything_left() -> None:
    cut, _ = cut_of(file(30.0))
    assert cut.plane.along == "Y"
    assert cut.gouge.is_empty
    assert cut.left.is_empty
    assert cut.cut.area == pytest.approx(6.0 * 5.0, abs=0.02)
    assert cut.cut.bounds == pytest.approx((27.0, -5.0, 33.0, 0.0), abs=2e-3)


@pytest.mark.parametrize("aside", [0.05, 0.3, 1.2])
def test_a_pass_aside_cuts_too_far_on_one_hand_and_leaves_wood_on_the_other(aside: float) -> None:
    cut, proof = cut_of(file(30.0 + aside))
    assert proof.gouges
    assert cut.plane.along == "Y"
    assert cut.gouge.area == pytest.approx(aside * 5.0, rel=0.03)
    assert cut.gouge.bounds == pytest.approx((33.0, -5.0, 33.0 + aside, 0.0), abs=5e-3)
    assert cut.left.area == pytest.approx(aside * 5.0, rel=0.03)
    assert cut.left.bounds == pytest.approx((27.0, -5.0, 27.0 + aside, 0.0), abs=5e-3)


def test_a_pass_too_deep_and_one_too_shallow() -> None:
    deep, _ = cut_of(file(30.0, -5.5))
    assert deep.gouge.area == pytest.approx(6.0 * 0.5, rel=0.02)
    assert deep.left.is_empty
    shallow, _ = cut_of(file(30.0, -4.5))
    assert shallow.left.area == pytest.approx(6.0 * 0.5, rel=0.02)
    assert shallow.gouge.is_empty


def test_a_dovetail_bit_undercuts() -> None:
    neck = 12.0 - 2.0 * 8.0 * np.tan(np.radians(10.0))

    def section(z: float) -> Region:
        half = 6.0 - (z + 8.0) * np.tan(np.radians(10.0))
        return rectangle(-20.0, 30.0 - half, 120.0, 30.0 + half)

    target = Target(BOARD, (Removal("socket", section, (0.0, -8.0), prismatic=False),), units="mm")
    cut, _ = cut_of(file(30.0, -8.0), target, DOVETAIL)
    assert cut.cut.area == pytest.approx((12.0 + neck) / 2.0 * 8.0, rel=2e-3)
    assert cut.gouge.is_empty
    assert cut.left.is_empty


def test_a_rapid_through_the_wood_is_a_gouge_and_removes_nothing_on_purpose() -> None:
    text = f"{HEAD}G0 X-20 Y15\nG0 Z-3\nG0 X120\nG0 Z5\nM5\nM30\n"
    cut = slice_of(works(text, STRAIGHT), GROOVE, Plane("Y", 50.0, 15.0, 0.0, 60.0))
    assert cut.gouge.area == pytest.approx(18.0, rel=0.01)
    assert cut.cut.is_empty
    assert cut.left.area == pytest.approx(30.0, rel=0.01)


def test_an_engraved_mark_is_allowed() -> None:
    mark = Mark((Path.through([(20.0, 30.0), (80.0, 30.0)]),), 6.2, 1.0)
    text = f"{HEAD}G0 X20 Y30\nG0 Z5\nG1 Z-1 F300\nG1 X80 F1000\nG0 Z5\nM5\nM30\n"
    cut, _ = cut_of(text, Target(BOARD, marks=(mark,), units="mm"))
    assert cut.plane.along == "Y"
    assert cut.cut.area == pytest.approx(6.0, rel=0.01)
    assert cut.gouge.is_empty


def test_nothing_cut_leaves_all_that_has_to_go() -> None:
    text = f"{HEAD}G0 Z5\nM5\nM30\n"
    cut = slice_of(works(text, STRAIGHT), GROOVE, Plane("Y", 50.0, 30.0, 10.0, 50.0))
    assert cut.cut.is_empty
    assert cut.left.area == pytest.approx(30.0, rel=0.01)


def test_the_plane_is_marked_from_above_and_the_same_bytes_as_ever() -> None:
    text = file(30.6)
    cut, _ = cut_of(text)
    above = scene_program(read(text), stock=(100.0, 60.0, 18.0), on_sheet=False, title="groove.nc")
    drawing = with_slice(above, cut, GROOVE)
    assert sum(item.role == "plane" for item in drawing.views[0].items) == 2
    assert {"gouge", "left", "target", "stock"} <= {item.role for item in drawing.views[1].items}
    assert_as_ever("slice", drawing)
