"""One order of work, whatever order the joints are written in: every place tells it, and nothing is spoilt by it.

The order itself is stated here from the shop: a corner joint takes the corners of a board away, so what is measured
from them is cut before it; a rabbet takes an edge away, so what is measured from that comes before it; and a back goes
in last (common practice, no source).
"""

from __future__ import annotations

import io
import random
import re
from itertools import permutations
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pypdf
import pytest
from click.testing import CliRunner
from support.boards import TOP, board_job, dado
from support.jobs import job_table, write_job
from support.pieces import BACK, CORNERS, HOUSED, NOSING, RAIL, case

import jigcam
from jigcam.cli import main
from jigcam.drawing.leaf import Leaf, bound
from jigcam.job import Job
from jigcam.joints import design
from jigcam.kit import load_kit
from jigcam.making.blocks import Sentence
from jigcam.making.built import Built
from jigcam.making.setup import Setup
from jigcam.making.setup_sheet import sheet_of
from jigcam.making.words import minutes
from jigcam.making.work_order import Clamping, WorkOrder
from jigcam.making.work_words import order_words
from jigcam.piece.body import Body
from jigcam.piece.copies import piece_of
from jigcam.piece.order_of_work import work_order
from jigcam.piece.runs import runs_of
from jigcam.toolpath import seconds
from jigcam.workshop.build import build_job, planned_job
from jigcam.workshop.cover import cover
from jigcam.workshop.loading import load_job
from jigcam.workshop.plan_pack import CHAPTERS, Pack

JOINTS = (HOUSED, BACK, CORNERS, RAIL, NOSING)


