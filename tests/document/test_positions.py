"""The line of every key, against a text whose lines are known by construction."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.document import Key, key_lines

TEXT = '''\
# a comment with [brackets] and "quotes"
job = "x"  # = [[not]]
"quoted key" = 1
'literal "key"' = 2
a.b.c = 3
"\\u00e9" = 4
list = [  # a comment ]
  1, "two ] , #",
  [ 3,
    4 ],
  { inline = 5, deeper = { x = 6 } },
]
text = """
[not.a.table]
key = \\"""
still "" text""""
raw = \'\'\'
[[nor.this]]
\'\'\'\'
time = 1979-05-27 07:32:00
after = true
[table]
x = 1
[table."sub table"]
y = 2
[[boards]]
name = "one"
[[boards.holes]]
x = 1
[[boards.holes]]
x = 2
[boards.wood]
z = 3
[[ boards ]]
name = "two"
[[boards.holes]]
x = 4
[table.other]
'''

LINES: dict[Key, int] = {
    ("job",): 2,
    ("quoted key",): 3,
    ('literal "key"',): 4,
    ("a",): 5,
    ("a", "b", "c"): 5,
    ("é",): 6,
    ("list",): 7,
    ("list", 0): 8,
    ("list", 1): 8,
    ("list", 2): 9,
    ("list", 2, 1): 10,
    ("list", 3): 11,
    ("list", 3, "inline"): 11,
    ("list", 3, "deeper", "x"): 11,
    ("text",): 13,
    ("raw",): 17,
    ("time",): 20,
    ("after",): 21,
    ("table",): 22,
    ("table", "x"): 23,
    ("table", "sub table"): 24,
    ("table", "sub table", "y"): 25,
    ("boards",): 26,
    ("boards", 0): 26,
    ("boards", 0, "name"): 27,
    ("boards", 0, "holes", 0, "x"): 29,
    ("boards", 0, "holes", 1): 30,
    ("boards", 0, "holes", 1, "x"): 31,
    ("boards", 0, "wood", "z"): 33,
    ("boards", 1): 34,
    ("boards", 1, "name"): 35,
    ("boards", 1, "holes", 0): 36,
    ("boards", 1, "holes", 0, "x"): 37,
    ("table", "other"): 38,
}


def keys_of(value: Any, at: Key = ()) -> set[Key]:
    """Every key and item of parsed data."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    out: set[Key] = {at} if at else set()
    for part, inner in pairs:
        out |= keys_of(inner, (*at, part))
    return out


@pytest.mark.parametrize("key", LINES, ids=str)
def test_lines(key: Key) -> None:
    assert key_lines(TEXT)[key] == LINES[key]


def test_no_key_is_missed_and_none_is_made_up() -> None:
    assert set(key_lines(TEXT)) == keys_of(tomllib.loads(TEXT))


def test_an_empty_text_has_no_keys() -> None:
    assert key_lines("") == {}
    assert key_lines("# nothing\n\n") == {}


strings = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\r"), max_size=12)


def quoted(text: str) -> str:
    return '"' + "".join(c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08x}" for c in text) + '"'


def multiline(text: str) -> str:
    safe = "".join(c if c.isprintable() or c == "\n" else "?" for c in text)
    return '"""\n' + safe.replace("\\", "\\\\").replace('"""', '""\\"').rstrip('"') + '"""'


scalars = st.one_of(
    st.integers(-(10**9), 10**9).map(str),
    st.sampled_from(["1.5", "true", "1979-05-27 07:32:00Z", "inf", "0xff", "'#]'", "'''\n'' ]'''"]),
    strings.map(quoted),
    strings.map(multiline),
)
breaks = st.sampled_from([" ", "\n", ' # ] = "\n', ""])
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(st.tuples(inner, breaks), max_size=3).map(
            lambda items: "[" + "".join(f"{gap}{item}{gap}," for item, gap in items) + "]"
        ),
        st.dictionaries(strings, inner, max_size=2).map(
            lambda table: "{" + ", ".join(f"{quoted(k)} = {v}" for k, v in table.items()) + "}"
        ),
    ),
    max_leaves=6,
)


@given(st.dictionaries(strings, values, max_size=4), st.lists(st.dictionaries(strings, values, max_size=2), max_size=3))
def test_every_key_of_any_text_is_found_on_its_line(top: dict[str, str], tables: list[dict[str, str]]) -> None:
    top.pop("tables", None)
    lines, expected = [], {}
    for key, value in top.items():
        expected[(key,)] = len(lines) + 1
        lines += f"{quoted(key)} = {value}".split("\n")
    for number, table in enumerate(tables):
        lines.append("[[tables]]")
        expected[("tables", number)] = len(lines)
        for key, value in table.items():
            expected[("tables", number, key)] = len(lines) + 1
            lines += f"{quoted(key)} = {value}".split("\n")
    text = "\n".join(lines)
    data = tomllib.loads(text)
    found = key_lines(text)
    assert set(found) == keys_of(data)
    assert {key: found[key] for key in expected} == expected
