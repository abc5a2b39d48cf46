"""Rides in the page: every place where a sheet is laid, every bushing that rides it; in a browser, and by shapely."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from support.browser import Tab
from support.jobs import Table, kit_table, write_job
from support.kinds.sliding_dovetail import sliding_job
from support.page import at_the_end, built

from jigcam.player.page import page_with
from jigcam.player.riding import rides_of
from jigcam.units import MM

Films = dict[str, list[dict[str, Any]]]
SIZES = ("length", "width", "thickness")
FACES: Table = {"way": "template", "board": "side", "face": "inside"}


def boards(**sizes: tuple[float, float, float]) -> Table:
    return {name: dict(zip(SIZES, size, strict=True)) for name, size in sizes.items()}


def job(made_of: Table, *joints: Table) -> Table:
    return {
        "job": "Sheet-music cabinet",
        "units": "mm",
        "kit": "metric-shop",
        "boards": made_of,
        "joints": list(joints),
    }


SIDE = boards(side=(700.0, 240.0, 25.0), rail=(400.0, 120.0, 30.0), shelf=(400.0, 200.0, 18.0))
HOUSINGS: Table = {
    "name": "shelves",
    "kind": "groove",
    **FACES,
    "from": [120.0, 0.0],
    "angle": 90,
    "length": 120.0,
    "start": "open",
    "depth": 6.0,
    "receives": "shelf",
    "clearance": 0.1,
    "repeat": {"count": 3, "pitch": 150.0},
}
TENON: Table = {
    "name": "tenons",
    "kind": "mortise",
    **FACES,
    "at": [60.0, 180.0],
    "angle": 90,
    "length": 40.0,
    "width": 14.0,
    "depth": 10.0,
    "clearance": 0.1,
}
JOBS: dict[str, Table] = {
    "row": job(SIDE, {**HOUSINGS, "opposite_hand": True}),
    "mate": job(
        SIDE, {**TENON, "mate": {"board": "rail", "face": "outside", "at": [60.0, 60.0], "angle": 30, "depth": 6}}
    ),
    "sheet": job(
        SIDE,
        {**HOUSINGS, "template": "sheet", "repeat": {"count": 2, "pitch": 150.0}},
        {**TENON, "template": "sheet", "mate": {"board": "rail", "end": "left", "at": [60.0, 15.0]}},
    ),
    "socket": sliding_job(
        way="template", base=15.0, angle_of_flank=14, depth=10.5, from_=[100.0, 15.0], length=105.0, start="stopped"
    ),
}
"""A row for both hands; a mate of another depth, at an angle; a sheet that two joints share, one in a row, one with a
mate in an end; a socket whose two bits have an opening each."""


@pytest.fixture(scope="module")
def rides(tmp_path_factory: pytest.TempPathFactory) -> Films:
    """By the metric shop without the bits that engrave: marks are written by hand then, and need no proof."""
    kit, films = kit_table("mm"), {}
    kit["bits"] = [
        bit for bit in kit["bits"] if bit["kind"] in ("straight", "dovetail") and bit["name"] != "straight 3"
    ]
    for name, table in JOBS.items():
        made = built(write_job(tmp_path_factory.mktemp(name), table, kit))
        films[name] = [film for joint in made.joints for film in rides_of(joint, made.kit, MM)]
    return films


def cut_by(film: dict[str, Any], z: float) -> shapely.Geometry:
    """What the bits clear at a height within the stock, from the strokes of a film alone: discs along their ways."""
    strokes, tools = film["strokes"], film["tools"]
    arcs = {row[0]: row[1:] for row in strokes["arcs"]}
    which = spread(strokes["tool"], len(strokes["x"]))
    (_, x, y, high) = strokes["starts"][0]
    parts = []
    for k, (u, v, low) in enumerate(zip(strokes["x"], strokes["y"], strokes["z"], strict=True)):
        if strokes["way"][k] == "1" and max(low, high) <= z:
            tool = tools[str(which[k])]
            radius = float(np.interp(z - low, tool["heights"], tool["radii"]))
            parts.append(shapely.LineString(points((x, y), (u, v), arcs.get(k))).buffer(radius, quad_segs=32))
        x, y, high = u, v, low
    x0, y0, x1, y1, _ = film["stock"]
    return shapely.intersection(shapely.union_all(parts), shapely.box(x0, y0, x1, y1))


def points(start: tuple[float, float], end: tuple[float, float], arc: list[float] | None) -> list[tuple[float, float]]:
    if arc is None:
        return [start, end]
    cx, cy, sweep = arc
    radius, first = math.dist(start, (cx, cy)), math.atan2(start[1] - cy, start[0] - cx)
    turns = np.linspace(first, first + sweep, 24)
    return [start, *((cx + radius * math.cos(turn), cy + radius * math.sin(turn)) for turn in turns[1:-1]), end]


def spread(runs: list[list[int]], count: int) -> list[int]:
    ends = [*(place for place, _ in runs[1:]), count]
    return [value for (place, value), end in zip(runs, ends, strict=True) for _ in range(place, end)]


def middles(ground: shapely.Geometry) -> list[tuple[float, float]]:
    """Of the bounds of each piece, from the left."""
    found = [((b[0] + b[2]) / 2, (b[1] + b[3]) / 2) for b in (part.bounds for part in shapely.get_parts(ground))]
    return sorted(found)


def test_every_ride_ends_as_the_proof_says(tab: Tab, folder: Path, rides: Films) -> None:
    path, films = folder / "rides.html", [film for made in rides.values() for film in made]
    path.write_bytes(page_with("rides", "kit", MM, films))
    tab.open(path)
    for number, film in enumerate(films):
        tab.run(f"jigcamPlayer.choose({number})")
        end = at_the_end(tab, hurried=True)
        assert end["verdict"] == "agrees", (film["name"], end)
        assert film["proof"]["gouge"] < 0.005, film["name"]
        assert film["proof"]["left"] < 0.005, film["name"]
        for height in film["heights"]:
            if "area" in height:
                assert cut_by(film, height["z"]).area == pytest.approx(height["area"], rel=2e-3), film["name"]
    assert tab.messages == []


def test_recess_and_key_ride_one_opening_with_a_bushing_each(starters: Films) -> None:
    recess, key = (film for film in starters["key"] if film["kind"] == "ride")
    assert (recess["name"], key["name"]) == (
        "bow ties: 2 recesses in top, outside face, by hand in the template, as drawn",
        "bow ties: key from stock, by hand in the template",
    )
    assert recess["sheet"]["opening"] == key["sheet"]["opening"]
    wide, narrow = (film["stages"][0]["bushing"]["radius"] for film in (recess, key))
    assert recess["tools"] == key["tools"]
    across = 2.0 * key["tools"]["1"]["radii"][0]
    assert wide - narrow == pytest.approx(across, abs=0.08), "bushings differ by two bits across, radii by one"
    bit = key["tools"]["1"]["name"]
    for film in (recess, key):
        assert any(name == "bushing" and bit in value for name, value in film["facts"])
    (ring,) = [height for height in key["heights"] if "area" in height]
    (piece,) = shapely.get_parts(cut_by(key, ring["z"]))
    (hole,) = piece.interiors
    fitted = shapely.get_parts(cut_by(recess, 0.001 - recess["proof"]["depth"]))[0]
    # The key, laid along the grain of its stock, is its recess less what glue wants.
    assert shapely.Polygon(hole).area == pytest.approx(fitted.area, rel=0.01)
    (x0, y0, x1, y1), (u0, v0, u1, v1) = hole.bounds, fitted.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((v1 - v0, u1 - u0), abs=0.15)
    assert key["proof"]["depth"] == pytest.approx(recess["proof"]["depth"] + 1.0), "proud, to be planed flush"


def test_a_row_is_played_place_by_place_for_both_hands(tab: Tab, folder: Path, rides: Films) -> None:
    drawn, opposite = rides["row"]
    assert [stage["name"] for stage in drawn["stages"]] == [f"groove {n} of 3" for n in (1, 2, 3)]
    assert [x for x, _ in middles(cut_by(drawn, -5.999))] == pytest.approx([120.0, 270.0, 420.0], abs=0.01)
    assert [x for x, _ in middles(cut_by(opposite, -5.999))] == pytest.approx([280.0, 430.0, 580.0], abs=0.01)
    assert ["sheet", "marked face on the board"] in opposite["facts"]
    path = folder / "row.html"
    path.write_bytes(page_with("row", "kit", MM, [drawn]))
    tab.open(path)
    for number, stage in enumerate(drawn["stages"], start=1):
        tab.run(f"jigcamPlayer.go(jigcamPlayer.s.time[{stage['from'] + 3}])")
        tab.wait(f"document.getElementById('place').textContent === 'groove {number} of 3'")
    at_the_end(tab)
    assert "all 3" in tab.run("document.getElementById('place').textContent")


def test_a_mate_is_cut_to_its_own_depth_where_it_lies(rides: Films) -> None:
    first, mate = rides["mate"]
    assert middles(cut_by(first, -9.999)) == [pytest.approx((60.0, 180.0), abs=0.01)]
    assert middles(cut_by(mate, -5.999)) == [pytest.approx((60.0, 60.0), abs=0.01)]
    assert min(mate["strokes"]["z"]) == -6.0
    assert "rail" in mate["name"]
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(cut_by(mate, -5.999)))
    along = max((box[k + 1] - box[k] for k in range(4)), key=np.linalg.norm)
    assert math.degrees(math.atan2(along[1], along[0])) % 180.0 == pytest.approx(30.0, abs=0.1)


def test_a_shared_sheet_shows_all_its_openings_wherever_it_is_laid(rides: Films) -> None:
    films = rides["sheet"]
    assert [film["group"] for film in films] == ["shelves, tenons"] * 3
    assert all(len(film["sheet"]["opening"]) == 2 for film in films)
    assert len(films[0]["stages"]) == 2
    (end,) = [film for film in films if "left end" in film["name"]]
    assert middles(cut_by(end, -9.999)) == [pytest.approx((60.0, 15.0), abs=0.01)]
    assert end["stock"] == [0, 0, 120, 30, 400], "the end of the rail, seen square"


def test_the_dovetail_bit_goes_in_and_out_over_the_edge_alone(rides: Films) -> None:
    (film,) = rides["socket"]
    assert [stage["name"] for stage in film["stages"]] == ["the mouth of the socket", "the socket"]
    strokes, begin = film["strokes"], film["stages"][1]["from"]
    assert spread(strokes["tool"], len(strokes["x"]))[begin - 1 : begin + 1] == [1, 2]
    widest = max(film["tools"]["2"]["radii"][:2])
    upright = [k for k in range(begin, len(strokes["x"])) if strokes["z"][k] != strokes["z"][k - 1]]
    assert len(upright) == 2, "down once, up once"
    x0, y0, x1, y1, _ = film["stock"]
    for k in upright:
        place = shapely.Point(strokes["x"][k], strokes["y"][k])
        assert place.distance(shapely.box(x0, y0, x1, y1)) > widest, "beside the board, and free of it"
    assert json.dumps(film["heights"]).count("area") == 2, "at the face and at the bottom"
