"""Pictures of clampings against the words of the same clamping: sides, zero, the end that is up, what is cut."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from jigcam.drawing.model import Label, View
from jigcam.drawing.sized import fitted
from jigcam.geometry import union
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.blocks import Points, Rows
from jigcam.making.clamping_picture import clamping_picture
from jigcam.making.made_joint import MadeJoint
from jigcam.making.setup_sheet import sheet_of
from jigcam.making.words import setup_words
from jigcam.units.setting import Known
from jigcam.workshop.build import build_job, plan_job

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


@pytest.fixture(scope="module")
def cabinet() -> list[MadeJoint]:
    """Tails into a lapped front, a sliding tail, and grooves for both hands."""
    job = load_job(CARCASE.with_name("cabinet.toml"))
    some = tuple(each for each in job.joints if each.name in ("drawer front, left", "divider", "trays"))
    job = job.model_copy(update={"joints": some})
    return plan_job(job, kit_for(job))


def test_the_backer_is_drawn_where_the_words_have_it_and_nowhere_else(cabinet: list[MadeJoint]) -> None:
    """A backer behind sockets that the bit enters from behind would be run into."""
    seen = set()
    for made in cabinet:
        for setup in made.plan.setups:
            if setup.clamping != "upright":
                continue
            words = " ".join(setup.hold)
            front, above = clamping_picture(setup, [f for f in made.files if f.setup is setup], made.plan.voice).views
            stock = next(item.shape.bounds for item in above.items if item.role == "stock")
            drawn = [item.shape.bounds for item in above.items if item.role == "backer"]
            if "Clamp a backer" not in words:
                assert "keep clamps and backers away from the far side" in words
                assert not drawn
                (free,) = (item.shape.bounds for item in above.items if item.role == "free")
                assert free[:3] == pytest.approx((stock[0], stock[3], stock[2]))
                assert f"far side, {made.plan.voice.at_least(free[3] - free[1])} and more" in words
                assert any(each.text.startswith("keep free") for each in above.labels)
                assert "backer" not in front.caption
                seen.add("none")
                continue
            ((x0, y0, x1, y1),) = drawn
            if "behind the inside face" in words:
                assert (x0, y0, x1) == pytest.approx((stock[0], stock[3], stock[2]))
                assert "behind it" in front.caption
                seen.add("behind")
                continue
            at_left = "against the lower edge" in words if setup.end == "left" else "against the upper edge" in words
            assert (x1, x0)[not at_left] == pytest.approx(stock[0] if at_left else stock[2])
            assert (y0, y1) == pytest.approx((stock[1], stock[3]))
            assert f"its backer at the {'lower' if 'against the lower' in words else 'upper'} edge" in front.caption
            assert any(item.role == "backer" for item in front.items)
            seen.add("edge")
    assert seen == {"none", "behind", "edge"}


def test_the_front_shows_no_wood_that_is_not_there(cabinet: list[MadeJoint]) -> None:
    for made in cabinet:
        for setup in made.plan.setups:
            if setup.clamping == "upright":
                front = clamping_picture(setup, (), made.plan.voice).views[0]
                x0, _, x1, _ = setup.box
                for item in front.items:
                    if item.role == "cut":
                        assert x0 - 1e-6 <= item.shape.bounds[0] < item.shape.bounds[2] <= x1 + 1e-6
                        assert item.shape.bounds[3] <= 1e-6


@pytest.mark.parametrize("high", [32.0, 44.0, 80.0])
def test_what_is_toward_you_stands_below_on_the_page(cabinet: list[MadeJoint], high: float) -> None:
    """However small the picture is: above, it would name the face that is away."""
    for made in cabinet:
        for setup in made.plan.setups:
            picture = clamping_picture(setup, (), made.plan.voice)
            for view in picture.views:
                scale, ink = fitted(view, picture, 82.0, high)
                (near,) = (each for each in ink.words if "toward you" in each.text)
                stock = min(item.shape.bounds[1] for item in view.items if item.role == "stock")
                assert near.y < scale * stock


def test_zero_of_the_drawn_groove_is_that_of_its_file(cabinet: list[MadeJoint]) -> None:
    (trays,) = (made for made in cabinet if made.name == "trays")
    faces = [view for view in trays.plan.drawings()["groove"].views if not view.minor]
    assert {setup.hand for setup in trays.plan.setups} == {"as drawn", "opposite"}
    for setup, view in zip(trays.plan.setups, faces, strict=True):
        assert setup.hand in view.caption
        assert view.axes is not None
        (x, y) = view.axes.origin or (None, None)
        assert (x, y) == pytest.approx((-setup.placement[0][2], -setup.placement[1][2]))
        # The same figure for both hands, each from the end that its file is written from.
        along = next(each for each in view.dimensions if each.along == "x")
        assert along.figure("in").startswith("8-1/2 in")


def test_what_is_done_alike_in_several_grooves_is_told_once(cabinet: list[MadeJoint]) -> None:
    (trays,) = (made for made in cabinet if made.name == "trays")
    setup = trays.plan.setups[0]
    files = [file for file in trays.files if file.setup is setup]
    blocks = setup_words(1, setup, files, trays.plan.kit, trays.plan.voice)
    cuts = [value for each in blocks if isinstance(each, Rows) for name, value in each.rows if name == "cuts"]
    assert len(cuts) == 8
    assert sum("so that no pass breaks out" in each for each in cuts) == 1
    assert [each for each in cuts if each.startswith("groove 3")] == [
        each.replace("groove 2", "groove 3") for each in cuts if each.startswith("groove 2")
    ]
    assert all(each.endswith("As in groove 1 of 4.") for each in cuts[2:])


def test_what_to_watch_is_read_before_the_cut_that_it_is_about() -> None:
    job = load_job(CARCASE)
    built = build_job(job, kit_for(job))
    (made,), (proof,) = built.joints, built.proofs
    topics = [part.topic for part in sheet_of(made, proof, built).parts]
    assert topics.index("joint") < topics.index("watch") < topics.index("clamping")
    (points,) = (block for block in made.plan.bench_words(9) if isinstance(block, Points) and len(block.sentences) > 3)
    # What nobody does has no box.
    assert isinstance(points.sentences[-1], Known)
    assert "errors do not add up" in points.sentences[-1]
