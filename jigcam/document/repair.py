"""What is likely missing in a text that is not TOML, found by trying: a repair counts if the text reads further then.

Slips of people who write lengths by hand: no quotes about a fraction or a unit, no comma in a list, a bracket or quote
that is not closed, a colon or nothing for the equals sign, a decimal comma, an inch mark within quotes.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from jigcam.units.slips import likely_lengths

LONGEST: Final = 64 * 1024
"""Letters of a text that is tried again and again; nobody writes more by hand."""
PLACE: Final = re.compile(
    r"(?P<what>.*?) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)", re.DOTALL
)
"""The parser's message and its place."""
_NEARBY: Final = 20
"""Lines before a fault in which the slip may be."""
_LONGEST_ROW: Final = 300
"""Letters of a line that is tried; the patterns here may take time that grows faster than a line."""
_OURS: Final = (
    re.compile(r'(?m)^[ \t]*+units[ \t]*+=[ \t]*+"(?:in|mm)"'),
    re.compile(r'(?m)^[ \t]*+(?:job|kit)[ \t]*+=[ \t]*+"'),
)
_HEADER: Final = re.compile(r"(?P<open>\[\[?)(?P<name>[^\[\]=]*+)\]*+")
_PAIR: Final = re.compile(r"(?P<head>\s*[A-Za-z0-9_-]+\s*=\s*)(?P<value>.*\S)\s*")
_NO_EQUALS: Final = re.compile(r"(?P<key>\s*[A-Za-z0-9_-]+)(?:\s*:\s*|\s+)(?P<value>[^\s=].*)")
_WORDS: Final = {"True": "true", "TRUE": "true", "yes": "true", "False": "false", "FALSE": "false", "no": "false"}
_COMMA_NUMBER: Final = re.compile(r"([+-]?\d+),(\d+)")
_BARE_POINT: Final = re.compile(r"[+-]?(?:\.\d+|\d+\.|0\d+(?:\.\d+)?)")
_FIGURES: Final = str.maketrans("OoIl", "0011")
_NUMBER: Final = re.compile(r"\d+(?:\.\d+)?")
_UNIT_OUTSIDE: Final = re.compile(r'"([^"]*\d)"\s*([A-Za-z]+)')
_INCH_MARK: Final = re.compile(r'"([^"]*?\d)\s*""?$')
_CURLY: Final = str.maketrans({"“": '"', "”": '"', "„": '"', "‘": "'", "’": "'"})
_COMMENT: Final = re.compile(r"\s+#.*$")


@dataclass(frozen=True)
class Repair:
    """A line that reads better. line: its number, from 1; says: what is missing in it; written: the line, mended."""

    line: int
    says: str
    written: str


def is_ours(text: str, line: int) -> bool:
    """Whether what stands before a line shows that the file was written for jigcam, so that its lines may be shown."""
    before = "".join(text.splitlines(keepends=True)[: line - 1])
    return all(pattern.search(before) for pattern in _OURS)


def likely_repair(text: str, line: int, column: int) -> Repair | None:
    """The slip at the parser's place in a text that is not TOML; None where no small repair lets it read on."""
    if len(text) > LONGEST:
        return None
    rows = text.split("\n")
    at = min(line, len(rows))
    nearby = range(at - 1, max(at - _NEARBY, 0), -1)
    if any(len(rows[number - 1]) > _LONGEST_ROW for number in (at, *nearby)):
        return None
    before = next((number for number in nearby if _bare(rows[number - 1])), 0)
    tried = [(at, says, row) for says, row in _mended(rows[at - 1], column)]
    tried += [(before, says, row) for says, row in _closed(rows[before - 1])] if before else []
    for number, says, row in tried:
        fault = _fault_line("\n".join([*rows[: number - 1], row, *rows[number:]]))
        if fault is None or fault > max(at, number):
            return Repair(number, says, _bare(row))
    return None


