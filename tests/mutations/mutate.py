"""Mutants of a G-code file: a word changed or added, lines or operations dropped, doubled or swapped, the end cut off,
text changed that people read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

STEPS = (0.06, 0.2, 1.0, 10.0)
"""Changes of a coordinate, in mm; in an inch file they are the same lengths in inches."""
SCALES = (0.01, 0.1, 0.5, 2.0, 10.0)
WORD = re.compile(r"([A-Z])\s*([-+]?(?:\d+\.?\d*|\.\d+))")
RUNS = (5, 20, 80)
"""Lines dropped in a row."""
ADDED = (
    *("G55", "G59.3", "G92 X0", "G92.1", "G10 L2 P1 X1 Y1", "G43 H1", "G49", "T2", "M6", "T1 M6"),
    *("M0", "M1", "M60", "M5\nM0\nM3", "G4 P0.2", "G4 P30", "(MSG, PUT IN THE 8 MM BIT)", "(checked on Tuesday)"),
)
"""What a hand may write between two lines."""
WORDS = (("left", "right"), ("right", "left"), ("lower", "upper"), ("as drawn", "opposite"), ("flat", "upright"))
"""Words of comments and what is put in their place."""
SWAPPED = {"G0": "G1", "G1": "G0", "G2": "G3", "G3": "G2", "G20": "G21", "G21": "G20", "G90": "G91", "G91": "G90"}


@dataclass(frozen=True)
class Mutant:
    """A changed text; kind: what sort of change; line: where, counted from 1; says: what was there and what is now.

    lines: of the original; from `start` to `stop` they give place to `instead`. The text is put together when it is
    asked for: all mutants of a file at once would fill the memory.
    """

    kind: str
    line: int
    says: str
    lines: list[str]
    start: int
    stop: int
    instead: tuple[str, ...]

    @property
    def text(self) -> str:
        """The changed text."""
        return "\n".join([*self.lines[: self.start], *self.instead, *self.lines[self.stop :]]) + "\n"


def mutants(text: str) -> Iterator[Mutant]:
    """All mutants of a text, in the order of its lines."""
    lines = text.splitlines()
    unit = 25.4 if re.search(r"\bG20\b", _bare(text)) else 1.0
    for index, line in enumerate(lines):
        for kind, changed in _words(line, unit):
            yield _mutant(kind, lines, index, changed)
        if _bare(line).strip():
            yield _mutant("line dropped", lines, index)
            yield _mutant("line doubled", lines, index, line, line)
            if index + 1 < len(lines):
                after = lines[index + 1]
                says = f"{line!r} and {after!r} change places"
                yield Mutant("lines swapped", index + 1, says, lines, index, index + 2, (after, line))
            for count in RUNS:
                if index + count < len(lines):
                    gone = f"{count} lines from {line!r} on are gone"
                    yield Mutant("lines dropped", index + 1, gone, lines, index, index + count, ())
            yield _mutant("block delete", lines, index, "/" + line)
        for added in ADDED:
            says = f"{added!r} before {line!r}"
            yield Mutant(f"{added.split(chr(10))[0]} added", index + 1, says, lines, index, index, (added,))
        for kind, changed in _comment(line):
            yield _mutant(kind, lines, index, *changed)
    yield from _operations(lines)
    percent = ("%", *lines[:-2], "%")
    yield Mutant("% for M5 and M30", len(lines) - 1, "% alone ends the file", lines, 0, len(lines), percent)
    for count in (1, 2, 3):
        rest = len(lines) - count
        yield Mutant("end cut off", rest + 1, f"the last {count} lines gone", lines, rest, len(lines), ())


def _operations(lines: list[str]) -> Iterator[Mutant]:
    """Whole operations dropped, and two that follow each other swapped: those that begin with a comment, or, where none
    does, with a rapid across."""
    first = next((k for k, line in enumerate(lines) if _bare(line).strip().startswith("G0")), len(lines))
    starts = [k for k in range(first, len(lines)) if lines[k].startswith("(")]
    starts = starts or [k for k in range(first, len(lines)) if re.match(r"G0 ?X", lines[k])]
    bounds = [*starts, len(lines) - 3]
    for number, start in enumerate(starts):
        stop = bounds[number + 1]
        says = f"the operation {lines[start]!r} is gone"
        yield Mutant("operation dropped", start + 1, says, lines, start, stop, ())
        if number + 2 < len(bounds):
            after = bounds[number + 2]
            says = f"the operations {lines[start]!r} and {lines[stop]!r} change places"
            swapped = (*lines[stop:after], *lines[start:stop])
            yield Mutant("operations swapped", start + 1, says, lines, start, after, swapped)


def _comment(line: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """A comment dropped, a number in it changed, a word of it turned into its opposite."""
    if not line.startswith("("):
        return
    yield "comment dropped", ()
    for number in re.finditer(r"\d+", line):
        other = str(int(number.group()) + 1)
        yield "number in a comment", (line[: number.start()] + other + line[number.end() :],)
    for word, other in WORDS:
        if word in line:
            yield "word in a comment", (line.replace(word, other, 1),)


def _mutant(kind: str, lines: list[str], index: int, *instead: str) -> Mutant:
    says = f"{lines[index]!r} becomes {' / '.join(instead)!r}"
    return Mutant(kind, index + 1, says, lines, index, index + 1, instead)


def _bare(line: str) -> str:
    return re.sub(r"\([^)]*\)", lambda m: " " * len(m.group()), line)


def _words(line: str, unit: float) -> Iterator[tuple[str, str]]:
    bare = _bare(line)
    for match in WORD.finditer(bare):
        letter, number = match.groups()

        def put(word: str, match: re.Match[str] = match) -> str:
            return line[: match.start()] + word + line[match.end() :]

        if letter in "XYZIJ":
            for step in STEPS:
                for sign in (1, -1):
                    moved = float(number) + sign * step / unit
                    yield f"{letter} {sign * step:+g} mm", put(f"{letter}{moved:.5f}")
            if float(number) != 0.0:
                yield f"{letter} sign", put(f"{letter}{-float(number):.5f}")
        if letter in "SF":
            for scale in SCALES:
                yield f"{letter} × {scale:g}", put(f"{letter}{float(number) * scale:.3f}")
        code = f"{letter}{number}"
        if code in SWAPPED:
            yield f"{code} to {SWAPPED[code]}", put(SWAPPED[code])
        if code == "M3":
            yield "M3 dropped", put("")
            yield "M3 to M4", put("M4")
        if letter in "XYZIJFS":
            yield from ((f"digit lost in {letter}", put(f"{letter}{lost}")) for lost in _lost(number))
    if re.search(r"I[-+.\d]+", bare) and re.search(r"J[-+.\d]+", bare):
        yield "I and J swapped", re.sub(r"[IJ](?=[-+.\d])", lambda m: "J" if m.group() == "I" else "I", line)


def _lost(number: str) -> Iterator[str]:
    """The number without its first digit, without its point, and without its last digit."""
    seen = {number}
    digits = [k for k, c in enumerate(number) if c.isdigit()]
    for gone in (digits[0], number.find("."), digits[-1]):
        shorter = number[:gone] + number[gone + 1 :] if gone >= 0 else number
        if shorter not in seen and any(c.isdigit() for c in shorter):
            seen.add(shorter)
            yield shorter
