"""Words on a drawing: made harmless, measured in columns and in millimetres, shortened and wrapped.

Names come from people. On a terminal a name must not move the cursor or hide what stands beside it; in SVG it must not
become markup. Everything that is drawn passes through `clean` first.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from jigcam.characters import INSTEAD, one_line


def clean(text: str) -> str:
    """The text on one line, of printable characters only: every run of white space (line breaks too) is one blank, and
    control, format, private and unpaired surrogate characters become a question mark."""
    return one_line(" ".join(text.split()))


@lru_cache(maxsize=4096)
def _columns_of(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


_PLAIN = {
    "×": "x",
    "–": "-",
    "—": "-",
    "−": "-",
    "…": "...",
    "°": " deg",
    "⌀": "D",
    "·": "-",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "≥": ">=",
    "≤": "<=",
    "ß": "ss",
    "ø": "o",
    "Ø": "O",
    "æ": "ae",
    "Æ": "AE",
}


def plain(text: str) -> str:
    """The text in ASCII: letters without their accents, signs in words, a question mark for the rest; cleaned as
    well."""
    spelled = "".join(_PLAIN.get(c, c) for c in clean(text))
    bare = (c for c in unicodedata.normalize("NFKD", spelled) if _columns_of(c) > 0)
    return clean("".join(c if c.isascii() else INSTEAD for c in bare))


def columns(text: str) -> int:
    """How many columns of a terminal the text takes."""
    return sum(map(_columns_of, text))


def cells(text: str) -> Iterator[str]:
    """The text, one string a column: marks that take no room join the character before them; the second column of a
    wide character is the empty string."""
    held = ""
    for character in text:
        room = _columns_of(character)
        if room == 0:
            held += character
            continue
        if held:
            yield from _column(held)
        held = character
    if held:
        yield from _column(held)


def _column(character: str) -> Iterator[str]:
    if _columns_of(character[0]) == 0:  # a mark with nothing before it to stand on
        return
    yield character
    if _columns_of(character[0]) == 2:
        yield ""


def fit(text: str, room: int, dots: str = "…") -> str:
    """The text, or its beginning and an ellipsis, in at most `room` columns."""
    if columns(text) <= room:
        return text
    dots = dots if len(dots) <= room else ""
    kept, used = [], 0
    for character in text:
        used += _columns_of(character)
        if used > room - len(dots):
            break
        kept.append(character)
    return "".join(kept).rstrip() + dots if room > 0 else ""


def wrap(text: str, room: int, indent: str = "", dots: str = "…") -> list[str]:
    """The words of the text in lines of at most `room` columns, the second and later ones indented; a word that is too
    long is shortened."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line.strip() else line + word
        if columns(longer) <= room:
            line = longer
            continue
        if line.strip():
            lines.append(line)
            line = indent if columns(indent) < room else ""
        line = fit(line + word, room, dots)
    if line.strip():
        lines.append(line)
    return lines


# Advance widths of a plain sans-serif at a height of capitals of 1, common practice, no source: groups wide enough for
# the usual fonts, so that a place kept for a text is never too small.
_NARROW = frozenset("iIjl.,:;'|!()[]/ ft1-·°")
_BROAD = frozenset("mwMWQGOD@%×→—…")


@lru_cache(maxsize=4096)
def advance(text: str, size: float) -> float:
    """About how wide the text runs in a sans-serif with capitals `size` high; same unit as size, on the safe side."""
    ems = sum(0.55 if c in _NARROW else 1.2 if c in _BROAD else 1.4 if _columns_of(c) == 2 else 0.85 for c in text)
    return ems * size
