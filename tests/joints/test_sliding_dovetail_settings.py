"""The tail on a router table: acting on what is said gives the joint that was asked for.

The simulation knows nothing of jigcam: a bit is a frustum, tip up; what it takes of a board that stands on the table
with a face at the fence is how far the bit stands out of the fence at each height; socket and tail are then slid
together in section, shoulders on the face. Plain trigonometry, as in any handbook.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.jobs import write_job
from support.kinds.sliding_dovetail import sliding_job
from support.shop import jigcam

from jigcam.errors import InputError
from jigcam.joints.sliding_dovetail.router_table import TableBit, fence_passes, table_tail
from jigcam.joints.sliding_dovetail.table_words import fit_lines
from jigcam.joints.sliding_dovetail.trial import NextTrial, clearance_of, play_by_depth, play_by_fence, play_of
from jigcam.units import Voice

INCH = 25.4
LEVELS = 200


def taken(proud: Sequence[float], diameter: float, angle: float, height: float, z: float) -> float:
    """How deep into its face a board is cut at z above the table, by passes with the bit so far out of the fence.

    −1 where a thread of wood stays between two passes, or before the first.
    """
    radius = diameter / 2.0 - (height - z) * math.tan(angle)
    reached = 0.0
    for each in proud:
        axis = each - diameter / 2.0
        if axis - radius > reached + 1e-9:
            return -1.0
        reached = max(reached, axis + radius)
    return max(0.0, reached)


def play(
    base: float,
    depth: float,
    angle: float,
    thickness: float,
    prouds: tuple[Sequence[float], Sequence[float]],
    bit: float,
    height: float,
) -> float:
    """How far a tail of these cuts shifts in a socket; less than 0: how much it is too wide. Shoulders on the face.

    A tail that is longer than the socket is deep stands off by the difference.
    """
    off = max(0.0, height - depth)
    rooms = []
    for k in range(LEVELS + 1):
        z = height * k / LEVELS  # above the tail's end
        below_face = height - off - z
        if below_face < 0.0:
            continue
        socket = base - 2.0 * (depth - below_face) * math.tan(angle)
        cuts = [taken(each, bit, angle, height, z) for each in prouds]
        assert min(cuts) >= 0.0
        rooms.append(socket - (thickness - sum(cuts)))
    return min(rooms)


angles = st.floats(math.radians(5), math.radians(15))
shops = st.fixed_dictionaries(
    {"depth": st.floats(6.0, 10.0), "diameter": st.floats(12.0, 20.0), "angle": angles, "more": st.floats(0.0, 10.0)}
)


@given(shop=shops, thickness=st.floats(19.0, 40.0), clearance=st.floats(0.0, 0.2))
def test_a_tail_cut_at_the_settings_has_the_play_asked_for(
    shop: dict[str, float], thickness: float, clearance: float
) -> None:
    depth, angle, bit = shop["depth"], shop["angle"], shop["diameter"]
    base = min(bit + shop["more"], thickness - 0.5)
    lean = depth * math.tan(angle)
    shoulder = (thickness - (base - 2.0 * lean) + play_of(clearance, angle)) / 2.0
    height = depth - 0.2
    tail = table_tail(TableBit(bit, angle, height), thickness, (shoulder, shoulder), (shoulder, shoulder))
    assert tail.one_setting
    got = play(base, depth, angle, thickness, (tail.cuts[0].proud, tail.cuts[1].proud), bit, height)
    assert got == pytest.approx(2.0 * clearance / math.cos(angle), abs=1e-6)
    for edge in ("lower", "upper"):
        width = thickness - sum(taken(cut.proud, bit, angle, height, 0.0) for cut in tail.cuts)
        assert tail.end(edge) == pytest.approx(width, abs=1e-6)
        width = thickness - sum(taken(cut.proud, bit, angle, height, height) for cut in tail.cuts)
        assert tail.neck(edge) == pytest.approx(width, abs=1e-6)


def test_a_wide_shoulder_takes_several_passes_and_leaves_no_thread() -> None:
    bit = TableBit(12.7, math.radians(14.0), 9.0)
    passes = fence_passes(bit, 25.0)
    assert len(passes) > 2
    assert passes[-1] == 25.0
    for z in (0.0, 4.5, 9.0):
        assert taken(passes, 12.7, math.radians(14.0), 9.0, z) > 20.0
    assert taken((passes[0], 25.0), 12.7, math.radians(14.0), 9.0, 0.0) == -1.0  # the judge sees what is skipped
    assert fence_passes(bit, 5.0) == (5.0,)


@given(angle=angles, deeper=st.floats(-1.0, 1.0))
def test_a_deeper_socket_is_tighter_by_twice_the_tangent(angle: float, deeper: float) -> None:
    args = {"angle": angle, "thickness": 20.0, "prouds": ((4.0,), (4.0,)), "bit": 14.0, "height": 7.0}
    before = play(14.0, 8.5, **args)  # type: ignore[arg-type]
    after = play(14.0, 8.5 + deeper, **args)  # type: ignore[arg-type]
    assert play_by_depth(deeper, angle) == pytest.approx(after - before, abs=1e-9)


def test_the_height_of_the_tail_alone_changes_nothing_until_it_touches_the_bottom() -> None:
    def got(height: float) -> float:
        return play(12.7, 8.0, math.radians(14.0), 18.0, ((4.5,), (4.5,)), 12.7, height)

    assert got(7.5) == pytest.approx(got(7.9), abs=1e-9)
    assert got(8.4) - got(8.0) == pytest.approx(play_by_depth(0.4, math.radians(14.0)), abs=1e-9)


def test_the_numbers_that_makers_know() -> None:
    # 0.4 mm of height at 14 degrees: 0.20 mm; at 7 degrees: 0.10 mm (trade-facts, derived)
    assert round(-play_by_depth(0.4, math.radians(14.0)), 2) == 0.20
    assert round(-play_by_depth(0.4, math.radians(7.0)), 2) == 0.10
    assert (play_by_fence(0.1, 2), play_by_fence(0.1, 1)) == (0.2, 0.1)
    assert clearance_of(play_of(0.05, 0.2), 0.2) == pytest.approx(0.05)


@pytest.mark.parametrize(("units", "step"), [("mm", 0.1), ("in", INCH / 64.0)])
def test_the_three_numbers_are_said_in_the_units_of_the_job(units: Any, step: float) -> None:
    fence, height = fit_lines(math.radians(8.0), Voice(units))
    scale = INCH if units == "in" else 1.0
    named = "1/64 in" if units == "in" else "0.1 mm"
    assert fence.startswith(f"Fence: {named} ")
    both, one = (float(x) * scale for x in re.findall(r"(\d\.\d+) \w+ looser|cut, (\d\.\d+)", fence) for x in x if x)
    assert both == pytest.approx(2.0 * step, abs=2e-3)
    assert one == pytest.approx(step, abs=2e-3)
    said = re.search(r"joint (\d\.\d+) \w+ tighter", height)
    assert said
    assert float(said[1]) * scale == pytest.approx(2.0 * step * math.tan(math.radians(8.0)), abs=2e-3)


@given(found=st.floats(-0.5, 0.8), wanted=st.floats(0.0, 0.3), angle=angles)
def test_the_next_test_piece_fits_whichever_setting_is_moved(found: float, wanted: float, angle: float) -> None:
    trial = NextTrial(found, wanted, angle)
    depth, base, thickness = 8.0, 14.0, 20.0
    proud = (thickness - (base - 2.0 * depth * math.tan(angle)) + found) / 2.0  # a fence that was set amiss

    def next_play(outside: float, inside: float, deeper: float = 0.0) -> float:
        return play(base, depth + deeper, angle, thickness, ((outside,), (inside,)), 14.0, depth + deeper)

    assert next_play(proud, proud) == pytest.approx(found, abs=1e-9)
    both, one = proud + trial.further(2), proud + trial.further(1)
    assert next_play(both, both) == pytest.approx(wanted, abs=1e-9)
    assert next_play(proud, one) == pytest.approx(wanted, abs=1e-9)
    assert next_play(proud, proud, trial.deeper) == pytest.approx(wanted, abs=1e-9)


def test_what_no_table_can_cut_is_refused() -> None:
    bit = TableBit(12.7, 0.14, 9.0)
    with pytest.raises(InputError, match="without shoulders"):
        table_tail(bit, 18.0, (0.0, 0.0), (3.0, 3.0))
    with pytest.raises(InputError, match="nothing is left of the tail"):
        table_tail(bit, 18.0, (9.0, 9.0), (9.0, 9.0))
    with pytest.raises(InputError, match="no width at the table"):
        TableBit(6.35, math.radians(14.0), 12.8)


def sheet_of(folder: Path, **keys: object) -> str:
    """The setup sheet of a divider whose tail is cut on a router table."""
    job = write_job(folder, sliding_job(tail_way="router-table", clearance=0.1, **keys))
    run = jigcam("make", job, "-o", folder / "out")
    assert run.status == 0, run.err
    return next((folder / "out").rglob("setup-sheet.txt")).read_text("utf-8")


ROW = re.compile(
    r"^ +(\d) +(test piece|every tail) +(outside|inside) +([\d.]+) mm +([\d.]+) mm +(?:none|([\d.]+) mm, (\w+) edge)$",
    re.MULTILINE,
)


@pytest.mark.parametrize("keys", [{}, {"taper": 0.6, "base": 13.4}, {"taper": 0.6, "base": 13.4, "tail_end": "right"}])
def test_acting_on_the_sheets_table_gives_the_play_that_the_job_asks_for(keys: dict[str, Any], tmp_path: Path) -> None:
    sheet = sheet_of(tmp_path, **keys)
    rows = ROW.findall(sheet)
    assert [row[0] for row in rows] == ["1", "2", "3", "4"]
    assert [row[1] for row in rows] == ["test piece"] * 2 + ["every tail"] * 2
    assert [row[2:] for row in rows[:2]] == [row[2:] for row in rows[2:]]
    angle, depth, base, taper = math.radians(8.0), 8.0, keys.get("base", 12.7), keys.get("taper", 0.0)
    straight, other = rows[:2]
    assert not straight[5]
    assert bool(other[5]) == bool(taper)
    # It comes in from the start of its socket, at the lower edge of the top and of the divider: widest there.
    for edge, narrower in (("lower", 0.0), ("upper", taper)):
        strip = float(other[5]) if other[5] and other[6] == edge else 0.0
        prouds = ((float(straight[4]),), (float(other[4]) - strip,))
        got = play(base - narrower, depth, angle, 18.0, prouds, 12.7, float(straight[3]))
        assert got == pytest.approx(0.2 / math.cos(angle), abs=0.021)  # each setting to 0.005 mm


def test_a_tail_for_a_stopped_socket_is_notched_last_where_its_end_is_stopped(tmp_path: Path) -> None:
    sheet = " ".join(sheet_of(tmp_path, from_=[100.0, 15.0], length=105.0, start="stopped").split())
    found = re.search(r"Last, saw off ([\d.]+) mm of the tail at the (\w+) edge, down to the shoulder", sheet)
    assert found
    # 15 mm to the extreme end of the socket, the bit's round of 6.35 and half a millimetre of room, the flank's lean
    assert float(found[1]) == pytest.approx(15.0 + 12.7 / 2.0 + 0.5 + 8.0 * math.tan(math.radians(8.0)), abs=0.26)
    assert found[2] == "lower"
