"""What a text tells a person, compared with what the job says: messages, and comments on bit, zero, stock and setup.

A comment moves no axis, but a person puts in the bit, clamps the board and sets zero by it. Comments that the planned
file has are its words; one that is another and speaks of such things is refused, and so is every other message. Facts
that the proof knows by itself, bits and stock, are compared with the words as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from jigcam.errors import InputError
from jigcam.findings import Finding, Level
from jigcam.gcode import Reading
from jigcam.gcode.comment import reduce
from jigcam.kit import Machine
from jigcam.proof.changes import pauses_change
from jigcam.proof.target import Target
from jigcam.proof.tools import Tools, table_of
from jigcam.proof.wording import Wording
from jigcam.units import parse_length

SPOKEN_OF = re.compile(
    r"\b(bits?|cutters?|tools?|collets?|bushings?|zero|origin|datum|stock|blank|sheet|boards?|piece|workpiece|setup|face|"
    r"ends?|edge|corner|side|up|down|left|right|front|back|clamp\w*|vise|fence|screw\w*|diameter|thick\w*|wide|deep|depth|"
    r"spindle|rpm|speed|dial|feed|joint|hand|kit|material|\d[\d/.-]* ?(?:mm|in|inch(?:es)?|deg))\b",
    re.IGNORECASE,
)
"""Words of what a person sets up by a comment."""
IDENTITY = re.compile(r"^(?:file|joint):|.* - jigcam [^,]*, kit:", re.IGNORECASE)
"""Comments that say which file this is."""
SIZE = 0.02
"""Lengths in comments are rounded: to this, mm."""
_VERSION = re.compile(r" - jigcam [^,]*,")
_BIT = re.compile(r"^bit(?: (\d+))?: (.*)$", re.IGNORECASE)
_STOCK = re.compile(r"\bstock: (\S+ \w+) by (\S+ \w+), (\S+ \w+) thick", re.IGNORECASE)
_NAME = 60
"""Characters of a bit's name that are compared: a long one runs on in the next comment."""


def findings_of(reading: Reading, target: Target, machine: Machine, tools: Tools, wording: Wording) -> list[Finding]:
    """What the words of a text say otherwise; nothing where the target does not say what they should be."""
    if target.told is None:
        return []
    return [
        *_messages(reading, target.told, machine),
        *_comments(reading, target.told, asked=target.asked),
        *_bits(reading, tools),
        *_stock(reading, target, wording),
    ]


def plain(text: str) -> str:
    """A comment as far as it matters: without case, blanks and the version of the program."""
    return " ".join(_VERSION.sub(" - jigcam,", text).split()).casefold()


def _message(text: str) -> str | None:
    """What a comment shows to the operator, None if it is no message (NISTIR 6556 section 3.3.4)."""
    head, comma, message = text.partition(",")
    return plain(message) if comma and "".join(head.split()).upper() == "MSG" else None


def _messages(reading: Reading, told: tuple[str, ...], machine: Machine) -> Iterator[Finding]:
    wanted = [message for message in map(_message, told) if message is not None]
    said = [plain(each.text) for each in reading.messages]
    if said != wanted:
        place = next((k for k, pair in enumerate(zip(said, wanted, strict=False)) if pair[0] != pair[1]), None)
        if place is None:
            place = min(len(said), len(wanted))
        where = f"line {reading.messages[place].line}" if place < len(said) else "the file"
        here = f"{reading.messages[place].text!r}" if place < len(said) else "nothing"
        there = f"{wanted[place]!r}" if place < len(wanted) else "nothing"
        says = f"the message to the operator is {here}, and was to be {there}"
        yield Finding("stop", "message", where, says)
    if wanted and pauses_change(reading, machine):
        lines = [each.line for each in reading.messages]
        for stop in reading.stops:
            since = int(reading.motions["line"][stop.before - 1]) if stop.before else 0
            if stop.kind == "pause" and not any(since < line < stop.line for line in lines):
                says = "the program waits for another bit and no message before it says which"
                yield Finding("stop", "message", f"line {stop.line}", says)


def _comments(reading: Reading, told: tuple[str, ...], *, asked: bool) -> Iterator[Finding]:
    wanted = dict.fromkeys(map(plain, told))
    for comment in reading.comments:
        said = plain(comment.text)
        if said in wanted or _message(comment.text) is not None:
            continue
        which = IDENTITY.match(comment.text.strip()) is not None
        if not which and not SPOKEN_OF.search(comment.text):
            continue
        near = get_close_matches(said, wanted, 1, 0.6)
        says = f"the comment ({comment.text.strip()}) is not the job's"
        says += f", which says ({near[0]})" if near else ": a person would go by it"
        if which:
            level: Level = "caution" if asked else "stop"
            yield Finding(level, "another-file", f"line {comment.line}", says)
        else:
            yield Finding("stop", "comment", f"line {comment.line}", says)


def _bits(reading: Reading, tools: Tools) -> Iterator[Finding]:
    """The bits that comments name, against those that the file is proved with."""
    table = table_of(tools)
    for comment in reading.comments:
        named = _BIT.match(comment.text.strip())
        if named is None:
            continue
        bit = table.get(int(named[1] or 1))
        if bit is None or not named[2].casefold().startswith(reduce(bit.name)[:_NAME].casefold()):
            wanted = f"it is proved with {bit.name}" if bit else "there is no such bit"
            yield Finding("stop", "comment", f"line {comment.line}", f"({comment.text.strip()}): {wanted}")


def _stock(reading: Reading, target: Target, wording: Wording) -> Iterator[Finding]:
    """The stock that a comment gives, against the drawing's."""
    stock = target.stock
    sizes = (stock.x1 - stock.x0, stock.y1 - stock.y0, stock.thickness)
    for comment in reading.comments:
        said = _STOCK.search(comment.text)
        if said is None:
            continue
        try:
            lengths = [parse_length(text, None) for text in said.groups()]
        except InputError:
            lengths = []
        if not lengths or any(abs(a - b) > SIZE for a, b in zip(lengths, sizes, strict=True)):
            wanted = " by ".join(wording.length(size, 2) for size in sizes)
            says = f"({comment.text.strip()}): the stock of the drawing is {wanted}"
            yield Finding("stop", "comment", f"line {comment.line}", says)
