"""One order of work, whatever order the joints are written in: every place tells it, and nothing is spoilt by it.

The order itself is stated here from the shop: a corner joint takes the corners of a board away, so what is measured
from them is cut before it; a rabbet takes an edge away, so what is measured from that comes before it; and a back goes
in last (common practice, no source).
"""

from __future__ import annotations

import io
import re
from itertools import permutations
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner
from support.boards import TOP, board_job, dado
from support.jobs import Table, job_table, write_job
from support.pieces import CORNERS, SHELF, box

import jigcam
from jigcam.cli import main
from jigcam.job import Job
from jigcam.joints import design
from jigcam.kit import load_kit
from jigcam.making.work_order import WorkOrder
from jigcam.piece.body import Body
from jigcam.piece.copies import piece_of
from jigcam.piece.order_of_work import work_order
from jigcam.workshop.build import planned_job
from jigcam.workshop.loading import load_job

BACK: Table = {
    "name": "back",
    "kind": "rabbet",
    "way": "hand",
    "board": "side",
    "face": "inside",
    "along": "upper",
    "receives": "back",
    "depth": 6,
    "from": 20,
    "length": 260,
}
RAIL: Table = {
    **SHELF,
    "name": "rail",
    "board": "shelf",
    "from": [60, 20],
    "length": 49.5,
    "start": "stopped",
    "finish": "open",
    "depth": 3,
    "width": 6,
}
del RAIL["receives"], RAIL["clearance"]
NOSING: Table = {
    "name": "nosing",
    "kind": "rabbet",
    "way": "hand",
    "board": "shelf",
    "face": "outside",
    "along": "lower",
    "width": 3,
    "depth": 4.4,
}
"""It leaves less than half of the edge, of 9 mm, by which the shelf is laid."""
HOUSED: Table = {**SHELF, "enters": "left"}
JOINTS = (HOUSED, BACK, CORNERS, RAIL, NOSING)


def case(joints: tuple[Table, ...] = JOINTS) -> Table:
    """The box with a back, and a shelf that has joints of its own."""
    table = box(joints=list(joints))
    table["boards"]["back"] = {"length": 259.8, "width": 207.9, "thickness": 5}
    return table