def _fault_line(text: str) -> int | None:
    """The line at which the parser gives up; None where it reads all."""
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        match = PLACE.fullmatch(str(fault))
        return int(match["line"]) if match and match["line"] else text.count("\n") + 1
    except (ValueError, RecursionError):
        return 0
    return None


def _bare(row: str) -> str:
    """A line without its comment, where it has one that begins after a blank, and without blanks around it."""
    return "" if row.lstrip().startswith("#") else _COMMENT.sub("", row).strip()


def _mended(row: str, column: int) -> Iterator[tuple[str, str]]:
    """What may be missing in a line, and the line with it; the likeliest first."""
    bare = _COMMENT.sub("", row)
    if header := _HEADER.fullmatch(bare.strip()):
        yield "the heading is not closed", f"{header['open']}{header['name'].strip()}{']' * len(header['open'])}"
    if curly := bare.translate(_CURLY) if bare.translate(_CURLY) != bare else "":
        yield "quotes have to be straight", curly
    if "=" not in bare and (pair := _NO_EQUALS.fullmatch(bare)):
        yield "an equals sign is missing", f"{pair['key']} = {pair['value']}"
        yield "an equals sign and quotes are missing", f"{pair['key']} = {_quoted(pair['value'])}"
    if (pair := _PAIR.fullmatch(bare)) is None:
        return
    head, value = pair["head"], pair["value"]
    if value in _WORDS:
        yield "true and false are written small, without quotes", f"{head}{_WORDS[value]}"
    if number := _COMMA_NUMBER.fullmatch(value):
        yield "a decimal has a point, not a comma", f"{head}{number[1]}.{number[2]}"
    if _BARE_POINT.fullmatch(value):
        yield "a decimal has figures before and after its point", f"{head}{float(value):g}"
    if (figures := value.translate(_FIGURES)) != value and _NUMBER.fullmatch(figures):
        yield "a letter stands where a figure is meant", f"{head}{figures}"
    if outside := _UNIT_OUTSIDE.fullmatch(value):
        yield "the unit belongs within the quotes", f'{head}"{outside[1]} {outside[2]}"'
    if inches := _INCH_MARK.fullmatch(value):
        yield "an inch mark within quotes ends them: write in", f'{head}"{inches[1]} in"'
    if value[:1] == '"' and value.count('"') == 1:
        yield "the closing quote is missing", f'{head}{value}"'
    if value.startswith("["):
        yield from _mended_list(bare, head, value, column)
    elif value[:1] not in "\"'{":
        yield "quotes are missing about the value", f"{head}{_quoted(value)}"


def _mended_list(bare: str, head: str, value: str, column: int) -> Iterator[tuple[str, str]]:
    """The same of a list that begins in the line."""
    cut = len(bare[: column - 1].rstrip())
    yield "a comma is missing between two items", f"{bare[:cut]}, {bare[column - 1 :].lstrip()}"
    yield "the list is not closed", f"{head}{value}]"
    yield "items of a list are parted by commas", f"{head}{value.replace(';', ',')}"
    items = [item.strip() for item in value.strip("[]").split(",")]
    quoted = ", ".join(item if _is_value(item) else _quoted(item) for item in items)
    yield "quotes are missing about a value in the list", f"{head}[{quoted}]"


def _closed(row: str) -> Iterator[tuple[str, str]]:
    """What may be missing at the end of the line before."""
    bare = _COMMENT.sub("", row).rstrip()
    yield "a comma is missing after this item of the list", f"{bare},"
    yield "the list is not closed", f"{bare}]"


def _is_value(item: str) -> bool:
    return _fault_line(f"x = {item}") is None


def _quoted(value: str) -> str:
    """A value in quotes; a length with a slip as it was likely meant."""
    text = re.sub(r"(?<=\d)\s*(?:\"|'')$", " in", value.strip()).strip('"')
    return f'"{next(likely_lengths(text), text)}"'
