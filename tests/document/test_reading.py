"""Files that cannot be read, texts that are not TOML, and how a model's faults are told."""

from __future__ import annotations

import errno
import os
import socket
from pathlib import Path
from typing import Annotated, Literal

import pytest
from pydantic import Field

from jigcam.document import Document, key_text, unknown_key
from jigcam.document.fields import Flag, Name, Size, a_list
from jigcam.document.model import Model
from jigcam.document.reading import MOST
from jigcam.document.source import read_bounded
from jigcam.errors import Faults, InputError


def fault_of(path: Path) -> InputError:
    with pytest.raises(InputError) as caught:
        Document.read(path)
    return caught.value


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    error = fault_of(tmp_path / "none.toml")
    assert error.where.endswith("none.toml")
    assert error.found == "No such file or directory"
    assert error.wanted == "a TOML file"


def test_a_folder(tmp_path: Path) -> None:
    assert fault_of(tmp_path).what == "the file cannot be read"


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_without_permission(tmp_path: Path) -> None:
    path = tmp_path / "locked.toml"
    path.write_text("a = 1")
    path.chmod(0)
    assert fault_of(path).found == "Permission denied"


def test_a_name_that_no_file_can_have() -> None:
    assert fault_of(Path("a\0.toml")).what == "no file can have this name"


def test_a_file_that_is_not_utf_8(tmp_path: Path) -> None:
    path = tmp_path / "latin.toml"
    path.write_bytes('a = 1\nb = "Kirsche für"\n'.encode("latin-1"))
    error = fault_of(path)
    assert error.where == f"{path}:2"
    assert error.found == "byte 0xfc"


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes("\ufeffa = 1\r\n[t]\r\nb = 2\r\n".encode())
    document = Document.read(path)
    assert document.data == {"a": 1, "t": {"b": 2}}
    assert document.where("t", "b") == f"{path}:3: t.b"


@pytest.mark.parametrize(
    ("text", "place", "found"),
    [
        ("a = 1\nb = \nc = 3\n", "2:5", "the end of the line"),
        ("a = 1\na = 2\n", "2:6", "the end of the line"),
        ("a = 7/16\n", "1:6", ""),
        ("a = 1\n[[joints]\n", "2:9", ""),
        ('a = "open\n', "1:10", "the end of the line"),
        ("a = [1, 2", "1:10", "the end of the text"),
        ("a = 1\n[", "2:2", "the end of the text"),
        ("x\x1b[2J", "1:2", ""),
    ],
)
def test_what_is_not_toml_is_told_by_line_and_column(text: str, place: str, found: str) -> None:
    with pytest.raises(InputError) as caught:
        Document.parse(text, Path("job.toml"))
    assert caught.value.what.startswith("this is not TOML: ")
    assert caught.value.where == f"job.toml:{place}"
    assert caught.value.found == found


@pytest.mark.parametrize(
    "text",
    [
        "root:x:0:0:secret:/root\n",
        "[secret]\na = 1\n[secret]\n",
        'a = {secret = 1, secret = 2}\nb = "',
        "secret = 1\n[secret.more]\n",
        "[[secret]]\n[secret]\n",
        "secret = {}\n[secret.more]\n",
        'a = "secret',
        "secret\n",
        "secret = secret",
        "[secret",
        'a = "secret\\secret"',
    ],
)
def test_nothing_of_a_file_that_is_not_toml_is_shown(text: str) -> None:
    with pytest.raises(InputError) as caught:
        Document.parse(text, Path("job.toml"))
    assert caught.value.what.startswith("this is not TOML: ")
    assert "secret" not in str(caught.value)


OURS = 'job = "Cabinet"\nunits = "in"\n'