def is_sound(sheets: tuple[str, ...]) -> bool:
    """Whether each joint finds what it is measured from."""
    side = [name for name in sheets if name in ("shelf", "back", "corners")]
    shelf = [name for name in sheets if name in ("rail", "nosing")]
    return side == ["shelf", "back", "corners"] and shelf == ["rail", "nosing"]


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return load_job(write_job(tmp_path_factory.mktemp("case"), case()))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Made from the worst order: the corners first, the nosing before the rail, the back before the shelf."""
    at = tmp_path_factory.mktemp("worst")
    job = write_job(at, case((CORNERS, NOSING, BACK, RAIL, HOUSED)))
    run = CliRunner().invoke(main, ["make", str(job), "-o", str(at / "out"), "--plan"])
    assert run.exit_code == 0, run.output
    (at / "screen.txt").write_text(run.output)
    return at


def test_the_case_in_every_order_of_its_joints(loaded: Job) -> None:
    bodies = {each.name: [Body(taken) for taken in design(each, loaded).taken()] for each in loaded.joints}
    piece = piece_of(loaded)
    for joints in [*permutations(loaded.joints)][::5]:
        job = loaded.model_copy(update={"joints": joints})
        order = work_order(job, [body for each in joints for body in bodies[each.name]], assembled=piece)
        assert is_sound(order.sheets), [each.name for each in joints]
        assert not order.against
        # What could be left as it was written is.
        firsts = [each.name for each in joints]
        if is_sound(tuple(firsts)):
            assert order.sheets == tuple(firsts)


def numbered(text: str) -> list[str]:
    """The names of sheets in a text of the cover: a number and a joint in a row."""
    begin, end = text.index("The joints, in the order of work"), text.index("Tools, of the")
    names = "|".join(each["name"] for each in JOINTS)
    rows = re.findall(rf"(\d+)\s+({names})\b", text[begin:end])
    assert [int(number) for number, _ in rows] == [*range(1, len(rows) + 1)]
    return [name for _, name in rows]


def test_every_place_tells_the_same_order(folder: Path) -> None:
    out = folder / "out"
    reader = pypdf.PdfReader(io.BytesIO((out / "plan.pdf").read_bytes()))
    pages = [page.extract_text() for page in reader.pages]
    cover = numbered("\n".join(pages))
    assert is_sound(tuple(cover))
    assert len(cover) == len(JOINTS)

    # The outline of the plan has the sheets after cover, cut list, boards and templates.
    told = [str(each["/Title"]) for each in reader.outline if not isinstance(each, list)]
    assert [title for title in told if title in cover] == cover

    # Each sheet says its number and its neighbours.
    for number, name in enumerate(cover, start=1):
        sheet = " ".join((out / name / "setup-sheet.txt").read_text().split())
        near = [f"after {cover[number - 2]}"] * (number > 1) + [f"before {each}" for each in cover[number : number + 1]]
        assert f"Sheet {number} of 5 in the order of work: {', '.join(near)}." in sheet

    # The cut list, as made and as `jigcam piece` says it, has on each board those of its joints in that order.
    lists = [(out / "piece" / "cut-list.txt").read_text()]
    runner = CliRunner()
    lists.append(runner.invoke(main, ["piece", str(folder / "job.toml")]).output)
    for text in lists:
        work = text[text.index("What is done to each board") :]
        boards = re.split(r"\n  (?=\S)", work)[1:]
        seen = {}
        for board in boards:
            rows = re.findall(r"^ +(\d+)  (.+?) \(", board, re.MULTILINE)
            assert [int(number) for number, _ in rows] == [*range(1, len(rows) + 1)]
            names = list(dict.fromkeys(name for _, name in rows))
            assert names == [name for name in cover if name in names]
            seen[re.split(r"[,\n]", board)[0]] = names
        assert seen == {"side": ["shelf", "back", "corners"], "end": ["corners"], "shelf": ["rail", "nosing"]}

    # The screen.
    screen = (folder / "screen.txt").read_text()
    assert re.findall(r"^  (\S+)/setup-sheet\.txt", screen, re.MULTILINE) == cover
    assert "reference-gone" not in screen


def test_on_each_sheet_a_trial_comes_before_the_good_board(folder: Path) -> None:
    for each in JOINTS:
        sheet = (folder / "out" / each["name"] / "setup-sheet.txt").read_text()
        trial = sheet.index("Before the good board")
        assert all(trial < place.start() for place in re.finditer(r"^\d+\. ", sheet, re.MULTILINE))


def order_of(*joints: object) -> WorkOrder:
    return planned_job(board_job(*joints), load_kit("metric-shop")).piece.order  # type: ignore[arg-type]


def test_a_board_is_clamped_once_for_what_lies_in_one_clamping() -> None:
    elsewhere = dado("slot", 100.0, board=TOP.name)
    order = order_of(dado("one", 60.0), elsewhere, dado("two", 120.0), dado("back", 180.0, face="outside"))
    assert order.sheets == ("one", "two", "slot", "back")
    assert [each.stays for each in order.clampings] == ["", "one", "", ""]
    # What is drawn from the other end has its zero there: the board is clamped anew, and the order stays as written.
    told = [each.told for each in order.on("divider").clampings]
    assert told[1] == "two (groove), inside face, clamped as for one"


def test_the_boards_of_one_kind_share_their_files_and_each_takes_its_time(folder: Path, tmp_path: Path) -> None:
    table = job_table("mm", way="direct", opposite_hand=False)
    table["boards"]["other"] = {"like": table["joints"][0]["board"]}
    table["boards"]["third"] = {"like": table["joints"][0]["board"]}
    made = jigcam.make(write_job(tmp_path, table))
    print(made.built.runs)
