"""Corners of direct cuts that are left for the chisel."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest
from support.grooves import groove_job, made

from jigcam.joints.groove.direct import direct_setup
from jigcam.kit import load_kit

KIT = load_kit("metric-shop")
DADO = {"start_point": (100.0, 0.0), "angle": pi / 2, "length": 285.0, "ends": "square"}


def said(bit: str | None = None, **keys: Any) -> list[str]:
    """What is said of corners."""
    (cut,) = made(groove_job(**{**DADO, **keys})).cuts()
    return [finding.says for finding in direct_setup(cut, KIT, bit)[1] if finding.rule == "corners-left"]


@pytest.mark.parametrize("angle", [pi / 2, pi / 3])
def test_corners_that_hang_in_the_air_beyond_an_open_end_are_nobodys(angle: float) -> None:
    length = 285.0 if angle == pi / 2 else 330.0
    assert not said(start="open", finish="open", angle=angle, length=length)
    assert said(start="open", length=150.0, angle=angle)


def test_the_widest_bit_leaves_them_as_the_chisel_comes_anyway() -> None:
    (says,) = said(start="open", length=150.0)
    assert says == (
        "straight 10, the widest that fits, as the chisel comes anyway, leaves corners of 5 mm radius for the chisel "
        "at square ends."
    )
    (named,) = said("straight 6", start="open", length=150.0)
    assert named == "straight 6 leaves corners of 3 mm radius for the chisel at square ends."