@pytest.mark.parametrize(
    ("slip", "line", "what", "mend"),
    [
        ('from = [4 "1-1/2"]', 3, "a comma is missing between two items", 'from = [4, "1-1/2"]'),
        ("m = [[1, 2] [3, 4]]", 3, "a comma is missing between two items", "m = [[1, 2], [3, 4]]"),
        ("m = [\n[1, 2]\n[3, 4]]", 4, "a comma is missing after this item of the list", "[1, 2],"),
        ("from = [4, 5\nangle = 78", 3, "the list is not closed", "from = [4, 5]"),
        ("from = [4; 5]", 3, "items of a list are parted by commas", "from = [4, 5]"),
        ("from = [4, 1-1/2]", 3, "quotes are missing about a value in the list", 'from = [4, "1-1/2"]'),
        ("depth = 5/16", 3, "quotes are missing about the value", 'depth = "5/16"'),
        ("length = 71O", 3, "a letter stands where a figure is meant", "length = 710"),
        ("depth = 17-32  # deep", 3, "quotes are missing about the value", 'depth = "17/32"'),
        ("length = 22 in", 3, "quotes are missing about the value", 'length = "22 in"'),
        ('depth = 3/4"', 3, "quotes are missing about the value", 'depth = "3/4 in"'),
        ("wood = black cherry", 3, "quotes are missing about the value", 'wood = "black cherry"'),
        ('depth = "5/16" in', 3, "the unit belongs within the quotes", 'depth = "5/16 in"'),
        ('depth = "1 1/2""', 3, "an inch mark within quotes ends them: write in", 'depth = "1 1/2 in"'),
        ('depth = "5/16', 3, "the closing quote is missing", 'depth = "5/16"'),
        ("depth = “5/16”", 3, "quotes have to be straight", 'depth = "5/16"'),
        ("depth = 8,5", 3, "a decimal has a point, not a comma", "depth = 8.5"),
        ("depth = .5", 3, "a decimal has figures before and after its point", "depth = 0.5"),
        ("depth: 5", 3, "an equals sign is missing", "depth = 5"),
        ("light = True", 3, "true and false are written small, without quotes", "light = true"),
        ("[[joints]", 3, "the heading is not closed", "[[joints]]"),
    ],
)
def test_a_slip_in_toml_is_shown_with_what_is_likely_missing(slip: str, line: int, what: str, mend: str) -> None:
    """It said "unclosed array", and neither showed the line nor what to write."""
    with pytest.raises(InputError) as caught:
        Document.parse(f"{OURS}{slip}\nlast = 1\n", Path("job.toml"))
    error = caught.value
    assert error.where.split(":")[1] == str(line)
    assert error.what == f"this is not TOML: {what}"
    assert error.found == slip.split("\n")[line - 3]
    assert error.mend == mend
    mended = slip.split("\n")
    mended[line - 3] = mend
    read = Document.parse("\n".join([OURS.rstrip(), *mended, "last = 1"]), Path("job.toml"))
    assert any(key[-1] == "last" for key in read.lines)


@pytest.mark.parametrize(
    ("text", "what"), [("a = 1\na = 2", "a key stands twice"), ("[a]\n[a]", "a table stands twice")]
)
def test_what_stands_twice_is_told_in_plain_words(text: str, what: str) -> None:
    with pytest.raises(InputError) as caught:
        Document.parse(text, Path("job.toml"))
    assert what in caught.value.what


@pytest.mark.parametrize(
    "slip",
    [
        "[" + 60_000 * " " + "x=",
        "a = 1" + 60_000 * " " + "x",
        'a = "' + 30_000 * "1" + 30_000 * " ",
        60_000 * "\n" + "x",
    ],
    ids=["heading", "comment", "inch mark", "empty lines"],
)
def test_long_texts_that_are_not_toml_are_told_at_once(slip: str) -> None:
    """Patterns that look for slips would take hours for these: such lines are told as the parser tells them."""
    with pytest.raises(InputError) as caught:
        Document.parse(slip, Path("job.toml"))
    assert caught.value.what.startswith("this is not TOML: ")


def test_a_line_is_not_shown_of_a_file_that_was_not_written_for_jigcam() -> None:
    for head in ('units = "in"\n', 'job = "Cabinet"\n', "", 'x = "job = 1"\nunits = "in"\n'):
        with pytest.raises(InputError) as caught:
            Document.parse(f"{head}secret = [secret secret]\n", Path("job.toml"))
        assert "secret" not in str(caught.value)


@pytest.mark.parametrize("kind", ["pipe", "device without end", "link to a device", "socket"])
def test_what_is_no_regular_file_is_not_read(kind: str, tmp_path: Path) -> None:
    path, found = tmp_path / "job.toml", "a device"
    if kind == "pipe":
        os.mkfifo(path)
        found = "a pipe"
    elif kind == "socket":
        with socket.socket(socket.AF_UNIX) as there:
            there.bind(str(path))
        found = "a socket"
    elif kind == "link to a device":
        path.symlink_to("/dev/zero")
    else:
        path = Path("/dev/zero")
    assert fault_of(path).found == found


def test_a_link_to_a_file_is_as_good_as_the_file(tmp_path: Path) -> None:
    (tmp_path / "there.toml").write_text("a = 1")
    (tmp_path / "here.toml").symlink_to(tmp_path / "there.toml")
    assert Document.read(tmp_path / "here.toml").data == {"a": 1}


def test_a_file_that_is_too_large(tmp_path: Path) -> None:
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * MOST)
    assert Document.read(path).data == {}
    path.write_bytes(b"#" * (MOST + 1))
    assert fault_of(path).what == "the file is too large"


def test_a_file_whose_length_is_a_lie_is_read_no_further_than_allowed() -> None:
    said = Path("/proc/self/maps")  # of no bytes, as the system has it
    if not said.exists():
        pytest.skip("no /proc here")
    assert said.stat().st_size == 0
    with pytest.raises(InputError, match="too large"):
        read_bounded(said, 10, "a TOML file")


@pytest.mark.parametrize("name", ["x" * 300 + ".toml", "/".join(["x" * 200] * 30)], ids=["name", "path"])
def test_a_name_that_is_too_long(name: str) -> None:
    assert fault_of(Path(name)).found == os.strerror(errno.ENAMETOOLONG)


