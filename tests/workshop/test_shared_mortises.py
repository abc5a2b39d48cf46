"""Mortises by a sheet that they share with other joints: rows, mates, ends; the sheet is read, and done as it says."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from support.jobs import Table, kit_table, write_job
from support.output_folder import GOUGE, LEFT
from support.outside_cut import RIDE_ERROR, Verdict, Wanted, back, compare, grown, moved, part_at, swept
from support.shop import jigcam

from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.setup_sheet import setup_sheet
from jigcam.making.shared_sheet import SharedPlan
from jigcam.piece.copies import copies_of, meetings_of
from jigcam.template.marks import Text
from jigcam.workshop.build import build_job, plan_job

BOARDS: Table = {
    "side": {"length": 700.0, "width": 240.0, "thickness": 25.0},
    "rail": {"length": 400.0, "width": 120.0, "thickness": 30.0},
    "stile": {"length": 400.0, "width": 50.0, "thickness": 30.0},
    "other stile": {"length": 400.0, "width": 50.0, "thickness": 30.0},
    "shelf": {"length": 400.0, "width": 200.0, "thickness": 18.0},
}
ON: Table = {"way": "template", "template": "rail sheet"}
HOME: Table = {**ON, "board": "side", "face": "inside"}
IN_END: Table = {"board": "rail", "end": "left"}


def tenon(name: str, at: Sequence[float], **keys: Any) -> Table:
    """A mortise of 40 by 14 mm, 12 mm deep, across the grain of the side."""
    entry: Table = {"name": name, "kind": "mortise", **HOME, "at": list(at), "angle": 90}
    return {**entry, "length": 40.0, "width": 14.0, "depth": 12.0, "clearance": 0.1, **keys}


def groove(**keys: Any) -> Table:
    entry: Table = {"name": "shelf groove", "kind": "groove", **HOME, "from": [260.0, 60.0], "angle": 90}
    return {**entry, "length": 120.0, "depth": 8.0, "receives": "shelf", "clearance": 0.1, **keys}


def job(*joints: Table) -> Table:
    return {"job": "Sheet-music cabinet", "units": "mm", "kit": "metric-shop", "boards": BOARDS, "joints": list(joints)}


def drawn(at: tuple[float, float], angle: float, board: tuple[float, float], depth: float = 12.0) -> Wanted:
    """A mortise of these jobs in a frame of its face or end."""
    turn = math.radians(angle)
    start = (at[0] - 20.0 * math.cos(turn), at[1] - 20.0 * math.sin(turn))
    return Wanted(start, turn, 0.0, 40.0, 14.0, depth, True, (*board, 25.0))


@dataclass(frozen=True)
class Sheet:
    """What is made of a job with one sheet: its file, its entry in the manifest, its proof, its words."""

    entry: Table
    text: str
    proof: list[Table]
    words: str
    cuts: dict[str, Any] = field(default_factory=dict)

    def section(self, heading: str) -> str:
        """The points under the first heading that begins so."""
        found = re.search(rf"\d+\. {heading}.*?\n(.*?)(?=\n\n|\Z)", self.words, re.DOTALL)
        assert found, heading
        return " ".join(found[1].split())

    def ridden(self, joint: str, home: tuple[float, float], wanted: Wanted, move: Any = None) -> Verdict:
        """What the bushing leads the bit to cut in a joint's opening, against what is wanted there.

        home: the middle of the opening, as drawn; move: where the sheet lies by, from where it lies as drawn, 3×3.
        """
        if joint not in self.cuts:
            guide = self.entry["guides"][joint]
            milled = swept(self.text, self.entry["bit"]["diameter"] / 2, -self.entry["stock"][2] / 2)
            opening = part_at(back(milled, self.entry["placement"]), np.array(home))
            reach = grown(opening, -guide["bushing"]["outside"] / 2)
            self.cuts[joint] = grown(reach, guide["bit"]["diameter"] / 2)
        cut = self.cuts[joint]
        return compare(cut if move is None else moved(cut, move[:2].tolist()), wanted, 0.0)


def made(folder: Path, *joints: Table) -> Sheet:
    """By the straight bits of the metric shop alone: marks are written by hand, and need no proof."""
    kit = kit_table("mm")
    kit["bits"] = [bit for bit in kit["bits"] if bit["name"] in ("straight 6", "straight 12")]
    read = load_job(write_job(folder, job(*joints), kit))
    built = build_job(read, kit_for(read))
    (joint,), (proof,) = built.joints, built.proofs
    (file,) = joint.files
    entry = json.loads(json.dumps(file.made(built.kit.the_machine).entry()))
    return Sheet(entry, file.text, built.as_dict()["proof"], "\n".join(setup_sheet(joint, proof, built)))


def as_drawn(seen: Verdict) -> bool:
    return seen.gouge <= GOUGE + RIDE_ERROR and seen.left <= LEFT + RIDE_ERROR


def laid(homes: list[tuple[float, float]], there: list[tuple[float, float]], *, over: bool) -> Any:
    """The move (3×3) that brings two middles to where the words say that they are, the sheet turned over or not."""
    (a, b), (c, d) = (np.array([complex(*point) for point in pair]) for pair in (homes, there))
    p, q = (np.conj(a), np.conj(b)) if over else (a, b)
    turn = (d - c) / (q - p)
    assert abs(turn) == pytest.approx(1.0, abs=1e-3), "the sheet holds their distance"
    shift = c - turn * p
    sign = -1.0 if over else 1.0
    return np.array(
        [[turn.real, -sign * turn.imag, shift.real], [turn.imag, sign * turn.real, shift.imag], [0.0, 0.0, 1.0]]
    )


@pytest.fixture(scope="module")
def pair(tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    """Two tenons of a rail and a shelf's groove beside them, by one sheet; the lower mate is deeper."""
    return made(
        tmp_path_factory.mktemp("pair"),
        tenon("upper tenon", [200, 70], mate={**IN_END, "at": [30, 15]}),
        tenon("lower tenon", [200, 130], mate={**IN_END, "at": [90, 15], "depth": 14}),
        groove(),
    )


