"""What the seasons do to a groove and its board, against Eq. 13-2 and Table 13-5 of the Wood Handbook, by hand."""

from __future__ import annotations

from math import pi, radians
from pathlib import Path
from typing import Any

import pytest
from support.grooves import SIDE, groove_job, made

from jigcam.findings import Finding
from jigcam.job import kit_for
from jigcam.job.repeat import Repeat
from jigcam.joints import design, kind, load_job
from jigcam.joints.groove.groove import Groove
from jigcam.joints.groove.season import season_findings
from jigcam.kit import Climate, load_kit
from jigcam.kit.climate import Air

EXAMPLES = Path(__file__).parents[2] / "examples" / "music-cabinet"
KIT = load_kit("metric-shop")
YEAR = Climate(dry=Air(moisture=6.0), shop=Air(moisture=8.0), damp=Air(moisture=11.0))
"""Three points up, as in the worked example of the handbook, and two down."""
CHERRY = {"wood": "black cherry", "sawn": "flat"}
SQUARE = {"start_point": (100.0, 40.0), "angle": pi / 2, "length": 200.0}
"""Square across the side, both ends stopped."""


def told(climate: Climate = YEAR, sawn: str = "quarter", enters: dict[str, Any] | None = None, **keys: Any) -> list:
    """What is said of a groove in a side of black cherry."""
    board = {**SIDE, "wood": "black cherry", "sawn": sawn}
    job = groove_job(board=board, enters={**CHERRY, **(enters or {})}, climate=climate, **{**SQUARE, **keys})
    return list(season_findings(made(job), job, KIT))


def only(found: list[Finding], level: str, rule: str) -> str:
    assert [(each.level, each.rule) for each in found] == [(level, rule)]
    return found[0].says


def test_a_shelf_captured_in_stopped_grooves_of_a_side_that_moves_otherwise_binds_when_damp() -> None:
    """It was "0.006 in of room", and nothing more."""
    says = only(told(), "caution", "season-binds")
    # Table 13-5: black cherry 0.00126 / 0.00248. 199.85·0.00248·3 = 1.49, 200·0.00126·3 = 0.76, 0.15 + 0.76 − 1.49.
    assert "grows 1.49 mm when damp (11.0 % moisture) and its groove in side grows 0.76 mm" in says
    assert "of its 0.15 mm of room none is left, and 0.58 mm is lacking" in says
    assert "leave it 1 mm of room in all, let one end of the groove be open" in says
    assert "reckoned from 8.0 % as made" in says


def test_boards_that_move_alike_need_no_word() -> None:
    assert not told(enters={"sawn": "quarter"})
    assert not told(sawn="flat")


def test_every_groove_of_a_row_is_judged() -> None:
    """The second runs out at the end of the board and not at its edge, and is shorter; only the first was judged."""
    keys: dict[str, Any] = {"start_point": (100.0, 40.0), "angle": pi / 4, "length": 400.0, "finish": "open"}
    alone = [each.says for each in told(**keys)]
    (first, other) = told(**keys, repeat=Repeat(count=2, pitch=(320.0, 0.0)))
    assert [first.says] == alone
    assert other.rule == first.rule == "season-edges"
    assert other.says.startswith("groove 2 of 2: ")
    # 245√2 and 140√2 mm of groove at 45°, of which half is across the grain; Table 13-5: 0.00248 and 0.00126 a point.
    # 200·0.00248·3 − 346.5·0.00063·3 = 0.83, and 197.9·0.00248·3 − 198·0.00063·3 = 1.10.
    assert "0.83 mm proud when damp" in first.says
    assert "1.1 mm proud when damp" in other.says
    assert len(told(**keys, repeat=Repeat(count=2, pitch=(10.0, 0.0)))) == 1, "what is alike is said once"


def test_what_is_said_in_a_job_in_inches_is_in_inches() -> None:
    says = only(told(units="in"), "caution", "season-binds")
    assert "grows 0.059 in" in says
    assert "leave it 1/32 in of room" in says
    assert "mm" not in says


def test_the_room_that_is_asked_for_is_enough() -> None:
    """A maker who does what is said does not hear it again."""
    assert not [each for each in told(enters={"width": 199.0}) if each.rule == "season-binds"]


def test_a_notched_tongue_is_what_binds() -> None:
    says = only(told(enters={"width": 260.0}), "caution", "season-binds")
    assert says.startswith("the tongue of shelf, 199.85 mm between two stopped ends, grows")


