"""Pictures of clampings against the words of the same clamping: sides, zero, the end that is up, what is cut."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from jigcam.drawing.model import Label, View
from jigcam.geometry import union
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.clamping_picture import clamping_picture
from jigcam.making.made_joint import MadeJoint
from jigcam.workshop.build import plan_job

CARCASE = Path(__file__).parents[2] / "examples" / "music-cabinet" / "carcase.toml"


@pytest.fixture(scope="module")
def corner() -> MadeJoint:
    job = load_job(CARCASE)
    (made,) = plan_job(job, kit_for(job))
    return made


def leftmost(view: View) -> Label:
    return min((label for label in view.labels if "edge" in label.text), key=lambda label: label.x)


def test_sides_as_the_words_say_them(corner: MadeJoint) -> None:
    standing = [setup for setup in corner.plan.setups if setup.clamping == "upright"]
    assert {setup.end for setup in standing} == {"left", "right"}
    for setup in standing:
        front, above = clamping_picture(setup, [f for f in corner.files if f.setup is setup], corner.plan.voice).views
        words = " ".join(setup.hold)
        for view in (front, above):
            assert f"the board's {leftmost(view).text} is then on your left" in words
            assert f"{setup.end} end" in f"{view.caption} {[label.text for label in view.labels]}"
        assert "outside face toward you" in words
        near = min(above.labels, key=lambda label: label.y)
        assert near.text == "outside face, toward you"


def test_zero_is_a_corner_of_the_stock_and_the_backer_behind_it(corner: MadeJoint) -> None:
    for setup in corner.plan.setups:
        if setup.clamping != "upright":
            continue
        above = clamping_picture(setup, [f for f in corner.files if f.setup is setup], corner.plan.voice).views[1]
        stock, backer = (next(item.shape for item in above.items if item.role == role) for role in ("stock", "backer"))
        assert above.axes is not None
        assert above.axes.origin == (0.0, 0.0)
        assert stock.bounds[:2] == pytest.approx((0.0, 0.0), abs=1e-9)
        assert backer.bounds[1] == pytest.approx(stock.bounds[3])


def test_what_the_front_shows_is_what_the_solid_takes(corner: MadeJoint) -> None:
    """Points of the plane just behind the face, asked of the picture and of the solid's own sections."""
    setup = next(setup for setup in corner.plan.setups if setup.clamping == "upright")
    front = clamping_picture(setup, (), corner.plan.voice).views[0]
    shown = union(*(item.shape for item in front.items if item.role == "cut"))
    solids = [waste.must or waste.may for step in setup.steps for waste in step.wastes]
    x, z = np.meshgrid(np.linspace(1.3, setup.stock[0] - 1.3, 60), [-0.9, -4.3, -7.1])
    asked = np.column_stack([x.ravel(), z.ravel()])
    sure = shown.distance(asked) > 0.05
    taken = np.array(
        [any(solid.section(float(v)).contains([(float(u), 1e-3)])[0] for solid in solids) for u, v in asked]
    )
    assert (shown.contains(asked) == taken)[sure].all()
    assert taken.any()
    assert not taken.all()