HOMES = {"upper tenon": (200.0, 70.0), "lower tenon": (200.0, 130.0)}


def test_each_opening_cuts_its_mortise_beside_the_groove(pair: Sheet) -> None:
    board = (700.0, 240.0)
    for name, (x, y) in HOMES.items():
        assert as_drawn(pair.ridden(name, (x, y), drawn((x, y), 90, board)))
    off = pair.ridden("lower tenon", (200.0, 130.0), drawn((200.05, 130.0), 90, board))
    assert off.gouge == pytest.approx(0.05, abs=0.003), "the judge from outside sees what is off"
    assert list(pair.entry["guides"]) == ["upper tenon", "lower tenon", "shelf groove"]
    for proof in pair.proof[:2]:
        seats = [seat for row in proof["fit"]["mortises"] for seat in row["seats"]]
        assert len(seats) == 2
        assert all(seat["seats"] and seat["total_mm"] == pytest.approx(0.1, abs=0.02) for seat in seats)


def test_both_mates_are_cut_by_one_laying_where_the_words_say(pair: Sheet) -> None:
    """The distance of both mates is held by the sheet: laid by the two middles that are told, it cuts them as drawn."""
    says = pair.section("Again: the mate of upper tenon, the mate of lower tenon, in the left end of rail")
    told = re.findall(r"The mate of (\w+ tenon): middle ([\d.]+) mm from the lower edge and ([\d.]+) mm", says)
    there = {name: (float(x), float(y)) for name, x, y in told}
    assert there == {"upper tenon": (30.0, 15.0), "lower tenon": (90.0, 15.0)}
    move = laid(list(HOMES.values()), list(there.values()), over=False)
    for name, at in there.items():
        assert as_drawn(pair.ridden(name, HOMES[name], drawn(at, 0, (120.0, 30.0)), move))
    assert "It is 14 mm deep: at the last pass the bit stands 26 mm below the base." in says
    assert "Cut in the openings of upper tenon and lower tenon alone" in says
    assert "Stand the board in the bench vise with its left end up" in says
    assert "lower than the end" not in says, "the strips are off, and nothing has to clear them"


