"""Grooves and rabbets by hand as a stranger with hand tools tried them: each remark with what answers it now."""

from __future__ import annotations

import re
from math import pi
from typing import Any

import pytest
from support.grooves import groove_job, made

from jigcam.drawing import Drawing
from jigcam.joints.groove.by_hand import groove_by_hand
from jigcam.joints.groove.groove import Groove
from jigcam.joints.groove.hand_picture import scene_by_hand
from jigcam.joints.groove.straight_edge import StraightEdge, fitting
from jigcam.joints.groove.walls import first_wall
from jigcam.joints.rabbet.by_hand import rabbet_by_hand
from jigcam.joints.rabbet.entry import RabbetEntry
from jigcam.joints.rabbet.picture import scene_rabbet
from jigcam.joints.rabbet.rabbet import rabbet
from jigcam.kit import Kit, load_kit
from jigcam.making.block_text import text_lines
from jigcam.making.blocks import Points
from jigcam.making.cautions import cautions
from jigcam.units import Unit, Voice
from jigcam.wood.band import toward

INCH = 25.4
ACROSS: dict[str, Any] = {"start_point": (300.0, 0.0), "angle": pi / 2.0, "length": 285.0, "face": "outside"}
THROUGH: dict[str, Any] = {"start": "open", "finish": "open"}
ALONG: dict[str, Any] = {"start_point": (0.0, 18.0), "angle": 0.0, "length": 560.0, "face": "outside"}
NO_BOARD: dict[str, Any] = {"receives": None, "width": 0.256 * INCH, "clearance": 0.0}


@pytest.fixture(scope="module")
def shops() -> dict[str, Kit]:
    return {"mm": load_kit("metric-shop"), "in": load_kit("inch-shop")}


def housing(**keys: Any) -> Groove:
    return made(groove_job(way="hand", **(ACROSS | keys)))


def told(groove: Groove, kit: Kit, units: Unit = "mm") -> str:
    """The words at the bench on one line."""
    return " ".join(" ".join(text_lines(groove_by_hand(groove, kit, Voice(units), 1))).split())


def only(kit: Kit, **changes: Any) -> Kit:
    """The kit with no bit but its straight 1/4, changed."""
    return kit.model_copy(update={"bits": (kit.bit("straight 1/4").model_copy(update=changes),)})


# ---- the width (R1)


@pytest.mark.parametrize(
    ("units", "shelf", "wall", "apart"),
    [("mm", 12.3, "294 mm", "12.45 mm"), ("in", 23 / 32 * INCH, "11-7/16 in", "0.725 in")],
)
def test_only_one_wall_comes_from_the_rule_and_the_other_from_the_board(
    units: Unit, shelf: float, wall: str, apart: str, shops: dict[str, Kit]
) -> None:
    """12.45 wide, at 293.775 and 306.225: rounded singly, 294 and 306 are 12 apart; 0.725 in became 0.750."""
    groove = housing(shelf=shelf, clearance=0.15 if units == "mm" else 0.006 * INCH, **THROUGH)
    text = told(groove, shops[units], units)
    assert re.findall(r"from (\S+ \w+) along, 0 \w+ up; to (\S+ \w+) along", text) == [(wall, wall)]
    assert f"The second wall is {apart}" in text
    assert "comes from no figure: stand shelf on the first line" in text
    assert "of card or paper, the clearance, between it and the line, and knife along its other side" in text
    # No other running figure along the board is in the work.
    assert len(re.findall(r"[\d/] (?:mm|in) along", text)) == 2


