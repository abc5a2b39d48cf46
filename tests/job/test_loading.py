"""Jobs from files: the contract's own, the shipped ones, and everything that can be wrong with one."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from jigcam.errors import Faults, InputError, JigcamError
from jigcam.job import Job, kit_for
from jigcam.joints import kind_called, load_job
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.units import parse_length

EXAMPLES = Path(__file__).parents[2] / "examples"

JOB = """\
job   = "Sheet-music cabinet"
units = "in"
kit   = "inch-shop"

[boards.side]
length = 22
width = "11-1/4"
thickness = "15/16"
wood = "black cherry"
sawn = "quarter"

[boards.shelf]
length = 28
width = 10
thickness = "1/2"

[[joints]]
name  = "tilted shelf"
kind  = "groove"
board = "side"
face  = "inside"
from  = [4, "1-1/2"]
angle = 78
length = 8
depth = "5/16"
receives = "shelf"
clearance = "0.006"
start = "stopped"
finish = "stopped"
ends  = "round"
opposite_hand = true
way   = "template"
"""

SECOND = """\
[[joints]]
name = "lower shelf"
kind = "groove"
board = "side"
face = "inside"
from = [2, 3]
angle = 90
length = 6
depth = "1/4"
width = "1/2"
"""


def load(tmp_path: Path, text: str) -> Job:
    path = tmp_path / "job.toml"
    path.write_text(text, "utf-8")
    return load_job(path)


def faults_of(tmp_path: Path, text: str) -> list[JigcamError]:
    with pytest.raises(Faults) as caught:
        load(tmp_path, text)
    return list(caught.value.faults)


def groove(job: Job, number: int = 0) -> GrooveEntry:
    entry = job.joints[number]
    assert isinstance(entry, GrooveEntry)
    return entry


def test_the_job_is_in_mm_and_radians(tmp_path: Path) -> None:
    job = load(tmp_path, JOB)
    assert (job.title, job.units, job.kit) == ("Sheet-music cabinet", "in", "inch-shop")
    assert job.path == tmp_path / "job.toml"
    side = job.board("side")
    assert (side.name, side.length, side.width, side.thickness) == ("side", 558.8, 285.75, 23.8125)
    assert (side.wood, side.sawn) == ("black cherry", "quarter")
    assert job.board("shelf").wood is None
    entry = groove(job)
    assert entry.start_point == (101.6, 38.1)
    assert entry.angle == pytest.approx(math.radians(78))
    assert (entry.length, entry.depth) == (203.2, 7.9375)
    assert entry.clearance == pytest.approx(0.1524)
    assert (entry.start, entry.finish, entry.ends) == ("stopped", "stopped", "round")
    assert (entry.way, entry.opposite_hand) == ("template", True)
    assert (entry.bit, entry.bushing, entry.width) == (None, None, None)


def test_what_can_be_left_out(tmp_path: Path) -> None:
    entry = groove(load(tmp_path, JOB + SECOND), 1)
    assert entry.clearance == 0.1
    assert (entry.start, entry.finish, entry.ends) == ("stopped", "stopped", "round")
    assert (entry.way, entry.opposite_hand, entry.receives) == ("template", False, None)
    assert entry.width == 12.7


def test_strings_carry_their_own_units(tmp_path: Path) -> None:
    text = JOB.replace('depth = "5/16"', 'depth = "8 mm"').replace("angle = 78", 'angle = "78°"')
    assert groove(load(tmp_path, text)).depth == 8.0


def test_where_things_stand(tmp_path: Path) -> None:
    job = load(tmp_path, JOB + SECOND)
    file = tmp_path / "job.toml"
    assert job.where("kit") == f"{file}:3: kit"
    assert job.where_of(job.joints[0], "depth") == f"{file}:25: joints[1].depth"
    assert job.where_of(job.joints[1]) == f"{file}:33: joints[2]"
    assert job.where_of(job.joints[1], "ends") == f"{file}:33: joints[2].ends"


def test_a_job_made_in_python_has_no_lines(tmp_path: Path) -> None:
    read = load(tmp_path, JOB)
    made = Job(title="x", units="mm", boards={"side": read.board("side")}, joints=read.joints)
    assert made.path is None
    assert made.where("joints", 0, "depth") == "joints[1].depth"
    assert made.joints == read.joints


@pytest.mark.parametrize(
    ("old", "new", "key", "what"),
    [
        ('job   = "Sheet-music cabinet"', 'job = ""', "job", "an empty name"),
        ('units = "in"', 'units = "cm"', "units", 'units cannot be "cm"'),
        ('kit   = "inch-shop"', "kit = 1", "kit", "not a name"),
        ('kit   = "inch-shop"', 'kit = "inch-shop"\ncolour = 1', "colour", "the key colour is not known"),
        ("length = 22", "lenght = 22", "boards.side.lenght", "the key lenght is not known"),
        ("length = 22", "length = -22", "boards.side.length", "a size cannot be negative"),
        ("length = 22", "length = 0", "boards.side.length", "a size cannot be zero"),
        ("length = 22", "length = nan", "boards.side.length", "not a usable number"),
        ("length = 22", "length = inf", "boards.side.length", "not a usable number"),
        ("length = 22", 'length = "2200"', "boards.side.length", "a length of a board that is surely not in inches"),
        ("length = 22", "length = 0.0001", "boards.side.length", "a size too small to be meant"),
        ("length = 22", "length = true", "boards.side.length", "not a number"),
        ("length = 22", 'length = "22 ft"', "boards.side.length", "the unit of a length is not known"),
        ("length = 22", "length = [22]", "boards.side.length", "not a number"),
        ("length = 22", 'name = "x"\nlength = 22', "boards.side.name", "the key name is not known"),
        ('wood = "black cherry"', 'wood = "black chery"', "boards.side.wood", "there is no wood called 'black chery'"),
        ('sawn = "quarter"', 'sawn = "quartered"', "boards.side.sawn", 'sawn cannot be "quartered"'),
        ('kind  = "groove"', 'kind = "grove"', "joints[1].kind", 'there is no kind of joint called "grove"'),
        ('kind  = "groove"', "kind = 3", "joints[1].kind", "there is no such kind of joint"),
        ('kind  = "groove"\n', "", "joints[1]", "kind is missing"),
        ('board = "side"', 'board = "sid"', "joints[1].board", "there is no board called 'sid'"),
        ('receives = "shelf"', 'receives = "shelves"', "joints[1].receives", "there is no board called 'shelves'"),
        ('receives = "shelf"\n', "", "joints[1]", "the groove has no width"),
        ('face  = "inside"', 'face = "inner"', "joints[1].face", 'face cannot be "inner"'),
        ('from  = [4, "1-1/2"]', "from = [4]", "joints[1].from", "not such a list"),
        ('from  = [4, "1-1/2"]', 'from = [4, "1/0"]', "joints[1].from[2]", "a fraction over nothing"),
        (
            'from  = [4, "1-1/2"]',
            "start_point = [4, 2]\nfrom = [4, 2]",
            "joints[1].start_point",
            "the key start_point is not known",
        ),
        ("angle = 78", 'angle = "1:7"', "joints[1].angle", "not an angle in degrees"),
        ("angle = 78", "angle = 7800", "joints[1].angle", "a direction too large to be meant"),
        ("angle = 78\n", "", "joints[1].angle", "angle is missing"),
        ('depth = "5/16"', "depth = -1", "joints[1].depth", "a size cannot be negative"),
        ('clearance = "0.006"', "clearance = -0.006", "joints[1].clearance", "a clearance cannot be negative"),
        ('clearance = "0.006"', "clearance = 6", "joints[1].clearance", "a clearance that is surely not in inches"),
        (
            'clearance = "0.006"',
            'clearance = "6 mm"\nwidth = "5 mm"',
            "joints[1].clearance",
            "the clearance is as wide as the groove",
        ),
        ('start = "stopped"', 'start = "opened"', "joints[1].start", 'start cannot be "opened"'),
        ('ends  = "round"', 'ends = "rounded"', "joints[1].ends", 'ends cannot be "rounded"'),
        ("opposite_hand = true", "opposite_hand = 1", "joints[1].opposite_hand", "neither true nor false"),
        ('way   = "template"', 'way = "templates"', "joints[1].way", 'way cannot be "templates"'),
        ('way   = "template"', 'bit = ""', "joints[1].bit", "an empty name"),
        ('name  = "tilted shelf"', f'name = "{"x" * 81}"', "joints[1].name", "too long a name"),
        ('name  = "tilted shelf"', 'name = " "', "joints[1].name", "an empty name"),
        ("[[joints]]", "[joints]", "joints", "not such a list"),
    ],
)
def test_each_fault_is_told_by_line_and_key(tmp_path: Path, old: str, new: str, key: str, what: str) -> None:
    assert old in JOB
    (fault, *others) = faults_of(tmp_path, JOB.replace(old, new, 1))
    assert not others
    assert fault.what == what
    place, _, told = fault.where.partition(": ")
    assert told == key
    lines = JOB.replace(old, new, 1).split("\n")
    last = key.rpartition(".")[2].partition("[")[0]
    assert last in lines[int(place.rpartition(":")[2]) - 1] or what == "angle is missing"
    assert fault.found
    assert fault.wanted


@pytest.mark.parametrize(
    ("old", "new", "mend"),
    [
        ("depth =", "dept =", "did you mean depth?"),
        ('"groove"', '"grove"', "did you mean 'groove'?"),
        ('board = "side"', 'board = "sid"', "did you mean 'side'?"),
        ('receives = "shelf"', 'receives = "shelff"', "did you mean 'shelf'?"),
        ('"black cherry"', '"black chery"', "did you mean 'black cherry'?"),
        ('way   = "template"', 'way = "templat"', 'did you mean "template"?'),
    ],
)
def test_the_nearest_is_named(tmp_path: Path, old: str, new: str, mend: str) -> None:
    assert [fault.mend for fault in faults_of(tmp_path, JOB.replace(old, new))] == [mend]


def test_many_faults_come_at_once(tmp_path: Path) -> None:
    text = JOB.replace("22", "-22").replace('"side"', '"sid"').replace("78", "nan").replace("depth", "dept")
    text += SECOND.replace("6", "0").replace("groove", "grove")
    assert [fault.where.partition(": ")[2] for fault in faults_of(tmp_path, text)] == [
        "boards.side.length",
        "joints[1].board",
        "joints[1].angle",
        "joints[1].dept",
        "joints[2].kind",
    ]


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("tilted shelf", "two joints have the same name"),
        ("Tilted  Shelf!", "two joints would be written to the same folder"),
        ("tïlted shelf", "two joints would be written to the same folder"),
    ],
)
def test_joints_need_names_and_folders_of_their_own(tmp_path: Path, name: str, what: str) -> None:
    (fault,) = faults_of(tmp_path, JOB + SECOND.replace("lower shelf", name))
    assert fault.what == what
    assert fault.where.endswith(":34: joints[2].name")


def test_names_with_nothing_for_a_folder_get_a_number(tmp_path: Path) -> None:
    job = load(tmp_path, JOB + SECOND.replace("lower shelf", "棚"))
    assert job.folders == {"tilted shelf": "tilted-shelf", "棚": "joint-2"}
    text = JOB.replace("tilted shelf", "joint 2") + SECOND.replace("lower shelf", "棚")
    (fault,) = faults_of(tmp_path, text)
    assert fault.what == "two joints would be written to the same folder"


@pytest.mark.parametrize("name", ["x) G0 Z-50 (", "a\\nM3 S9000\\nb", "Türe ⅜ 棚", "\\u001b[2J"])
def test_names_survive_as_they_are(tmp_path: Path, name: str) -> None:
    text = JOB.replace("boards.side", f'boards."{name}"').replace('"side"', f'"{name}"')
    meant = name.encode().decode("unicode_escape") if "\\" in name else name
    job = load(tmp_path, text.replace("tilted shelf", name))
    assert job.board(meant).name == meant
    assert job.joints[0].name == meant
    assert job.joint(meant) is job.joints[0]


@pytest.mark.parametrize("text", ["", "joints = []\nboards = {}"])
def test_a_job_that_lacks_everything(tmp_path: Path, text: str) -> None:
    whats = [fault.what for fault in faults_of(tmp_path, text)]
    assert "job is missing" in whats
    assert "units is missing" in whats
    assert ("the job has no joints" if text else "joints is missing") in whats


def test_boards_and_joints_by_name(tmp_path: Path) -> None:
    job = load(tmp_path, JOB)
    for find, wrong, mend in ((job.board, "sides", "side"), (job.joint, "tilted self", "tilted shelf")):
        with pytest.raises(InputError) as caught:
            find(wrong)
        assert caught.value.mend == f"did you mean {mend!r}?"


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        load_job(tmp_path / "none.toml")
    assert caught.value.where == str(tmp_path / "none.toml")


class TestKit:
    def test_by_its_shipped_name(self, tmp_path: Path) -> None:
        assert kit_for(load(tmp_path, JOB)).name == "Inch shop"

    def test_by_a_path_relative_to_the_job(self, tmp_path: Path) -> None:
        shipped = kit_for(load(tmp_path, JOB)).path
        assert shipped is not None
        (tmp_path / "mine.toml").write_text(shipped.read_text("utf-8").replace("Inch shop", "Mine"), "utf-8")
        assert kit_for(load(tmp_path, JOB.replace("inch-shop", "mine.toml"))).name == "Mine"

    def test_overridden(self, tmp_path: Path) -> None:
        assert kit_for(load(tmp_path, JOB), "metric-shop").name == "Metric shop"

    def test_that_is_not_there(self, tmp_path: Path) -> None:
        with pytest.raises(InputError) as caught:
            kit_for(load(tmp_path, JOB.replace("inch-shop", "inch-shp")))
        assert caught.value.where == f"{tmp_path / 'job.toml'}:3: kit"
        assert caught.value.mend == "did you mean 'inch-shop'?"

    def test_that_is_not_named(self, tmp_path: Path) -> None:
        with pytest.raises(InputError) as caught:
            kit_for(load(tmp_path, JOB.replace('kit   = "inch-shop"\n', "")))
        assert caught.value.what == "the job names no kit"

    def test_without_a_bit_or_bushing_that_a_joint_names(self, tmp_path: Path) -> None:
        job = load(tmp_path, JOB + 'bit = "strait 1/2"\nbushing = "bushing 3/5"\n')
        with pytest.raises(Faults) as caught:
            kit_for(job)
        assert [(fault.where, fault.mend) for fault in caught.value.faults] == [
            (f"{tmp_path / 'job.toml'}:33: joints[1].bit", "did you mean 'straight 1/2'?"),
            (f"{tmp_path / 'job.toml'}:34: joints[1].bushing", "did you mean 'bushing 3/4'?"),
        ]


@pytest.mark.skipif(not EXAMPLES.is_dir(), reason="examples come with the sources")
@pytest.mark.parametrize("name", ["tilted-shelf", "tilted-shelf-direct", "tilted-shelf-metric"])
def test_shipped_jobs_load_with_their_kits(name: str) -> None:
    job = load_job(EXAMPLES / "music-cabinet" / f"{name}.toml")
    assert kit_for(job).units == job.units
    assert groove(job).way == ("direct" if name.endswith("direct") else "template")


@pytest.mark.skipif(not EXAMPLES.is_dir(), reason="examples come with the sources")
def test_the_template_job_and_the_direct_one_ask_for_the_same_groove() -> None:
    template, direct = (
        groove(load_job(EXAMPLES / "music-cabinet" / name))
        for name in ("tilted-shelf.toml", "tilted-shelf-direct.toml")
    )
    assert template.model_copy(update={"way": "direct"}) == direct
    # 1/2 in shelf and 0.006 in of clearance: a groove of 0.506 in.
    assert 12.7 + direct.clearance == pytest.approx(parse_length("0.506 in", None))


@pytest.mark.parametrize(
    ("kind", "other", "renamed"),
    [
        ("through-dovetail", "finger-joint", {"tails": "a", "tails_end": "a_end", "pins": "b", "pins_end": "b_end"}),
        ("finger-joint", "through-dovetail", {"a": "tails", "a_end": "tails_end", "b": "pins", "b_end": "pins_end"}),
    ],
)
def test_the_keys_of_another_corner_are_answered_with_the_right_ones(
    tmp_path: Path, kind: str, other: str, renamed: dict[str, str]
) -> None:
    """Each was told as unknown and its own as missing, and `a` was taken for a slip of `way`."""
    starter = kind_called(kind).starter("in").replace(f'"{kind}"', f'"{other}"')
    faults = {fault.where.rpartition(".")[2]: fault.mend for fault in faults_of(tmp_path, starter)}
    assert {key: faults.get(key) for key in renamed} == {key: f"write {name}" for key, name in renamed.items()}
    assert not set(renamed.values()) & set(faults)


@pytest.mark.parametrize("slip", ["to fits", "fit", "To fit", "tofit", "to-fit", "to  fit"])
def test_a_slip_of_to_fit_is_answered_with_it(tmp_path: Path, slip: str) -> None:
    (fault,) = faults_of(tmp_path, JOB.replace("length = 22", f'length = "{slip}"'))
    assert fault.where.endswith("boards.side.length")
    assert fault.mend == 'did you mean "to fit"?'


def test_a_thickness_is_measured_and_never_to_fit(tmp_path: Path) -> None:
    thick = re.search(r"(?m)^thickness *= *(.*?) *$", JOB)
    assert thick
    (fault, *_) = faults_of(tmp_path, JOB.replace(thick[0], 'thickness = "to fit"', 1))
    assert (fault.what, fault.mend) == ("a thickness does not follow from the joints", "measure the board")


def test_a_mortise_in_inches_is_refused_in_inches(tmp_path: Path) -> None:
    """Its sizes were told in mm, whatever the file speaks."""
    starter = kind_called("mortise").starter("in")
    faults = faults_of(tmp_path, re.sub(r"(?m)^length    = 2 ", 'length    = "1/4"', starter))
    (fault,) = [each for each in faults if each.where.endswith("joints[1].length")]
    assert (fault.found, fault.wanted) == ("0.25 in", "more than the width of 0.375 in")


@pytest.mark.parametrize(
    ("old", "new", "mend"),
    [
        ('kind  = "groove"\n', "", "jigcam start says what each is"),
        (JOB[JOB.index("[[joints]]") :], "", "jigcam start"),
    ],
)
def test_what_is_missing_is_answered_with_where_it_is_told(tmp_path: Path, old: str, new: str, mend: str) -> None:
    told = "" if new or "kind" in old[:5] else "joints = []\n"
    faults = faults_of(tmp_path, told + JOB.replace(old, new))
    assert any(mend in fault.mend for fault in faults)