def test_the_tenons_are_told_of_each_joint(pair: Sheet) -> None:
    assert "Cut the strip into a tenon of 22.5 mm" in pair.section("Make the loose tenon for upper tenon")
    assert "Cut the strip into a tenon of 24.5 mm" in pair.section("Make the loose tenon for lower tenon")


def test_mates_the_other_way_round_are_cut_by_the_sheet_turned_over(tmp_path: Path) -> None:
    """Along the grain in both boards, and mirrored: one page turned serves both, and the faces say so."""
    face: Table = {"board": "rail", "face": "outside", "angle": 180}
    homes = [(200.0, 60.0), (260.0, 70.0)]
    first = tenon("first", homes[0], angle=0, mate={**face, "at": [160, 50]})
    second = tenon("second", homes[1], angle=0, mate={**face, "at": [100, 60]})
    sheet = made(tmp_path, first, second)
    read = load_job(write_job(tmp_path, job(first, second)))
    (joint,) = plan_job(read, kit_for(read))
    assert isinstance(joint.plan, SharedPlan)
    marks = {mark.string for mark in joint.plan.sheet.first.marks if isinstance(mark, Text)}
    assert {"THIS FACE UP: SIDE", "TURN OVER: RAIL OUTSIDE FACE"} <= marks
    says = sheet.section("Again: the mate of first, the mate of second, in the outside face of rail")
    assert "Turn the sheet over like the page of a book" in says
    assert "the fence, moved to the other face of the sheet through the same holes, against the lower edge" in says
    there = [(160.0, 50.0), (100.0, 60.0)]
    move = laid(homes, there, over=True)
    for name, home, at in zip(("first", "second"), homes, there, strict=True):
        assert as_drawn(sheet.ridden(name, home, drawn(at, 0, (400.0, 120.0)), move))
    (spacer,) = re.findall(r"against the lower edge, with a spacer of ([\d.]+) mm", says)
    assert float(spacer) == 10.0, "the fence bears 60 mm from the first middle, and the mate is 50 mm from its edge"


def test_mates_that_lie_otherwise_are_cut_by_layings_of_their_own(tmp_path: Path) -> None:
    sheet = made(
        tmp_path,
        tenon("upper tenon", [200, 70], mate={**IN_END, "board": "stile", "at": [25, 15]}),
        tenon("lower tenon", [200, 130], mate={**IN_END, "board": "other stile", "at": [25, 15]}),
    )
    titles = re.findall(r"^\d+\. Again: (.*)$", sheet.words, re.MULTILINE)
    boards = ("stile", "other stile")
    assert titles == [f"the mate of {n}, in the left end of {b}" for n, b in zip(HOMES, boards, strict=True)]


