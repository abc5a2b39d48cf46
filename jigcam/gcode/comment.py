"""People's text made harmless for a comment: a name can never become a command.

What may stand in a comment is letters, digits, blanks and plain punctuation. Brackets, `%`, `;`, line ends and
everything outside ASCII are replaced or left out, so no text can end its comment, open another, or stand outside one;
and no text can pose as a message to the operator (`MSG,`).
"""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Iterable

COLUMNS = 100
"""Longest comment line, brackets included (the standard allows 256)."""

_SPELLED = str.maketrans(
    {
        "×": "x",
        "–": "-",
        "—": "-",
        "−": "-",
        "°": " deg",
        "’": "'",
        "‘": "'",
        "“": "'",
        "”": "'",
        '"': "'",
        "ß": "ss",
        "æ": "ae",
        "Æ": "AE",
        "ø": "o",
        "Ø": "O",
        "œ": "oe",
        "Œ": "OE",
        "ł": "l",
        "Ł": "L",
        "½": "1/2",
        "¼": "1/4",
        "¾": "3/4",
        "[": " ",
        "{": " ",
        "_": "-",
        ";": ",",
        "%": " percent ",
        "&": " and ",
        "±": " +/- ",
        "≤": " at most ",
        "≥": " at least ",
    }
)
_ASIDE = re.compile(r"\s*\(([^()]*)\)")
_COMMAS = re.compile(r"(^|[,.:])(?:\s*,)+|,+\s*(?=[.:](?:\s|$)|$)")
"""Commas of asides that follow another mark, come before one, or end a text."""
_NOT_ALLOWED = re.compile(r"[^A-Za-z0-9 .,:'/+=-]+")
_BLANKS = re.compile(r"\s+")
_MESSAGE = re.compile(r"^(\s*M\s*S\s*G\s*),", re.IGNORECASE)


def reduce(text: str) -> str:
    """The text in letters, digits, single blanks and . , : ' / + = -

    Accents are dropped, a few signs of the trade are spelled out (× is x, ° is deg, % is percent, a semicolon a comma),
    what stands in brackets stands between commas, so that a sentence stays one, and all else becomes a blank.

    >>> reduce("a third is usual (common practice): 44% of it")
    'a third is usual, common practice: 44 percent of it'
    """
    spelled = unicodedata.normalize("NFKD", text.translate(_SPELLED))
    unmarked = "".join(c for c in spelled if not unicodedata.combining(c))
    beside, asides = _ASIDE.subn(r", \1, ", unmarked)
    reduced = _BLANKS.sub(" ", _NOT_ALLOWED.sub(" ", beside)).strip()
    if asides:
        reduced = _BLANKS.sub(" ", _COMMAS.sub(r"\1", reduced)).replace(" ,", ",").strip()
    return reduced


def comments(text: str) -> list[str]:
    """Comment lines that hold the text, reduced, each with its brackets and at most COLUMNS wide; none for no text."""
    return [f"({_no_message(part)})" for part in _wrap(reduce(text), COLUMNS - 2)]


def all_comments(texts: Iterable[str]) -> list[str]:
    """Comment lines for several texts, each beginning on its own line."""
    return [line for text in texts for line in comments(text)]


def messages(text: str) -> list[str]:
    """The same, shown to the operator: `(MSG, ...)` (NISTIR 6556 section 3.3.4)."""
    return [f"(MSG, {part})" for part in _wrap(reduce(text), COLUMNS - 7)]


def _wrap(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, break_on_hyphens=False)


def _no_message(text: str) -> str:
    return _MESSAGE.sub(r"\1:", text)