@pytest.mark.parametrize("angle", [pi / 2.0, -pi / 2.0, 0.0, pi, 1.2])
def test_two_walls_by_straight_edge_and_spacer_are_as_far_apart_as_drawn(angle: float, shops: dict[str, Kit]) -> None:
    """Acted out: the second straight-edge a base and a spacer from the first, wherever that was clamped."""
    start = {0.0: (0.0, 18.0), pi: (560.0, 18.0), pi / 2.0: (300.0, 0.0), 1.2: (300.0, 0.0)}.get(angle, (300.0, 285.0))
    groove = housing(angle=angle, start_point=start, length=560.0 if angle in (0.0, pi) else 285.0, **THROUGH)
    routed = StraightEdge.of(groove, shops["mm"])
    assert routed is not None
    base, cutter = routed.radius, routed.bit.diameter / 2.0
    first_edge = 17.3  # off the drawing by whatever the first line was rounded by
    second_edge = first_edge + 2.0 * base + routed.spacer
    walls = (first_edge + base - cutter, second_edge - base + cutter)
    assert walls[1] - walls[0] == pytest.approx(groove.width)
    assert f"Make a spacer {Voice('mm').rule(groove.width - routed.bit.diameter)} thick" in told(groove, shops["mm"])
    assert "Set a second straight-edge from the first, and not from a line" in told(groove, shops["mm"])
    # The wall that is routed first is the one that is marked.
    assert [ride.side for ride in routed.rides()] == [first_wall(groove).side, first_wall(groove).waste]
    # The straight-edge at the left of the way: its outward side is a quarter turn to the left of where it goes.
    for ride, x, y in zip(routed.rides(), *_ways(groove), strict=True):
        assert ride.toward == toward(x, y, "outside")


def _ways(groove: Groove) -> tuple[tuple[float, float], tuple[float, float]]:
    """x and y of the ways along the first and the second wall: that with the first wall at its left, and back."""
    ux, uy = groove.band.along
    wall = first_wall(groove).start
    middle = groove.band.at(0.0)
    left = -uy * (wall[0] - middle[0]) + ux * (wall[1] - middle[1])
    sign = 1.0 if left > 0.0 else -1.0
    return (sign * ux, -sign * ux), (sign * uy, -sign * uy)


def test_a_spacer_thinner_than_paper_is_not_asked_for(shops: dict[str, Kit]) -> None:
    """12.05 less 12: nobody has a spacer of 0.05 mm; one pass, and a shaving off the walls."""
    text = told(housing(shelf=12.0, clearance=0.05, **THROUGH), shops["mm"])
    assert "fit straight 12." in text
    assert "spacer" not in text
    assert "second straight-edge" not in text
    assert "both walls straight-edge outside it" in text
    assert "Make a spacer 0.15 mm thick" in told(housing(shelf=12.0, clearance=0.15, **THROUGH), shops["mm"])


# ---- with the grain (R5)


def test_a_groove_with_the_grain_is_gauged_and_ploughed(shops: dict[str, Kit]) -> None:
    text = told(housing(**(ALONG | NO_BOARD | THROUGH)), shops["mm"])
    assert "Set a mortise gauge: its pins 6.5 mm apart" in text
    assert "at 14.5 mm. Scribe both walls with the stock against the lower edge" in text
    assert "its fence against the lower edge" in text
    for wrong in ("along a square", "chop along", "Clamp a straight batten", "saw each wall"):
        assert wrong not in text
    across = told(housing(**THROUGH), shops["mm"])
    assert "along a square" in across
    assert "plough" not in across


def test_a_stopped_groove_with_the_grain_is_chopped_across_it_as_a_mortise(shops: dict[str, Kit]) -> None:
    for angle in (0.0, 0.2):
        text = told(housing(**(ALONG | {"start_point": (30.0, 18.0), "length": 400.0, "angle": angle})), shops["mm"])
        assert "its edge across the grain, in steps of about 3 mm between the two lines, as in a mortise" in text
        assert "chop along" not in text
    assert "chop along each wall" in told(housing(start_point=(300.0, 20.0), length=200.0), shops["mm"])


@pytest.mark.parametrize(("along", "stopped"), [("lower", False), ("lower", True), ("left", False), ("left", True)])
def test_a_rabbet_with_the_grain_is_planed_and_not_chopped_along_its_shoulder(along: str, stopped: bool) -> None:
    ends = {"start": 60.0, "length": 150.0} if stopped else {}
    entry = RabbetEntry(
        name="back", kind="rabbet", board="side", face="inside", along=along, width=10.0, depth=6.35, way="hand", **ends
    )
    it = rabbet(entry, groove_job())
    text = " ".join(" ".join(text_lines(rabbet_by_hand(it, Voice("mm"), 1))).split())
    assert "6.35" not in text, "a figure that no depth stop shows"
    if along == "left":
        assert ("chop along the shoulder" if stopped else "Clamp a straight batten") in text
    else:
        assert "chop along" not in text
        assert ("Chop the waste across the grain" if stopped else "Plane the waste off with a rabbet plane") in text


