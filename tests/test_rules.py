"""Findings are declared: each stands in a table with its levels, meaning and cure, is made, speaks and keeps silent."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from support.findings_made import PASSED_ON, Made, room_of, scan
from support.rule_cases import CASES, WITHOUT_CASE
from support.rule_tables import as_markdown, table_file
from test_layers import LAYERS

from jigcam.findings import LEVELS
from jigcam.gcode import FAULTS
from jigcam.gcode.rules import RULES as READER
from jigcam.workshop.rulebook import all_rules, tables

README = Path(__file__).parents[1] / "README.md"
BEGIN, END = "<!-- findings -->", "<!-- end of findings -->"
TABLES = tables()
FOUND = scan()
HOW = "make findings with names that can be read off: a constant, `a if … else b`, or a helper's parameter `rule`"


def may_use(room: str, table: str) -> bool:
    """Whether a room may make a finding of a table: its own, or that of a package below it."""
    layer = [LAYERS.index(each.split(".")[0]) for each in (table, room)]
    return room == table or layer[0] < layer[1]


def undeclared(made: Made) -> str:
    """What is wrong with a finding's place in the tables, and what to write where; "" if nothing is."""
    holders = [room for room, table in TABLES.items() if made.rule in table]
    if not holders:
        return (
            f'{made.place} makes the finding "{made.rule}" ({made.level}), which no table declares. Add to RULES of '
            f'{table_file(made.room)}:\n    "{made.rule}": Rule(("{made.level}",), "What it means.", "What to do."),\n'
            "(RULES is handed to the KIND of its room), then a case to tests/support/rule_cases/, then run "
            "JIGCAM_GOLDEN=write pytest tests/test_rules.py"
        )
    table = next((room for room in holders if may_use(made.room, room)), None)
    if table is None:
        return (
            f'{made.place} makes the finding "{made.rule}", which {table_file(holders[0])} declares. If it means the '
            "same here, move its row to the table of a package below both (wood, kit, making); if not, rename it"
        )
    if made.level not in TABLES[table][made.rule].levels:
        return f'{made.place} makes "{made.rule}" a {made.level}: add "{made.level}" to its row in {table_file(table)}'
    return ""


def test_every_finding_can_be_read_off_the_source() -> None:
    assert not FOUND.unread, f"{HOW}:\n" + "\n".join(FOUND.unread)
    assert len(FOUND.made) > 100
    assert FOUND.passed_on == set(PASSED_ON), "PASSED_ON of tests/support/findings_made.py names what is there"


def test_every_finding_is_declared_in_the_table_of_its_room() -> None:
    faulty = [says for made in FOUND.made if (says := undeclared(made))]
    assert not faulty, "\n" + "\n".join(faulty)


def test_every_rule_is_made_with_each_of_its_levels() -> None:
    faulty = []
    for room, table in TABLES.items():
        for name, rule in table.items() if room != "gcode" else ():
            levels = {made.level for made in FOUND.made if made.rule == name and may_use(made.room, room)}
            faulty += [
                f'{table_file(room)}: nothing makes "{name}" a {level}; take it out'
                for level in rule.levels
                if level not in levels
            ]
    assert not faulty, "\n" + "\n".join(faulty)


def test_no_rule_is_declared_twice() -> None:
    rooms: dict[str, list[str]] = {}
    for room, table in TABLES.items():
        for name in table:
            rooms.setdefault(name, []).append(table_file(room))
    twice = {name: files for name, files in rooms.items() if len(files) > 1}
    assert not twice, f"keep one row, in the table of a package below both, or rename one: {twice}"


def test_every_fault_of_the_reader_is_a_rule() -> None:
    assert set(READER) == set(FAULTS)


def test_rules_are_said_in_sentences() -> None:
    for name, rule in all_rules().items():
        assert rule.levels, name
        assert list(rule.levels) == sorted(set(rule.levels), key=LEVELS.index), f"{name}: levels in order of gravity"
        for text in (rule.means, rule.cure):
            assert text[0].isupper(), f"{name}: {text}"
            assert text.endswith("."), f"{name}: {text}"
            assert "|" not in text, f"{name}: {text}"


def test_rooms_of_files() -> None:
    assert room_of("joints/groove/rules.py") == "joints.groove"
    assert room_of("joints/rabbet.py") == "joints.rabbet"
    assert room_of("proof/prove.py") == "proof"


SOURCE = """
def helper(level, rule, where):
    return Finding(level, rule, where, "says")

def fixed(rule):
    return Finding(level="note", rule=rule, where="", says="")

class Why(NamedTuple):
    bit: str
    rule: str

def all(tight, why, name):
    level = "caution"
    level = "note" if tight else level_of(tight)
    yield Finding("stop" if tight else "caution", "one", "", "")
    yield helper("stop", "two", "")
    yield fixed("three")
    Why("bit", "four")
    yield Finding("stop", why.rule, "", "")
    yield Finding(level, "five", "", "")
    yield Finding("note", name.lower(), "", "")
"""


