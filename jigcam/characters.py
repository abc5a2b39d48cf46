"""Characters that must reach neither a screen nor paper: they move the cursor, hide text or turn its direction around.

Names, paths and texts come from people and may hold any character. Whatever is shown of them is made *harmless* first;
JSON keeps them, escaped. Category names are those of the Unicode Standard, section 4.5 (C: control, format, surrogate,
private and unassigned; Z: separators).
"""

from __future__ import annotations

import re
from typing import Final

INSTEAD: Final = "?"
"""Stands for a character that must not be shown."""

# Format characters (Cf) and the two separators that break lines: direction marks, embeddings, overrides and isolates
# (Unicode Standard Annex 9, section 2), joiners, blanks without width, tags.
_TURNING = "\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f"
_UNSAFE: Final = re.compile(rf"(?!\n|\t|\x1b\[[0-9;]*m)[\x00-\x1f\x7f-\x9f{_TURNING}]")
_UNSAFE_IN_JSON: Final = re.compile(rf"[\x7f-\x9f{_TURNING}]")


def one_line(text: str) -> str:
    """`text` on one line, character for character: breaks and blanks of every kind become a blank, and every other
    character that does not print becomes INSTEAD."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c.isspace() else INSTEAD for c in text)


def laid_out(text: str) -> str:
    """The program's own text of several lines, with its line ends, tabs and colours; all else as in `one_line`."""
    return _UNSAFE.sub(INSTEAD, text)


def escaped(json_text: str) -> str:
    """JSON with the same meaning, in which every character that does not print is escaped (RFC 8259, section 7)."""
    return _UNSAFE_IN_JSON.sub(_escape, json_text)


def _escape(match: re.Match[str]) -> str:
    units = match[0].encode("utf-16-be")
    return "".join(f"\\u{units[k]:02x}{units[k + 1]:02x}" for k in range(0, len(units), 2))
