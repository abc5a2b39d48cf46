"""The wood that a through dovetail takes: volumes, sections against a second geometry, frames, corners."""

from __future__ import annotations

from itertools import product
from math import isclose, pi, radians, sin, tan

import numpy as np
import pyclipper
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.dovetails import layouts
from support.regions import SCALE, assert_regions_equal, assert_valid, clipper_paths

from jigcam.dovetails import Layout, even_layout
from jigcam.dovetails import solids as shapes
from jigcam.dovetails.corners import Opened, Relieved, inside_corners
from jigcam.geometry import Region, difference, disc, intersection, opening, rectangle
from jigcam.wood.solid import Solid

PIN_LENGTH = 19.0
"""Length of the pins in these tests, mm: the tail board's thickness, less a rabbet if there is one."""
LENGTH, BOARD = 20.0, 400.0
LAYOUT = even_layout(150.0, LENGTH, 3, 9.0, 7.0, radians(8))

clearances = st.sampled_from([0.0, 0.05, 0.2])
pares = st.sampled_from([0.0, 0.4])


def volume(solid: Solid, box: Region) -> float:
    """Of a solid within a box, mm³. Sections are at most quadratic in z between levels: Simpson's rule is exact."""
    total = 0.0
    for top, bottom in zip(solid.levels(), solid.levels()[1:], strict=False):
        at = [intersection(solid.section(z), box).area for z in (top, (top + bottom) / 2.0, bottom)]
        total += (top - bottom) * (at[0] + 4.0 * at[1] + at[2]) / 6.0
    return total


@settings(max_examples=25)
@given(layouts(), clearances)
def test_tails_pins_and_gaps_fill_the_corner(layout: Layout, clearance: float) -> None:
    """3-D: what is left of both boards, and the gaps between them, is the corner's block, whichever way each is cut."""
    width, length = layout.width, layout.length
    block = width * length * PIN_LENGTH
    gap_area = sum(
        (socket.end_width - tail.end_width + socket.base_width - tail.base_width) / 2.0 * length
        for socket, tail in zip(layout.sockets(clearance), layout.tails, strict=True)
    )
    upright, face = rectangle(0, 0, width, PIN_LENGTH), rectangle(0, 0, BOARD, width)
    tails = [
        volume(shapes.tails_upright(layout, PIN_LENGTH, 0.0), upright),
        volume(shapes.tails_flat(layout, PIN_LENGTH, 0.0, end="left", face="outside", board_length=BOARD), face),
    ]
    pins = [
        volume(shapes.pins_upright(layout, clearance, PIN_LENGTH, 0.0), rectangle(0, 0, width, length)),
        volume(shapes.pins_flat(layout, clearance, PIN_LENGTH, 0.0, end="right", board_length=BOARD), face),
    ]
    for tails_gone, pins_gone in product(tails, pins):
        left = (block - tails_gone) + (block - pins_gone) + gap_area * PIN_LENGTH
        assert left == pytest.approx(block, rel=1e-9)


@given(layouts(), clearances, pares)
def test_no_place_is_both_tail_and_pin(layout: Layout, clearance: float, pare: float) -> None:
    """Without paring, wood of the one board is never wood of the other; what is pared overlaps by twice the shaving."""
    tails = shapes.tails_flat(layout, PIN_LENGTH, pare, end="left", face="outside", board_length=BOARD).section(-1.0)
    pins = shapes.pins_upright(layout, clearance, PIN_LENGTH, pare).section(-1.0)
    corner = rectangle(0.0, 0.0, layout.length - pare, layout.width)
    turned = pins.transformed(np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0]]))
    overlap = difference(difference(corner, tails), turned)
    flanks = sum(
        np.hypot(flank.base - flank.end, layout.length) for tail in layout.tails for flank in (tail.lower, tail.upper)
    )
    assert overlap.area <= max(0.0, 2.0 * pare - clearance) * flanks * 1.001 + 1e-6