def test_findings_are_read_off_a_source(tmp_path: Path) -> None:
    """What can be followed is, what cannot is told, with its line."""
    room = tmp_path / "joints"
    room.mkdir()
    (room / "rabbet.py").write_text(SOURCE, "utf-8")
    found = scan(tmp_path)
    assert {(made.rule, made.level) for made in found.made} == {
        ("one", "stop"),
        ("one", "caution"),
        ("two", "stop"),
        ("three", "note"),
        ("four", "stop"),
    }
    assert {made.room for made in found.made} == {"joints.rabbet"}
    lines = SOURCE.splitlines()
    places = [int(says.split(":")[1]) for says in found.unread]
    assert ["five" in lines[n - 1] or "lower" in lines[n - 1] for n in places] == [True, True]


@pytest.mark.parametrize(
    ("made", "parts"),
    [
        (
            Made("jigcam/template/x.py:3", "template", "odd", "stop"),
            ("x.py:3", "jigcam/template/rules.py", '"odd": Rule('),
        ),
        (Made("jigcam/joints/lap.py:3", "joints.lap", "odd", "note"), ("RULES of jigcam/joints/lap.py",)),
        (Made("jigcam/joints/key/x.py:3", "joints.key", "notch", "note"), ("groove/rule_table.py", "below both")),
        (Made("jigcam/proof/x.py:3", "proof", "gouge", "note"), ('add "note"', "jigcam/proof/rules.py")),
    ],
)
def test_what_is_missing_is_said_with_its_place(made: Made, parts: tuple[str, ...]) -> None:
    assert all(part in undeclared(made) for part in parts), undeclared(made)


def test_a_rule_of_a_package_below_may_be_used() -> None:
    assert not undeclared(Made("jigcam/joints/key/x.py:3", "joints.key", "off-board", "stop"))


def test_every_rule_has_its_case() -> None:
    missing = [name for name in all_rules() if name not in CASES and name not in WITHOUT_CASE]
    assert not missing, f"add a Case to tests/support/rule_cases/ for each of: {', '.join(missing)}"
    assert not set(CASES) & set(WITHOUT_CASE)
    unknown = (set(CASES) | set(WITHOUT_CASE)) - set(all_rules())
    assert not unknown, f"cases for rules that no table declares: {', '.join(sorted(unknown))}"


CLUMSY = re.compile(
    r"\b1 (?:more )?(?:motions|mm more)\b|([\d.]+ (?:mm|in)) to \1\b|\bin in\b|\d[eE][+-]?\d|\bNone\b|[:;,] *$|: *;|"
    r"by hand.*made by hand"
)
"""What a sentence put together from parts came to: one of many, from a size to the same size, a unit after `in`, powers
of ten, a list of nothing, a remedy said twice."""


@pytest.mark.parametrize("name", sorted(CASES))
def test_a_rule_speaks_and_keeps_silent(name: str) -> None:
    case, rule = CASES[name], all_rules()[name]
    levels: set[str] = set()
    for speak in case.speaks:
        said = [finding for finding in speak() if finding.rule == name]
        assert said, f"{name} does not speak"
        assert not [finding.says for finding in said if CLUMSY.search(finding.says)]
        levels |= {finding.level for finding in said}
    assert levels == set(rule.levels), f"{name} speaks as {sorted(levels)} and is declared as {rule.levels}"
    assert name not in {finding.rule for finding in case.silent()}, f"{name} does not keep silent"


TELLS_WHAT_TO_DO = (
    "dovetail-pin-vanishes",
    "dovetail-tail-narrow",
    "dovetail-pin-narrow",
    "dovetail-rabbet",
    "dovetail-slope",
    "dovetail-widths",
    "misses-board",
    "no-key",
    "no-pair",
)


@pytest.mark.parametrize("name", TELLS_WHAT_TO_DO)
def test_a_stop_says_what_to_do(name: str) -> None:
    """These said what is wrong, and left it at that."""
    stops = [
        finding.says
        for speak in CASES[name].speaks
        for finding in speak()
        if finding.rule == name and finding.level == "stop"
    ]
    assert stops
    does = r"[;:,] (draw|use|make|plane|measure|add|take|widen|write) |usual \(common|is measured from"
    assert [says for says in stops if not re.search(does, says)] == []


def test_the_readme_has_the_table() -> None:
    text = README.read_text("utf-8")
    head, rest = text.split(BEGIN)
    _, tail = rest.split(END)
    wanted = f"{head}{BEGIN}\n\n{as_markdown(all_rules())}\n\n{END}{tail}"
    if os.environ.get("JIGCAM_GOLDEN") == "write":
        README.write_text(wanted, "utf-8")
    assert README.read_text("utf-8") == wanted, "write it anew: JIGCAM_GOLDEN=write pytest tests/test_rules.py"