# ---- the router's way (R6, R13, R20)


def test_a_bit_that_cannot_turn_free_at_the_stop_is_not_offered_and_why_is_said(shops: dict[str, Kit]) -> None:
    """Groove of 0.256 in, bit of 1/4: 0.003 in to each side."""
    kit = only(shops["in"], plunges=False)
    stopped = {"start_point": (300.0, 20.0), "length": 265.0, "finish": "open"}
    groove = housing(**(NO_BOARD | stopped))
    assert StraightEdge.of(groove, kit) is None
    assert "The hand-held router is no way here: no straight bit" in told(groove, kit, "in")
    assert "none turns free in a hole as wide as the groove" in told(groove, kit, "in")
    # One that plunges does, in a base that does; one that begins outside the board does.
    plunging = told(groove, only(shops["in"]), "in")
    assert "With a fixed base it is no way" in plunging
    assert "turns free" not in plunging
    assert StraightEdge.of(housing(**NO_BOARD, **THROUGH), kit) is not None
    # In a groove of 1/2 in it has an 1/8 in to each side: it starts in the room, and is not lowered.
    wide = housing(**(NO_BOARD | stopped | {"width": INCH / 2.0}))
    roomy = told(wide, kit, "in")
    assert "it cannot be lowered into the wood" in roomy
    assert "start in the room there" in roomy
    assert "lower the bit" not in roomy


@pytest.mark.parametrize(
    ("keys", "changes", "why"),
    [
        ({"width": 6.0}, {}, "narrower than the groove, or as wide"),
        ({}, {"cutting_length": 7.0}, "has edges as long as it is deep"),
        ({}, {"overall_length": 27.0}, "reaches its bottom below the base"),
        ({}, {"shank": 9.0}, "that the router's collets take"),
        ({"width": 100.0}, {}, "the base of the router has hardly anything to rest on"),
    ],
)
def test_a_way_that_is_missing_has_its_reason(
    keys: dict[str, float], changes: dict[str, float], why: str, shops: dict[str, Kit]
) -> None:
    groove, kit = housing(**(NO_BOARD | THROUGH | keys)), only(shops["in"], **changes)
    assert why in fitting(groove, kit)
    text = told(groove, kit, "in")
    assert f"{why}." in text
    assert "in its place" not in text
    handtools = kit.model_copy(update={"router": None})
    assert "router is no way" not in told(groove, handtools, "in")


@pytest.mark.parametrize(("units", "division"), [("mm", 0.5), ("in", INCH / 32.0)])
def test_what_is_set_for_the_router_is_read_from_a_rule_or_made_as_a_gauge(
    units: Unit, division: float, shops: dict[str, Kit]
) -> None:
    """It was a stop block at 2.747 in and a depth of 3.18 mm; the bit's centre came in 64ths."""
    groove = housing(start_point=(300.0, 20.0), length=265.0, finish="open", depth=6.36, shelf=18.3)
    text = told(groove, shops[units], units)
    routed = text[text.index("In place of step") : text.index("Clear it and")]
    assert "the bit's centre" not in routed
    for phrase in (r"bit, about (\S+) ", r"its face (\S+) ", r"Set the depth to (\S+) ", r"then (\S+) (?:mm|in)[,.]"):
        found = re.search(phrase, routed)
        assert found is not None, phrase
        steps = _mm(found[1], units) / division
        assert steps == pytest.approx(round(steps), abs=1e-6), found[0]
    # Never beyond the line: the block is rather too near.
    edge = StraightEdge.of(groove, shops[units])
    assert edge is not None
    block = re.search(r"its face (\S+) ", routed)
    assert block is not None
    assert edge.radius - 1.0 - 1e-6 <= _mm(block[1], units) <= edge.radius + 1e-6