@given(layouts(), pares, st.floats(0.0, 1.0))
def test_sections_against_a_second_geometry(layout: Layout, pare: float, share: float) -> None:
    """The waste between tails is the board less the tails, each a quadrilateral, by pyclipper."""
    solid = shapes.tails_flat(layout, PIN_LENGTH, pare, end="left", face="outside", board_length=BOARD)
    got = intersection(solid.section(-share * PIN_LENGTH), rectangle(0.0, 0.0, layout.length - pare, layout.width))
    work = pyclipper.Pyclipper()
    reach = layout.length - pare
    block = [(0, 0), (reach, 0), (reach, layout.width), (0, layout.width)]
    work.AddPath(pyclipper.scale_to_clipper(block, SCALE), pyclipper.PT_SUBJECT, True)
    for tail in layout.tails:
        wide, at = tail.grown(pare, layout.length), reach / layout.length
        quad = [(0, wide.lower.end), (reach, wide.lower.at(at)), (reach, wide.upper.at(at)), (0, wide.upper.end)]
        work.AddPath(pyclipper.scale_to_clipper(quad, SCALE), pyclipper.PT_CLIP, True)
    wanted = work.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    other = pyclipper.Pyclipper()
    for paths, role in ((wanted, pyclipper.PT_SUBJECT), (clipper_paths(got), pyclipper.PT_CLIP)):
        other.AddPaths(paths, role, True)
    odd = other.Execute(pyclipper.CT_XOR, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    assert sum(abs(pyclipper.Area(path)) for path in odd) / SCALE**2 < 1e-3


@given(layouts(), clearances, pares, st.floats(0.0, 1.0))
def test_every_section_is_valid_and_within_its_depth(
    layout: Layout, clearance: float, pare: float, share: float
) -> None:
    # A shaving that closes a socket or a space is refused: see `rules`.
    assume(all(strip.least_width > 0.0 for strip in layout.sockets(clearance - pare)))
    assume(all(space.grown(-pare, layout.length).least_width > 0.0 for space in layout.spaces))
    for solid in every_solid(layout, clearance, pare):
        assert_valid(solid.section(-share * solid.depth))
        assert solid.section(0.001).is_empty
        assert solid.section(-solid.depth - 0.001).is_empty


def every_solid(layout: Layout, clearance: float, pare: float) -> list[Solid]:
    end: dict[str, object] = {"end": "left", "board_length": BOARD}
    return [
        shapes.tails_upright(layout, 24.0, pare),
        shapes.tails_flat(layout, 24.0, pare, face="inside", **end),
        shapes.pins_upright(layout, clearance, PIN_LENGTH, pare),
        shapes.pins_flat(layout, clearance, PIN_LENGTH, pare, **end),
        shapes.pins_inside(layout, clearance, PIN_LENGTH, pare, depth=3.0, **end),
        shapes.rabbet(layout, 2.0, **end),
    ]


@settings(max_examples=25)
@given(layouts(), clearances)
def test_which_way_walls_lean(layout: Layout, clearance: float) -> None:
    """Tails are widest at the end: upright their spaces widen with depth; pin sockets lying flat narrow with depth."""
    tails, pins = (
        shapes.tails_upright(layout, 24.0, 0.0),
        shapes.pins_flat(layout, clearance, PIN_LENGTH, 0.0, end="left", board_length=BOARD),
    )
    top, bottom = (intersection(tails.section(-d), rectangle(0, 0, layout.width, 24)).area for d in (0.0, tails.depth))
    assert top < bottom
    top, bottom = (intersection(pins.section(-d), rectangle(0, 0, BOARD, layout.width)).area for d in (0.0, pins.depth))
    assert top > bottom


@pytest.mark.parametrize("face", ["outside", "inside"])
def test_the_other_end_is_the_mirror_image(face: str) -> None:
    left = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="left", face=face, board_length=BOARD).section(0.0)
    right = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="right", face=face, board_length=BOARD).section(0.0)
    assert_regions_equal(left.transformed(np.array([[-1.0, 0.0, BOARD], [0.0, 1.0, 0.0]])), right)
    # Seen from the inside, the left end is on the right.
    assert (left.bounds[0] < 0.0) == (face == "outside")


def test_from_both_faces_the_same_wood_goes() -> None:
    outside = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="left", face="outside", board_length=BOARD).section(0.0)
    inside = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="left", face="inside", board_length=BOARD).section(0.0)
    assert_regions_equal(outside.transformed(np.array([[-1.0, 0.0, BOARD], [0.0, 1.0, 0.0]])), inside)


