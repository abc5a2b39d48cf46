"""Faults that the reader finds in a text, each under a stable rule name and with its place in the standard.

Words: a *fault* makes a file unfit to be trusted; a *remark* is worth knowing and leaves the file's meaning as it is.

Source: Kramer, Proctor, Messina, The NIST RS274/NGC Interpreter – Version 3, NISTIR 6556, 2000. The sections named in
`FAULTS` other than 3.3–3.4, 3.5.3, 3.5.16 and 3.6.1 are from memory.
"""

from __future__ import annotations

from jigcam.values import dataclass

OURS = "not in the standard"

FAULTS: dict[str, tuple[str, str]] = {
    # form of a line
    "line-too-long": ("3.3", "the line has more than 256 characters"),
    "bad-character": ("3.3", "a character that no line may hold there"),
    "line-number": ("3.3.1", "N does not stand first, or has not one to five digits"),
    "unknown-letter": ("3.3.2", "a letter that begins no word"),
    "bad-number": ("3.3.2.1", "what follows a letter is no number: a sign, digits, at most one point"),
    "comment-nested": ("3.3.4", "a bracket opens inside a comment"),
    "comment-unclosed": ("3.3.4", "a comment does not close on its line"),
    "comment-character": ("3.3.4", "a comment holds a character that cannot be printed"),
    "word-repeated": ("3.3.5", "a letter other than G and M stands twice in a line"),
    "same-group": ("3.3.5", "two codes of one modal group in a line"),
    "too-many-m": ("3.3.5", "more than four M words in a line"),
    "unknown-code": ("3.5", "a G or M code that the standard does not have"),
    # axis words and the codes that use them
    "axis-words-missing": ("3.4", "a code lacks the axis word that it needs"),
    "axis-words-unused": ("3.4", "axis words, and no code in force that uses them"),
    "two-codes-use-axes": ("3.4", "two codes on one line that both use axis words"),
    "g80-axis-words": ("3.5.15", "G80 with axis words"),
    "word-unused": ("3.5", "a word that no code on the line uses"),
    # values
    "feed-missing": ("3.5.2", "a cutting move without a feed above zero"),
    "feed-negative": ("3.7.1", "F is negative"),
    "feed-inverse-time": ("3.5.19", "a cutting move in G93 without an F of its own"),
    "speed-negative": ("3.7.2", "S is negative"),
    "tool-number": ("3.7.3", "T is no whole number from 0 to 99999"),
    "p-negative": ("3.5.4", "P is negative"),
    "dwell-missing": ("3.5.4", "G4 without P"),
    "not-whole": ("3.3.2.1", "a number that has to be whole is not"),
    # arcs
    "arc-end-missing": ("3.5.3", "an arc without an axis word of its plane"),
    "arc-offsets-missing": ("3.5.3", "an arc without R and without a centre"),
    "arc-mixed-form": ("3.5.3", "R and centre offsets in one arc"),
    "arc-wrong-offset": ("3.5.3", "an offset across the plane of the arc"),
    "arc-zero-radius": ("3.5.3", "the centre lies on the start point"),
    "arc-radius-mismatch": ("3.5.3.2", "start and end are not equally far from the centre"),
    "arc-radius-too-small": ("3.5.3.1", "the radius does not reach the end point"),
    "arc-same-point": ("3.5.3.1", "an arc by radius ends where it starts"),
    "arc-start-unknown": (OURS, "an arc from a place that the file has not given"),
    # coordinate systems
    "g10-form": ("3.5.5", "G10 without L2 and P from 1 to 9"),
    "g53-motion": ("3.5.12", "G53 without G0 or G1"),
    "g53-incremental": ("3.5.12", "G53 together with G91"),
    "compensation-plane": ("3.5.10", "cutter compensation in another plane than XY"),
    "length-offset-index": ("3.5.11", "G43 without H"),
    # canned cycles
    "cycle-r-missing": ("3.5.16", "the first cycle of a kind without R"),
    "cycle-depth-missing": ("3.5.16", "the first cycle of a kind without its depth"),
    "cycle-r-below-depth": ("3.5.16", "R lies below the bottom of the hole"),
    "cycle-repeats": ("3.5.16", "L is no whole number above zero"),
    "cycle-retract": ("3.5.20", "neither G98 nor G99 said how far a cycle comes out; nothing resets it between files"),
    "cycle-peck": ("3.5.16.4", "G83 without Q above zero"),
    "cycle-dwell-missing": ("3.5.16", "the first cycle of a kind that dwells without P"),
    "cycle-offsets-missing": ("3.5.16.8", "the first G87 lacks an offset, or the height of the counterbore"),
    "cycle-spindle": ("3.5.16", "a cycle with the spindle not turning, or G84 with it not clockwise"),
    "cycle-inverse-time": ("3.5.16", "a canned cycle in G93"),
    "cycle-start-unknown": (OURS, "a canned cycle from a height that the file has not given"),
    "cycle-too-long": (OURS, "more holes or pecks in one line than anyone would drill"),
    # the file
    "program-end-missing": ("3.6.1", "the file neither ends with M2 or M30 nor stands between % lines"),
    "percent-unclosed": ("3.6.1", "the file opens with % and has no second % line"),
    # what this reader will not vouch for
    "expression-not-read": (OURS, "a parameter or an expression, which are not read here"),
    "compensation-not-judged": (OURS, "cutter compensation moves the path by a number that the file does not hold"),
    "probe-not-judged": (OURS, "a probing move ends where the file does not say"),
    "rotary-not-judged": (OURS, "a turning axis, which is not judged here"),
    "too-many-faults": (OURS, "reading stopped after this many faults"),
    # remarks
    "block-delete": ("3.3", "an operator's switch decides whether the line counts; it was read"),
    "after-end": ("3.6.1", "text after the end of the program is not read"),
    "units-unstated": ("3.5.7", "no G20 or G21 before the first move; millimetres were taken"),
    "units-changed": ("3.5.7", "the units change after moves were made"),
    "position-unknown": ("3.5.8", "the move ends at a place that only the machine knows"),
    "other-zero": ("3.5.13", "a coordinate system other than G54: its zero is not the one that was set"),
    "zero-moved": ("3.5.18", "G10 and the G92 family move the zero that was set"),
    "offset-unknown": ("3.5.13", "from here on coordinates rest on offsets that only the machine knows"),
}
"""Rule → (section of NISTIR 6556, what is wrong)."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault or remark. line and column count from 1; column 0 is the line, or the file, as a whole."""

    line: int
    column: int
    says: str
    rule: str

    @property
    def section(self) -> str:
        """The section of NISTIR 6556 that the rule rests on, or words that it is ours."""
        return FAULTS[self.rule][0]

    def __str__(self) -> str:
        place = f"line {self.line}" + (f", column {self.column}" if self.column else "")
        return f"{place}: {self.says} [{self.rule}]"


class Objection(Exception):
    """A fault on its way from a rule to the line that it belongs to; it never leaves the reader.

    letter: the word at fault, or the code by its name, "" for the line as a whole.
    """

    def __init__(self, rule: str, says: str, letter: str = "") -> None:
        super().__init__(says)
        self.rule = rule
        self.says = says
        self.letter = letter