def is_sound(sheets: tuple[str, ...]) -> bool:
    """Whether each joint finds what it is measured from."""
    side = [name for name in sheets if name in ("shelf", "back", "corners")]
    shelf = [name for name in sheets if name in ("rail", "nosing")]
    return side == ["shelf", "back", "corners"] and shelf == ["rail", "nosing"]


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return load_job(write_job(tmp_path_factory.mktemp("case"), case(*JOINTS)))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Made from the worst order: the corners first, the nosing before the rail, the back before the shelf."""
    at = tmp_path_factory.mktemp("worst")
    job = write_job(at, case(CORNERS, NOSING, BACK, RAIL, HOUSED))
    run = CliRunner().invoke(main, ["make", str(job), "-o", str(at / "out")])
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


def test_the_cabinet_in_other_orders_of_its_joints() -> None:
    """Its corners take every corner of sides and tops, by which all that lies in their faces is laid; a drawer's side
    is laid for its groove by the end that carries the tails named here."""
    loaded = load_job(Path("examples/music-cabinet/cabinet.toml"))
    bodies = {each.name: [Body(taken) for taken in design(each, loaded).taken()] for each in loaded.joints}
    piece, chance = piece_of(loaded), random.Random(16)
    before = [(name, "carcase corners") for name in ("shelf and strip", "trays", "divider")]
    before += [("bottom, in the left side", "drawer front, left"), ("bottom, in the right side", "drawer back, right")]
    for joints in (loaded.joints[::-1], *(chance.sample(loaded.joints, len(loaded.joints)) for _ in range(3))):
        job = loaded.model_copy(update={"joints": tuple(joints)})
        order = work_order(job, [body for each in joints for body in bodies[each.name]], assembled=piece)
        assert not order.against
        assert len(order.stages) == len(order.sheets) == 11, "each sheet once"
        assert all(order.sheets.index(first) < order.sheets.index(then) for first, then in before)


def numbered(text: str) -> list[str]:
    """The names of sheets in a text of the cover: a number and a joint in a row."""
    begin, end = text.index("The joints, in the order of work"), text.index("Tools, of the")
    names = "|".join(each["name"] for each in JOINTS)
    rows = re.findall(rf"(\d+)\s+({names})\b", text[begin:end])
    assert [int(number) for number, _ in rows] == [*range(1, len(rows) + 1)]
    return [name for _, name in rows]


def cover_pages(built: Built) -> list[Leaf]:
    """The cover of a plan, without pictures and chapters."""
    return cover(built, "a4", (), (), (), ())


def text_of(leaves: list[Leaf]) -> str:
    reader = pypdf.PdfReader(io.BytesIO(bound(leaves, "")))
    return "\n".join(page.extract_text() for page in reader.pages)


def test_every_place_tells_the_same_order(folder: Path) -> None:
    out, worst = folder / "out", load_job(folder / "job.toml")
    built = build_job(worst, load_kit("metric-shop"))
    told = numbered(text_of(cover_pages(built)))
    assert is_sound(tuple(told))
    assert len(told) == len(JOINTS)

    # The sheets of the plan, each under its name; without their pictures, which take long.
    sheets = next(make for name, _, make in CHAPTERS if name == "setup sheets in the order of work")
    pack = Pack(built, "a4", {})
    assert [leaf.mark for leaf in sheets(pack, {name: {} for name in told}) if leaf.mark] == told

    # Each sheet says its number and its neighbours.
    for number, name in enumerate(told, start=1):
        sheet = " ".join((out / name / "setup-sheet.txt").read_text().split())
        near = [f"after {told[number - 2]}"] * (number > 1) + [f"before {each}" for each in told[number : number + 1]]
        assert f"Sheet {number} of 5 in the order of work: {'; '.join(near)}." in sheet

    # The cut list, as made and as `jigcam piece` says it, has on each board those of its joints in that order.
    lists = [(out / "piece" / "cut-list.txt").read_text()]
    lists.append(CliRunner().invoke(main, ["piece", str(folder / "job.toml")]).output)
    for text in lists:
        work = text[text.index("What is done to each board") :]
        boards = re.split(r"\n  (?=\S)", work)[1:]
        seen = {}
        for board in boards:
            rows = re.findall(r"^ +(\d+)  (.+?) \(", board, re.MULTILINE)
            assert [int(number) for number, _ in rows] == [*range(1, len(rows) + 1)]
            names = list(dict.fromkeys(name for _, name in rows))
            assert names == [name for name in told if name in names]
            seen[re.split(r"[,\n]", board)[0]] = names
        assert seen == {"side": ["shelf", "back", "corners"], "end": ["corners"], "shelf": ["rail", "nosing"]}

    # The screen.
    screen = (folder / "screen.txt").read_text()
    assert re.findall(r"^  (\S+)/setup-sheet\.txt", screen, re.MULTILINE) == told
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


def setup_of(board: str, side: str = "", **keys: object) -> Setup:
    """What is asked of a setup to know for which boards it is run."""
    end = side.removesuffix(" end") if side.endswith(" end") else None
    told = {"board": board, "clamping": "upright" if end else "flat", "end": end, "side": side, "hand": "as drawn"}
    return cast("Setup", SimpleNamespace(**{**told, **keys}))


def test_a_file_is_run_for_every_board_that_it_cuts() -> None:
    """The cabinet: two sides, mirror images with corners that are alike; two tops, of which one holds the divider."""
    job = load_job(Path("examples/music-cabinet/cabinet.toml"))
    piece = piece_of(job)

    def runs(joint: str, *setups: Setup) -> list[int]:
        taken = design(job.joint(joint), job).taken()
        return [runs_of(each, (joint,), setups, taken, piece) for each in setups]

    ends = [setup_of(board, f"{end} end") for board in ("side", "top") for end in ("left", "right")]
    assert runs("carcase corners", *ends) == [2, 2, 2, 2]
    hands = [setup_of("side", "inside face", hand=hand) for hand in ("as drawn", "opposite")]
    assert runs("trays", *hands) == [1, 1]
    assert runs("divider", setup_of("top", "inside face"), setup_of("divider", "left end")) == [1, 1]
    assert runs("tilted shelf", setup_of("side", "inside face", clamping="template")) == [1]


def test_cover_and_sheet_tell_the_time_for_one_board_and_for_all(tmp_path: Path) -> None:
    table = job_table("mm", way="direct", opposite_hand=False, boards={"other side": {"like": "side"}})
    built = jigcam.make(write_job(tmp_path, table)).built
    (joint,) = built.joints
    (file,) = joint.files
    time = seconds(file.program, built.kit.the_machine)
    sheet = " ".join(sheet_of(joint, built.proofs[0], built).lines())
    assert f"It runs for about {minutes(time)}, a board, and about {minutes(2.0 * time)} for all boards" in sheet
    told = " ".join(text_of(cover_pages(built)).split())
    assert f"on the CNC {minutes(time)} {minutes(2.0 * time)}" in told
    assert f"{minutes(2.0 * time)} in all" in told


def test_a_sheet_that_another_one_parts_says_what_is_done_when() -> None:
    def clamped(sheet: str, board: str, side: str) -> Clamping:
        return Clamping(sheet, (sheet,), "groove", board, (board,), side)

    order = WorkOrder(
        (clamped("a", "top", "left end"), clamped("b", "top", "inside face"), clamped("a", "rail", "face"))
    )
    built = cast("Built", SimpleNamespace(order=order, joints=("a", "b")))
    (told,) = order_words("a", built)
    assert told == Sentence(
        "First only top, left end: 1 of 3 in the order of work: before b. "
        "Then only rail, face: 3 of 3 in the order of work: after b."
    )