@pytest.mark.parametrize(
    "key", ["a" + ".a" * 60_000, "[" + '"a" . ' * 30_000 + "a]", "x = {" + "a." * 60_000 + "a = 1}"]
)
def test_a_key_of_very_many_names(key: str) -> None:
    with pytest.raises(InputError, match="nests too deeply"):
        Document.parse(f"{key} = 1\n" if key[0] == "a" else f"{key}\n", Path("job.toml"))


@pytest.mark.parametrize("text", ["a = " + "[" * 5000 + "]" * 5000, "a = " + "9" * 5000], ids=["nested", "digits"])
def test_excess_is_refused(text: str) -> None:
    with pytest.raises(InputError) as caught:
        Document.parse(text, Path("job.toml"))
    assert caught.value.where == "job.toml"
    assert caught.value.wanted


class Peg(Model):
    name: Name
    size: Size
    at: Annotated[tuple[Size, Size], a_list(2, "two lengths")] = Field((1.0, 1.0), alias="from")
    turned: Flag = False


class Rack(Model):
    title: Name
    wood: Literal["cherry", "ash"] = "cherry"
    pegs: tuple[Peg, ...]


def faults_of(text: str) -> list[InputError]:
    document = Document.parse(text, Path("rack.toml"))
    with pytest.raises(Faults) as caught:
        document.validate(Rack, {"units": "mm"})
    assert all(isinstance(fault, InputError) for fault in caught.value.faults)
    return list(caught.value.faults)  # type: ignore[arg-type]  # the line above has made sure


def test_all_faults_come_at_once_in_the_order_of_the_file() -> None:
    faults = faults_of(
        'colour = "red"\ntitle = ""\nwood = "chery"\n[[pegs]]\nname = 1\nsize = 0\n'
        '[[pegs]]\n  name = "b"\n  from = [1]\n'
    )
    assert [(fault.where, fault.what) for fault in faults] == [
        ("rack.toml:1: colour", "the key colour is not known"),
        ("rack.toml:2: title", "an empty name"),
        ("rack.toml:3: wood", 'wood cannot be "chery"'),
        ("rack.toml:5: pegs[1].name", "not a name"),
        ("rack.toml:6: pegs[1].size", "a size cannot be zero"),
        ("rack.toml:7: pegs[2].size", "size is missing"),
        ("rack.toml:9: pegs[2].from", "not such a list"),
    ]
    assert all(fault.found and fault.wanted for fault in faults)
    assert faults[2].mend == 'did you mean "cherry"?'


def test_a_misspelt_key_is_told_once_and_its_value_is_still_checked() -> None:
    faults = faults_of('title = "x"\n[[pegs]]\nname = "a"\nsise = "1/0"\n')
    assert [(fault.where, fault.what, fault.mend) for fault in faults] == [
        ("rack.toml:4: pegs[1].sise", "the key sise is not known", "did you mean size?"),
        ("rack.toml:4: pegs[1].sise", "a fraction over nothing", ""),
    ]


def test_the_name_inside_is_no_key() -> None:
    (fault,) = faults_of('title = "x"\n[[pegs]]\nname = "a"\nsize = 1\nat = [2, 3]\n')
    assert fault.found == "at"
    assert "from" in fault.wanted


def test_what_is_no_table_is_told() -> None:
    faults = faults_of('title = "x"\npegs = [1, "two"]\n')
    assert [fault.where for fault in faults] == ["rack.toml:2: pegs[1]", "rack.toml:2: pegs[2]"]
    assert {fault.what for fault in faults} == {"not a table"}
    (fault,) = faults_of('title = "x"\npegs = 4\n')
    assert fault.wanted == "a list"


def test_a_sound_file_becomes_its_model() -> None:
    text = 'title = "x"\n[[pegs]]\nname = "a"\nsize = "1/2 in"\nfrom = [1, 2]\n'
    rack = Document.parse(text, Path("rack.toml")).validate(Rack, {"units": "mm"})
    assert rack == Rack(title="x", pegs=(Peg(name="a", size=12.7, at=(1.0, 2.0)),))
    assert hash(rack) == hash(rack.model_copy())


def test_a_model_made_in_python_takes_numbers_as_they_are() -> None:
    assert Peg(name="a", size=12.7).size == 12.7
    for wrong in ("12.7", True, float("nan"), 10**400, 0.0):
        with pytest.raises(ValueError, match="size"):
            Peg(name="a", size=wrong)  # type: ignore[arg-type]  # the wrong types are the point


def test_keys_as_people_write_them() -> None:
    assert key_text(("joints", 0, "from", 1)) == "joints[1].from[2]"
    assert key_text(("boards", "left side", "wood")) == 'boards."left side".wood'
    assert key_text(("boards", "a\nb")) == 'boards."a\\nb"'


def test_an_unknown_key_names_the_nearest() -> None:
    assert unknown_key("thicknes", ["length", "thickness"]).mend == "did you mean thickness?"
    assert unknown_key("zzz", ["length", "thickness"]).mend == ""