def test_rows_of_one_step_move_on_together_from_line_to_line(tmp_path: Path) -> None:
    row = {"count": 3, "pitch": 180}
    sheet = made(tmp_path, tenon("tenons", [150, 70], repeat=row), groove(**{"from": [200, 60]}, repeat=row))
    first = re.search(r"Draw a line on the board ([\d.]+) mm from its right end", " ".join(sheet.words.split()))
    assert first
    for number in (1, 2):
        title = f"Again: mortise {number + 1} of 3 of tenons, groove {number + 1} of 3 of shelf groove"
        says = sheet.section(title)
        assert "the fence against the lower edge" in says
        (line,) = re.findall(r"index line on one drawn ([\d.]+) mm from the right end", says)
        shift = float(line) - float(first[1])
        move = np.array([[1.0, 0.0, shift], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
        assert as_drawn(
            sheet.ridden("tenons", (150.0, 70.0), drawn((150 + 180 * number, 70), 90, (700.0, 240.0)), move)
        )
        its = Wanted((200 + 180 * number, 60), math.pi / 2, 0.0, 120.0, 18.1, 8.0, True, (700.0, 240.0, 25.0))
        assert as_drawn(sheet.ridden("shelf groove", (200.0, 120.0), its, move))
    assert sheet.entry["guides"]["tenons"]["moved_by"] == [[0, 0], [180, 0], [360, 0]]
    fits = [proof["fit"] for proof in sheet.proof]
    assert len(fits[0]["mortises"][0]["seats"]) == 3
    assert len(fits[1]["places"]) == 2


def test_a_row_beside_one_that_stays_is_moved_on_for_its_opening_alone(tmp_path: Path) -> None:
    sheet = made(tmp_path, tenon("tenons", [150, 70], repeat={"count": 2, "pitch": 200}), groove())
    assert "Cut in the opening of tenons alone" in sheet.section("Again: mortise 2 of 2 of tenons, in the inside face")
    assert "moved_by" not in sheet.entry["guides"]["shelf groove"]


def test_two_tenons_of_a_rail_are_joints_of_one_board(tmp_path: Path) -> None:
    """The piece took a rail for each of them, and two rails in one place do not go together."""
    upper = tenon("upper tenon", [200, 70], mate={**IN_END, "at": [30, 15]})
    names = {}
    for x in (90, 60):
        lower = tenon("lower tenon", [200, 130], mate={**IN_END, "at": [x, 15]})
        read = load_job(write_job(tmp_path / str(x), job(upper, lower)))
        names[x] = [copy.name for copy in copies_of(read, meetings_of(read)) if "rail" in copy.name]
    assert names == {90: ["rail"], 60: ["rail 1", "rail 2"]}


@pytest.mark.parametrize("end", ["left", "right"])
def test_two_mortises_of_an_end_share_a_sheet(end: str, tmp_path: Path) -> None:
    its: Table = {"board": "rail", "end": end, "angle": 0, "depth": 10.0}
    joints = [tenon(name, at, **its) for name, at in (("upper tenon", [30, 15]), ("lower tenon", [90, 15]))]
    for each in joints:
        del each["face"]
    sheet = made(tmp_path, *joints)
    for name, x in (("upper tenon", 30.0), ("lower tenon", 90.0)):
        assert as_drawn(sheet.ridden(name, (x, 15.0), drawn((x, 15.0), 0, (120.0, 30.0), 10.0)))
    assert f"Stand the board in the bench vise with its {end} end up" in sheet.section("Lay the sheet once")


@pytest.mark.parametrize(
    ("at", "other", "says"),
    [
        ([60, 12], {"board": "side", "end": "left", "face": None, "angle": 0}, "a sheet is laid on one face"),
        ([60, 60], {"board": "rail"}, "a sheet is laid on one board"),
        ([200, 130], {"way": "direct"}, "the joint is cut without a template"),
    ],
)
def test_what_no_sheet_can_hold_is_an_input_error_with_the_way_that_works(
    at: Sequence[float], other: Table, says: str, tmp_path: Path
) -> None:
    second = {key: value for key, value in tenon("second", at, **other).items() if value is not None}
    run = jigcam("check", write_job(tmp_path, job(tenon("first", [200, 70]), second)))
    assert run.status == 2
    assert says in " ".join(run.err.split())


def test_a_groove_in_both_faces_shares_its_sheet_with_none(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, job(tenon("first", [200, 70]), groove(face="both"))))
    assert run.status == 2
    assert "cut in both faces turns its sheet over by itself" in " ".join(run.err.split())


def test_a_mate_out_of_reach_of_the_shared_bit_is_refused_in_numbers(tmp_path: Path) -> None:
    deep = tenon("first", [200, 70], mate={**IN_END, "at": [30, 15], "depth": 60})
    run = jigcam("check", write_job(tmp_path, job(deep, groove())), "--json")
    assert run.status == 1
    assert {each["rule"] for each in run.json["findings"] if each["level"] == "stop"} == {"bit-too-short"}


def test_without_a_machine_the_sheet_is_laid_again_all_the_same(tmp_path: Path) -> None:
    kit = kit_table("mm")
    del kit["machine"]
    mates = [tenon(name, at, mate={**IN_END, "at": [at[1] - 40, 15]}) for name, at in HOMES.items()]
    run = jigcam("make", write_job(tmp_path, job(*mates), kit), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    words = (tmp_path / "out" / "rail-sheet" / "setup-sheet.txt").read_text()
    assert "Again: the mate of upper tenon, the mate of lower tenon" in words
