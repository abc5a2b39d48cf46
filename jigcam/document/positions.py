"""Where the keys of a TOML text stand: the line of every key, of every table and of every item of a list.

The parser of the standard library gives values without their places. This scanner walks a text *that the parser has
accepted*, so it need not judge it: it only has to find its way through keys, strings and brackets (TOML 1.0.0,
toml.io).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping

Key = tuple[str | int, ...]
"""The way to a value: names of keys, and numbers of items from 0."""

_BLANK = re.compile(r"[ \t]*")
_BLANK_AND_COMMENTS = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN_VALUE = re.compile(r"[^,\]}#\n]*")
_STRINGS = (
    re.compile(r'"""(?:[^\\"]|\\(?s:.)|"{1,2}(?!"))*?"{3,5}'),
    re.compile(r"'''(?:[^']|'{1,2}(?!'))*?'{3,5}"),
    re.compile(r'"(?:[^"\\\n]|\\.)*"'),
    re.compile(r"'[^'\n]*'"),
)


def key_lines(text: str) -> Mapping[Key, int]:
    """The line, from 1, of every key in a valid TOML text with plain line feeds; tables stand where first named."""
    return _Scanner(text).run()


class _Scanner:
    """A cursor over the text. Each method starts at the cursor and leaves it behind what it read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.lines: dict[Key, int] = {}
        self.items: dict[Key, int] = {}  # arrays of tables: how many tables so far

    def run(self) -> dict[Key, int]:
        table: Key = ()
        while self._skip(_BLANK_AND_COMMENTS) and self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
        return self.lines

    def _skip(self, pattern: re.Pattern[str]) -> bool:
        """Move behind a match of `pattern`, counting lines; whether it matched."""
        match = pattern.match(self.text, self.at)
        if match is None:
            return False
        self.line += match[0].count("\n")
        self.at = match.end()
        return True

    def _header(self) -> Key:
        """`[table]` or `[[table]]`; the key of the table that it opens."""
        many = self.text.startswith("[[", self.at)
        line = self.line
        self.at += 2 if many else 1
        table: Key = ()
        names = self._dotted()
        self.at += 2 if many else 1
        for number, name in enumerate(names, start=1):
            table = (*table, name)
            self.lines.setdefault(table, line)
            if many and number == len(names):
                self.items[table] = self.items.get(table, 0) + 1
            if table in self.items:
                table = (*table, self.items[table] - 1)
        self.lines.setdefault(table, line)
        return table

    def _pair(self, table: Key) -> None:
        """`key = value`; dotted keys count as tables of their own."""
        line = self.line
        key = table
        for name in self._dotted():
            key = (*key, name)
            self.lines.setdefault(key, line)
        self.at += 1  # the equals sign
        self._skip(_BLANK)
        self._value(key)

    def _dotted(self) -> list[str]:
        """The names of a key, as far as the sign that ends it."""
        names: list[str] = []
        while True:
            self._skip(_BLANK)
            names.append(self._name())
            self._skip(_BLANK)
            if self.text[self.at] != ".":
                return names
            self.at += 1

    def _name(self) -> str:
        start = self.at
        if self._skip(_BARE_KEY):
            return self.text[start : self.at]
        self._string()
        # Escapes in a quoted key are the parser's business.
        value: str = tomllib.loads(f"x = {self.text[start : self.at]}")["x"]
        return value

    def _string(self) -> None:
        for pattern in _STRINGS:
            if self._skip(pattern):
                return

    def _value(self, key: Key) -> None:
        first = self.text[self.at]
        if first == "[":
            self._array(key)
        elif first == "{":
            self._inline_table(key)
        elif first in "\"'":
            self._string()
        else:
            self._skip(_PLAIN_VALUE)

    def _array(self, key: Key) -> None:
        self.at += 1
        number = 0
        while self._skip(_BLANK_AND_COMMENTS) and self.text[self.at] != "]":
            self.lines[(*key, number)] = self.line
            self._value((*key, number))
            number += 1
            self._skip(_BLANK_AND_COMMENTS)
            self.at += self.text[self.at] == ","
        self.at += 1

    def _inline_table(self, key: Key) -> None:
        self.at += 1
        while self._skip(_BLANK_AND_COMMENTS) and self.text[self.at] != "}":
            self._pair(key)
            self._skip(_BLANK_AND_COMMENTS)
            self.at += self.text[self.at] == ","
        self.at += 1
