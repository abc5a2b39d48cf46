"""The wood that two cuts share and the wood between them, against another geometry and sums on paper."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from support.boards import DIVIDER, cut

from jigcam.dovetails.solids import Drafted
from jigcam.geometry import bar, disc, polygon, rectangle, slot
from jigcam.piece.between import Between
from jigcam.piece.body import Body
from jigcam.wood import Taken

LENGTH, WIDTH, THICK = DIVIDER.length, DIVIDER.width, DIVIDER.thickness
places = st.tuples(st.integers(-200, 3200), st.integers(-200, 1100)).map(lambda p: (p[0] / 10, p[1] / 10))
depths = st.integers(10, 160).map(lambda n: n / 10)
faces = st.sampled_from(["outside", "inside"])


@st.composite
def bars(draw: st.DrawFn, name: str) -> tuple[Taken, shapely.Polygon, tuple[float, float]]:
    """A square-ended bar at any angle in either face; and, by another geometry, its plan and depths."""
    (x, y), angle = draw(places), draw(st.integers(0, 359)) * pi / 180.0
    length, width, depth, face = draw(st.integers(20, 250)), draw(st.integers(3, 30)), draw(depths), draw(faces)
    u, v = np.array([cos(angle), sin(angle)]), np.array([-sin(angle), cos(angle)])
    p = np.array([x, y])
    corners = [p - width / 2 * v, p + length * u - width / 2 * v, p + length * u + width / 2 * v, p + width / 2 * v]
    plan = shapely.Polygon(corners)
    if face == "inside":
        plan = shapely.affinity.affine_transform(plan, [-1, 0, 0, 1, LENGTH, 0])
    plan = plan.intersection(shapely.box(0, 0, LENGTH, WIDTH))
    span = (0.0, depth) if face == "outside" else (THICK - depth, THICK)
    return cut(name, bar(p, p + length * u, width), depth, face=face), plan, span


@given(bars("one"), bars("other"))
def test_shared_wood_and_wall_are_those_of_another_geometry(
    one: tuple[Taken, shapely.Polygon, tuple[float, float]], other: tuple[Taken, shapely.Polygon, tuple[float, float]]
) -> None:
    (a, plan_a, (a0, a1)), (b, plan_b, (b0, b1)) = one, other
    bodies = Body(a), Body(b)
    if plan_a.area < 1e-6 or plan_b.area < 1e-6:
        return
    assert bodies[0].volume == pytest.approx(plan_a.area * (a1 - a0), rel=1e-6, abs=1e-3)
    pair = Between(*bodies)
    high = min(a1, b1) - max(a0, b0)
    volume = plan_a.intersection(plan_b).area * max(0.0, high)
    assert pair.volume == pytest.approx(volume, rel=1e-5, abs=2e-3)
    if volume > 1e-2:
        assert pair.web is None
    elif volume == 0.0:
        assert pair.web is not None
        assert pair.web.size == pytest.approx(hypot(plan_a.distance(plan_b), max(0.0, -high)), abs=2e-3)


@pytest.mark.parametrize("gap", [0.4, 3.0, 8.0])
def test_wall_between_round_ends_is_between_their_extremes(gap: float) -> None:
    one = cut("one", slot((40, 45), (100, 45), 12), 6)
    other = cut("other", slot((100 + gap, 45), (180, 45), 12), 6)
    web = Between(Body(one), Body(other)).web
    assert web is not None
    assert web.size == pytest.approx(gap, abs=2e-3)
    assert web.place == pytest.approx((100 + gap / 2, 45), abs=0.5)


def test_wall_to_a_sloping_flank_is_at_its_nearer_end() -> None:
    # 20 from the other at the face, 20 - 6 = 14 at the bottom, at the same depth.
    top = ((40.0, 10.0), (60.0, 10.0), (60.0, 80.0), (40.0, 80.0))
    bottom = ((40.0, 10.0), (66.0, 10.0), (66.0, 80.0), (40.0, 80.0))
    sloping = Taken("one", DIVIDER, "outside", Drafted((top,), (bottom,), 8.0))
    upright = cut("other", rectangle(80, 10, 90, 80), 8.0)
    web = Between(Body(sloping), Body(upright)).web
    assert web is not None
    assert web.size == pytest.approx(14.0, abs=1e-3)
    assert Body(sloping).volume == pytest.approx(70.0 * (20.0 + 26.0) / 2.0 * 8.0)


def test_pointed_walls_have_the_volume_of_a_wedge() -> None:
    # A wedge whose plan closes to a line at the bottom: half the prism.
    top = ((40.0, 10.0), (60.0, 10.0), (60.0, 80.0), (40.0, 80.0))
    bottom = ((49.99, 10.0), (50.01, 10.0), (50.01, 80.0), (49.99, 80.0))
    wedge = Taken("one", DIVIDER, "outside", Drafted((top,), (bottom,), 8.0))
    whole = cut("other", rectangle(0, 0, LENGTH, WIDTH), 8.0)
    assert Between(Body(wedge), Body(whole)).volume == pytest.approx(70.0 * 10.01 * 8.0, rel=1e-6)


def test_ground_between_faces_is_the_board_less_both_depths() -> None:
    one = cut("one", disc(100, 45, 20), 7.0)
    other = cut("other", disc(LENGTH - 110, 45, 20), 8.0, face="inside")
    web = Between(Body(one), Body(other)).web
    assert web is not None
    assert web.behind
    assert web.size == pytest.approx(THICK - 15.0)
    assert np.hypot(web.from_a[:, 0] - 100, web.from_a[:, 1] - 45).max() < 20
    assert np.hypot(web.from_a[:, 0] - 110, web.from_a[:, 1] - 45).max() < 20


def test_what_lies_off_the_board_is_no_wood() -> None:
    one = cut("one", polygon([(-50, 20), (40, 20), (40, 40), (-50, 40)]), 5.0)
    other = cut("other", polygon([(-50, 30), (-1, 30), (-1, 35), (-50, 35)]), 5.0)
    assert Body(one).volume == pytest.approx(40 * 20 * 5)
    assert Body(other).box is None