def test_a_gap_opens_when_it_is_dry_unless_a_shoulder_covers_it() -> None:
    far = Climate(dry=Air(moisture=5.0), shop=Air(moisture=8.0), damp=Air(moisture=8.0))
    says = only(told(far, enters={"width": 195.0}), "caution", "season-opens")
    # 5 + 195·0.00248·3 − 200·0.00126·3 = 5.69
    assert "a gap of 5.69 mm shows at its ends" in says
    assert not told(far, enters={"width": 260.0})


def test_along_the_grain_nothing_moves() -> None:
    """In a groove along the grain the side stands still, and the shelf moves all the more."""
    says = only(told(angle=0.0), "caution", "season-binds")
    assert "its groove in side does not move" in says
    assert "1.34 mm is lacking" in says  # 0.15 − 199.85·0.00248·3


def test_a_groove_at_an_angle_mixes_both() -> None:
    """Both ends of a line move across the grain by their distance across it: sin² of that along the line (derived)."""
    says = only(told(angle=radians(60.0)), "caution", "season-binds")
    assert "its groove in side grows 0.57 mm" in says  # 200·sin²60°·0.00126·3


def test_a_shelf_that_swells_in_thickness_lacks_room_across_its_groove() -> None:
    beech = {"wood": "American beech", "sawn": "quarter", "width": 150.0}
    # Quarter-sawn it moves by C_T = 0.00431 through its thickness: 12.2·0.00431·3 = 0.158 of 0.15 mm.
    says = only(told(enters=beech), "caution", "season-binds")
    assert "shelf grows 0.16 mm in thickness when damp (11.0 % moisture) and its groove does not move in width" in says
    assert "0.008 mm is lacking; give it 0.158 mm" in says
    assert not told(enters=beech, clearance=0.16)


def test_a_shelf_that_may_slide_is_told_how_far_its_edges_come_to_stand() -> None:
    dado = {"start_point": (100.0, 0.0), "length": 285.0, "start": "open", "finish": "open", "enters": {"width": 285.0}}
    says = only(told(**dado), "note", "season-edges")
    # 285·(0.00248 − 0.00126) = 0.3477 mm a point
    assert "0.7 mm short when dry (6.0 % moisture), 1.04 mm proud when damp (11.0 % moisture)" in says
    assert "glue it only over the third at its front" in says
    assert "glue it only at the stopped end" in told(**dado | {"finish": "stopped", "length": 250.0})[0].says


def test_a_panel_that_floats_is_told_what_its_grooves_have_to_hold() -> None:
    panel = {"length": 400.0, "width": 300.0}
    keys = {"angle": 0.0, "start_point": (60.0, 30.0), "length": 400.0, "shelf": 6.0, "floats": True, "enters": panel}
    says = only(told(**keys), "note", "floating-panel")
    # 300·0.00248/2 = 0.372 mm a point at each groove
    assert "1.12 mm further in when it is damp and 0.74 mm out when it is dry" in says
    assert "cut it so that 2 mm stays free before the bottom of each groove" in says
    assert "does not hold it" in only(told(**keys | {"depth": 1.8}), "caution", "floating-panel")


def test_nothing_is_guessed_of_boards_whose_wood_is_not_said() -> None:
    assert not told(enters={"wood": None})
    assert (
        "flat-sawn, as nothing says otherwise"
        in told(
            enters={"sawn": None, "width": 285.0},
            start_point=(100.0, 0.0),
            length=285.0,
            start="open",
            finish="open",
        )[0].says
    )


def test_beyond_what_the_coefficients_hold_for_it_is_a_rough_guess() -> None:
    wide = Climate(dry=Air(moisture=6.0), damp=Air(moisture=16.0))
    assert "a rough guess beyond 6 to 14 %" in only(told(wide), "caution", "season-binds")


@pytest.mark.parametrize("name", ["tilted-shelf", "tilted-shelf-metric", "tilted-shelf-direct", "in", "mm"])
def test_the_shelves_that_are_shipped_make_sense_as_furniture(name: str, tmp_path: Path) -> None:
    """The shelf was wider than its groove was long, to be notched and rounded at once, and moved otherwise."""
    path = EXAMPLES / f"{name}.toml"
    if name in ("in", "mm"):
        path = tmp_path / "job.toml"
        path.write_text(kind("groove").starter(name), "utf-8")
    job = load_job(path)
    groove = design(job.joints[0], job)
    assert isinstance(groove, Groove)
    assert groove.mate.notch == 0.0
    assert 0.0 < groove.mate.length - groove.mate.tongue < 0.5
    assert not season_findings(groove, job, kit_for(job))