def _mm(figure: str, units: Unit) -> float:
    """12.5, or 2-5/8, in mm."""
    whole, _, rest = figure.rpartition("-")
    over, _, under = rest.partition("/")
    size = float(over) / float(under or 1) + float(whole or 0)
    return size * (INCH if units == "in" else 1.0)


# ---- words (R8, R14, R23)


def test_no_board_is_invented_that_the_job_does_not_name(shops: dict[str, Kit]) -> None:
    groove = housing(**(NO_BOARD | THROUGH | {"clearance": 0.1}))
    text = told(groove, shops["in"], "in")
    assert "board that enters" not in text
    assert "0.252" not in text
    assert "a strip planed to the groove's width, 0.256 in (1/4 plus 0.006), goes in by hand" in text
    drawing = scene_by_hand(groove, groove.places(), Voice("in"))
    assert not [item for item in drawing.items if item.role == "mate"]


def test_the_cautions_of_a_router_along_a_straight_edge_speak_of_it_alone() -> None:
    alone = " ".join(cautions(machine=False, hand=False, units="mm", edge_tools=True, routed=True))
    for word in ("overrides", "template", "in air", "foam", "given here"):
        assert word not in alone
    for word in ("Unplug", "ear and dust", "marked on the bit", "Switch off", "offcut"):
        assert word in alone
    guided = " ".join(cautions(machine=False, hand=True, units="mm"))
    assert "Clamp the work and the template" in guided
    assert "overrides any speed given here" in guided


@pytest.mark.parametrize("angle", [pi / 2.0, 1.3])
def test_sentences_begin_with_a_capital(angle: float, shops: dict[str, Kit]) -> None:
    """It was "…instead of its right end. figures from the lower edge stay."."""
    groove = housing(angle=angle, face="both", depth=5.0, opposite_hand=True, **THROUGH)
    blocks = groove_by_hand(groove, shops["mm"], Voice("mm"), 1)
    sentences = [each for block in blocks if isinstance(block, Points) for each in block.sentences]
    assert not [each for each in sentences if re.search(r"[a-z]\. [a-z]", each)]
    assert sum("igures from the lower edge stay." in each for each in sentences) == 2


@pytest.mark.parametrize("receives", ["shelf", None])
def test_the_second_wall_ends_where_the_first_does_before_a_round_end(
    receives: str | None, shops: dict[str, Kit]
) -> None:
    """The first wall's figures stop where the round begins; the second wall had no limit."""
    board = NO_BOARD if receives is None else {}
    stopped = {"start_point": (300.0, 20.0), "length": 265.0, "finish": "open"} | board
    round_end = told(housing(**stopped), shops["mm"])
    where = "knife along its other side, at the stopped start no further than abreast of the first line's end"
    assert f"{where}, where the round begins." in round_end
    assert f"{where}." in told(housing(**stopped, ends="square"), shops["mm"])
    both = told(housing(**(stopped | {"finish": "stopped", "length": 200.0})), shops["mm"])
    assert "at the stopped start and finish no further than abreast" in both
    assert "no further than abreast" not in told(housing(**board, **THROUGH), shops["mm"])
    gauged = told(housing(**(ALONG | {"start_point": (30.0, 18.0), "length": 400.0} | board)), shops["mm"])
    assert "no further than the first wall's figures along, below, where the round begins" in gauged


def test_a_routed_housing_has_no_waste_to_chisel_out(shops: dict[str, Kit]) -> None:
    """It was "Chisel the waste out", after a routing that had left none."""
    through = told(housing(**THROUGH), shops["mm"])
    assert "If it was sawn and not routed, chisel the waste out in thin layers" in through
    assert "Routed, it has none left." in through
    stopped = told(housing(start_point=(300.0, 20.0), length=200.0), shops["mm"])
    assert "If it was chopped and not routed" in stopped
    assert "Routed, it has none left but at its stopped ends." in stopped
    no_router = shops["mm"].model_copy(update={"router": None})
    assert "Chisel the waste out in thin layers" in told(housing(**THROUGH), no_router)