def test_pare_leaves_a_shaving_on_walls_and_baseline() -> None:
    whole = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="left", face="outside", board_length=BOARD).section(0.0)
    pared = shapes.tails_flat(LAYOUT, 5.0, 0.5, end="left", face="outside", board_length=BOARD).section(0.0)
    board = rectangle(0.0, 0.0, BOARD, LAYOUT.width)
    points = np.vstack([loop.points() for loop in intersection(pared, board).loops])
    inner = points[(points[:, 0] > 0.01) & (points[:, 1] > 0.01) & (points[:, 1] < LAYOUT.width - 0.01)]
    assert whole.signed_distance(inner) == pytest.approx(0.5, abs=1e-9)
    assert shapes.pins_upright(LAYOUT, 0.05, PIN_LENGTH, 0.5).depth == PIN_LENGTH - 0.5
    assert shapes.tails_upright(LAYOUT, 24.0, 0.5).depth == LENGTH - 0.5


def test_the_rabbet_is_on_the_inside_over_the_tails_and_is_not_pared() -> None:
    solid = shapes.rabbet(LAYOUT, 2.0, end="left", board_length=BOARD)
    on_board = intersection(solid.section(-2.0), rectangle(0.0, 0.0, BOARD, LAYOUT.width))
    assert on_board.bounds == pytest.approx((BOARD - LENGTH, 0.0, BOARD, LAYOUT.width))
    assert solid.levels() == (0.0, -2.0)


@pytest.mark.parametrize("radius", [2.0, 3.175])
def test_corners_that_a_round_bit_leaves(radius: float) -> None:
    whole = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="left", face="outside", board_length=BOARD)
    corners = inside_corners(whole, BOARD, LAYOUT.width)
    assert len(corners) == 2 * 3
    half = (pi / 2.0 - radians(8)) / 2.0
    assert all(isclose(corner.half_angle, half) for corner in corners)
    # Area between a corner of angle 2h and the round in it: r² (1/tan h − (π/2 − h)) (derived).
    board = rectangle(0.0, 0.0, BOARD, LAYOUT.width)
    left = intersection(difference(whole.section(-1.0), Opened(whole, radius).section(-1.0)), board).area
    assert left == pytest.approx(6 * radius**2 * (1.0 / tan(half) - (pi / 2.0 - half)), rel=1e-6)


def test_relieved_corners_are_free_and_the_walls_stay() -> None:
    radius = 3.0
    whole = shapes.tails_flat(LAYOUT, 5.0, 0.0, end="left", face="outside", board_length=BOARD)
    corners = inside_corners(whole, BOARD, LAYOUT.width)
    relieved = Relieved(whole, radius, corners).section(-1.0)
    # All of the drawing is within reach of the bit now, and nothing is taken further than the round needs.
    board = rectangle(0.0, 0.0, BOARD, LAYOUT.width)
    reached = opening(relieved, radius - 1e-3)
    assert intersection(difference(whole.section(-1.0), reached), board).area < 1e-4
    extra = difference(relieved, whole.section(-1.0))
    assert extra.area > 0.0
    places = np.array([corner.top for corner in corners])
    near = np.vstack([loop.points() for loop in extra.loops])
    far = np.min(np.hypot(*(near[:, None, :] - places[None]).transpose(2, 0, 1)), axis=1)
    assert far.max() < 2.0 * radius


def test_relieved_terraces_hold_the_rounds_of_all_lower_ones() -> None:
    whole = shapes.pins_flat(LAYOUT, 0.05, PIN_LENGTH, 0.0, end="left", board_length=BOARD)
    corners = inside_corners(whole, BOARD, LAYOUT.width)
    solid = Relieved(whole, 3.0, corners)
    for high, low in ((0.0, -5.0), (-5.0, -19.0)):
        rounds = [disc(*corner.inside(3.0, -low / whole.depth), 3.0) for corner in corners]
        for each in rounds:
            assert difference(each, solid.section(high)).area < 1e-6


def test_a_shaving_of_a_flank_is_as_thick_as_it_says() -> None:
    """Moving a flank by its normal distance moves the strip's side by that over the cosine of the lean."""
    tail = LAYOUT.tails[0]
    assert tail.grown(0.4, LENGTH).end_width - tail.end_width == pytest.approx(0.8 / np.cos(radians(8)))
    assert sin(LAYOUT.slopes[0]) == pytest.approx(sin(radians(8)))
