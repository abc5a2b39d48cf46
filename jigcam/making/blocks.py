"""What a setup sheet says, before anything of it is laid out: headings, sentences, named values, tables.

Words are written once, as blocks; text (`block_text`), pages and HTML are renderings of the same blocks.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Heading:
    """What the blocks after it are about. minor: within a part, such as the name of a G-code file of a clamping."""

    text: str
    minor: bool = False


@dataclass(frozen=True, slots=True)
class Points:
    """Sentences, one thing to know or to do each; those that begin with blanks belong to the one before.

    minor: what is done before the minor heading that follows.
    """

    sentences: tuple[str, ...]
    minor: bool = False


@dataclass(frozen=True, slots=True)
class Rows:
    """Named values; a name that comes again belongs to the one before. minor: of a minor heading."""

    rows: tuple[tuple[str, str], ...]
    minor: bool = False


@dataclass(frozen=True, slots=True)
class HeadedTable:
    """A table with a head. left: how many of its columns stand flush left."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    left: int = 1


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines that stand as they are, under each other in columns."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence that stands by itself."""

    text: str


Block = Heading | Points | Rows | HeadedTable | Lines | Sentence


def section(title: str, sentences: Iterable[str]) -> list[Block]:
    """A heading and its sentences; nothing where there are none."""
    told = tuple(sentences)
    return [Heading(title), Points(told)] if told else []


def points(sentences: Iterable[str], *, minor: bool = False) -> list[Block]:
    """Sentences under the heading that is there, or before the minor one that comes; nothing where there are none."""
    told = tuple(sentences)
    return [Points(told, minor)] if told else []


def table(title: str, rows: Iterable[tuple[str, str]]) -> list[Block]:
    """A heading and named values."""
    return [Heading(title), Rows(tuple(rows))]


def rows_words(rows: Iterable[tuple[str, str]]) -> list[Block]:
    """Named values under the heading that is there; nothing where there are none."""
    told = tuple(rows)
    return [Rows(told)] if told else []