@pytest.mark.parametrize("both", [False, True])
def test_a_shelf_between_two_boards_is_notched_at_both_its_ends(both: bool, shops: dict[str, Kit]) -> None:
    """It was "from the entering end" of a shelf whose other end enters the mirrored board."""
    groove = housing(start_point=(300.0, 20.0), length=150.0, opposite_hand=both)
    ends = "each of the two entering ends of shelf," if both else "the entering end of shelf"
    assert f"in all from {ends} at its two edges" in told(groove, shops["mm"])


# ---- the mirrored board


@pytest.mark.parametrize(
    ("keys", "walls"),
    [
        ({}, ("right end", "left end")),
        ({"face": "inside"}, ("left end", "right end")),
        ({"angle": 0.7}, ("upper edge and the right end", "lower edge and the left end")),
        (
            {"angle": -0.7, "start_point": (100.0, 285.0)},
            ("lower edge and the right end", "upper edge and the left end"),
        ),
        (ALONG, None),
    ],
)
def test_in_the_mirrored_board_walls_and_waste_change_ends_as_the_figures_do(
    keys: dict[str, Any], walls: tuple[str, str] | None, shops: dict[str, Kit]
) -> None:
    """The figures ran from the other end, and the second wall still lay toward the end that it had as drawn."""
    text = told(housing(opposite_hand=True, **(THROUGH | keys)), shops["mm"])
    step = text[text.index("The same for the opposite hand") :]
    assert "end change places in every line above" in step
    if walls is None:
        assert "the second lies" not in step
    else:
        first, second = walls
        assert f"the first wall is that to the {first}, the second lies toward the {second}, and the waste too" in step


# ---- pictures (R10, R12)


def figures(drawing: Drawing, view: int) -> list[str]:
    """What is written at the dimensions of a view that have words of their own."""
    return [each.text for each in drawing.views[view].dimensions if each.text]


def test_pictures_measure_from_the_end_that_the_words_name() -> None:
    """The groove is nearer to the other end, from where its picture was measured."""
    groove = housing(face="inside", start_point=(400.0, 38.0), length=247.0, finish="open", opposite_hand=True)
    drawing = scene_by_hand(groove, groove.places(), Voice("mm"))
    wanted = ["394 mm from right end", "406.35 mm from right end", "44 mm"]
    assert figures(drawing, 0) == wanted
    mirrored = 2  # after the section
    assert figures(drawing, mirrored) == [each.replace("right", "left") for each in wanted]
    # Each line of figures ends at the wall that it is of.
    for view, ends in ((0, (393.825, 406.175)), (mirrored, (560.0 - 393.825, 560.0 - 406.175))):
        along = [each for each in drawing.views[view].dimensions if "from" in each.text]
        assert [each.p1[0] for each in along] == pytest.approx(ends)


def test_pictures_have_the_walls_and_the_ends_of_grooves_at_every_angle() -> None:
    with_grain = housing(**(ALONG | NO_BOARD | {"start_point": (30.0, 18.0), "length": 500.0, "ends": "square"}))
    assert figures(scene_by_hand(with_grain, with_grain.places(), Voice("mm")), 0) == [
        "30 mm from left end",
        "530 mm from left end",
        "14.5 mm",
        "21 mm",
    ]
    sloping = housing(angle=1.2, start_point=(200.0, 38.0), length=200.0)
    told_of = figures(scene_by_hand(sloping, sloping.places(), Voice("mm")), 0)
    wall = first_wall(sloping)
    voice = Voice("mm")
    assert told_of == [
        *(f"{voice.ruled(x)} from left end" for x in (wall.start[0], wall.finish[0])),
        *(voice.ruled(y) for y in (wall.start[1], wall.finish[1])),
    ]


def test_the_picture_of_a_rabbet_measures_from_the_end_that_its_words_name() -> None:
    shape = {"name": "back", "kind": "rabbet", "board": "side", "face": "outside", "along": "lower", "width": 10.0}
    it = rabbet(RabbetEntry(**shape, depth=6.0, start=480.0, length=40.0), groove_job())
    assert "480 mm from left end" in figures(scene_rabbet(it, Voice("mm")), 0)
