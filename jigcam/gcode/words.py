"""One line of text as words and comments, in the grammar of NISTIR 6556 section 3.3.

Spaces and tabs outside comments mean nothing, inside a number too (`X1 0` is X10), and small letters are capitals.
"""

from __future__ import annotations

import re
from dataclasses import field

from jigcam.gcode.faults import Fault
from jigcam.values import dataclass

LINE_LIMIT = 256
"""Characters in a line, its end not counted (section 3.3)."""
LETTERS = frozenset("ABCDFGHIJKLMNPQRSTXYZ")
"""Letters that begin a word (Table 2)."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)", re.ASCII)
_NUMBER_RUN = re.compile(r"[ \t]*[+-]?[0-9. \t]*")
_BLANKS = re.compile(r"[ \t]+")
_LINE_NUMBER = re.compile(r"[0-9]{1,5}", re.ASCII)
_UNPRINTABLE = re.compile(r"[^\t\x20-\x7e]")
_OUTSIDE_COMMENTS = re.compile(r"\([^)]*\)?")


@dataclass(slots=True)
class Block:
    """One line, taken apart. Columns count from 1.

    words: letter → value, without G, M and N. codes: G and M words in the order written, as (letter, value, column).
    """

    line: int
    words: dict[str, float] = field(default_factory=dict)
    columns: dict[str, int] = field(default_factory=dict)
    codes: list[tuple[str, float, int]] = field(default_factory=list)
    comments: list[str] = field(default_factory=list)
    number: int | None = None
    deletable: bool = False
    faults: list[Fault] = field(default_factory=list)

    def fault(self, column: int, rule: str, says: str) -> None:
        """Note a fault of this line."""
        self.faults.append(Fault(self.line, column, says, rule))


def scan(text: str, line: int) -> Block:
    """The words of one line, and the faults in how it is written.

    After a character or a number that cannot be, the rest of the line means nothing and is left alone.

    text: the line without its end. Never raises. A line with parameters or expressions (`#`, `[`) is well formed in the
    standard; it is reported as `expression-not-read`, and nothing else of it.
    """
    block = Block(line)
    if len(text) > LINE_LIMIT:
        block.fault(LINE_LIMIT + 1, "line-too-long", f"{len(text)} characters; a line has at most {LINE_LIMIT}")
        return block
    bare = _OUTSIDE_COMMENTS.sub(lambda m: " " * len(m.group()), text)
    expression = min((bare.find(sign) for sign in "#[]" if sign in bare), default=-1)
    if expression >= 0:
        block.fault(
            expression + 1, "expression-not-read", f"{text[expression]!r}: parameters and expressions are not read here"
        )
        return block
    at = len(text) - len(text.lstrip(" \t"))
    if text.startswith("/", at):
        block.deletable = True
        at += 1
    while at < len(text):
        if text[at] in " \t":
            at += 1
        elif text[at] == "(":
            at = _comment(block, text, at)
        else:
            at = _word(block, text, at)
    return block


def _comment(block: Block, text: str, at: int) -> int:
    """Take the comment that opens at `at`; where reading goes on."""
    close = text.find(")", at)
    inner = text.find("(", at + 1)
    if inner >= 0 and (close < 0 or inner < close):
        block.fault(inner + 1, "comment-nested", "a bracket opens inside a comment")
        return len(text)
    if close < 0:
        block.fault(at + 1, "comment-unclosed", "the comment does not close on its line")
        return len(text)
    comment = text[at + 1 : close]
    odd = _UNPRINTABLE.search(comment)
    if odd:
        block.fault(at + 2 + odd.start(), "comment-character", f"{odd.group()!r} in a comment")
    block.comments.append(comment)
    return close + 1


def _word(block: Block, text: str, at: int) -> int:
    """Take the word that begins at `at`; where reading goes on."""
    letter = text[at].upper() if text[at].isascii() else text[at]
    column = at + 1
    if letter not in LETTERS:
        if letter.isascii() and letter.isalpha():
            block.fault(column, "unknown-letter", f"no word begins with {text[at]}")
            return _number_run(text, at + 1)[1]
        hint = "; comments stand in round brackets" if letter == ";" else ""
        block.fault(column, "bad-character", f"{text[at]!r} is not allowed here{hint}")
        return len(text)
    digits, end = _number_run(text, at + 1)
    if letter == "N":
        _line_number(block, text, column, digits)
    elif not _NUMBER.fullmatch(digits):
        block.fault(column, "bad-number", f"{letter}{digits} is not a number" if digits else f"{letter} has no number")
        return len(text)
    elif letter in "GM":
        block.codes.append((letter, float(digits), column))
    elif letter in block.words:
        block.fault(column, "word-repeated", f"a second {letter} in one line")
    else:
        block.words[letter] = float(digits)
        block.columns[letter] = column
    return end


def _number_run(text: str, at: int) -> tuple[str, int]:
    """What could be a number from `at` on, without its blanks, and where it ends."""
    run = _NUMBER_RUN.match(text, at)
    assert run is not None  # the pattern matches the empty string
    return _BLANKS.sub("", run.group()), run.end()


def _line_number(block: Block, text: str, column: int, digits: str) -> None:
    """Take an N word, which only a `/` may precede."""
    if text[: column - 1].strip(" \t/"):
        block.fault(column, "line-number", "N stands first in its line")
    elif not _LINE_NUMBER.fullmatch(digits):
        block.fault(column, "line-number", f"N{digits}: a line number has one to five digits and nothing else")
    else:
        block.number = int(digits)
