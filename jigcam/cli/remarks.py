"""Findings said once: the same remark about several joints is one remark, with the joints that it holds for.

Two findings are the same remark where rule, level and words agree. Of notes a few words may differ: they are left open
(`...`) in the remark, and told for each joint.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from jigcam.findings import Finding, Level, by_gravity

MOST_OPEN = 3
"""Open words in a note at most: with more the sentence says nothing any longer."""
LEAST_SAID = 4
"""Words that stand for each one that is left open, at least."""
OPEN = "..."
_UNITS = ("in", "mm", "in,", "mm,", "in;", "mm;")
_CLOSES = ",;:)"


@dataclass(slots=True)
class Remark:
    """What one or several findings say. says: one sentence for each of `wheres`."""

    level: Level
    rule: str
    wheres: list[str] = field(default_factory=list)
    says: list[str] = field(default_factory=list)

    @property
    def open(self) -> list[int]:
        """Places of the words that are not the same for all."""
        return _differing([text.split(" ") for text in self.says])

    @property
    def sentence(self) -> str:
        """What holds for all, with open words."""
        words = self.says[0].split(" ")
        for place in self.open:
            words[place] = OPEN + (words[place][-1] if words[place][-1:] in _CLOSES else "")
        return " ".join(words)

    @property
    def values(self) -> list[str]:
        """For each place the words that the sentence leaves open, lengths with their unit; nothing where none is."""
        told = []
        for text in self.says if self.open else ():
            words = [*text.split(" "), ""]
            lengths = [words[n] + (f" {words[n + 1]}" if words[n + 1] in _UNITS else "") for n in self.open]
            told.append(", ".join(length.rstrip(_CLOSES) for length in lengths))
        return told

    def takes(self, finding: Finding) -> bool:
        """Whether the finding is this remark, about another place."""
        if (finding.level, finding.rule) != (self.level, self.rule) or finding.where in self.wheres:
            return False
        texts = [text.split(" ") for text in (*self.says, finding.says)]
        if len({len(words) for words in texts}) > 1:
            return False
        open_words = len(_differing(texts))
        return open_words <= (MOST_OPEN if self.level == "note" else 0) and open_words * (LEAST_SAID + 1) <= len(
            texts[0]
        )


def _differing(texts: Sequence[Sequence[str]]) -> list[int]:
    return [place for place, words in enumerate(zip(*texts, strict=True)) if len(set(words)) > 1]


def said_once(findings: Iterable[Finding]) -> list[Remark]:
    """The findings as remarks, gravest first, those of one rule together, rules in the order in which they speak."""
    remarks: list[Remark] = []
    for finding in by_gravity(findings):
        remark = next((each for each in remarks if each.takes(finding)), None)
        if remark is None:
            remark = Remark(finding.level, finding.rule)
            remarks.append(remark)
        remark.wheres.append(finding.where)
        remark.says.append(finding.says)
    rules = list(dict.fromkeys((remark.level, remark.rule) for remark in remarks))
    return sorted(remarks, key=lambda remark: rules.index((remark.level, remark.rule)))


def whole(remark: Remark, everywhere: Sequence[str] = ()) -> list[str]:
    """The remark as paragraphs: the joints that it holds for and its sentence; then what its open words are for which
    joint.

    everywhere: names of all joints there are; where the remark holds for all of several they are not listed, and the
    name of the only one is left out.
    """
    named = list(dict.fromkeys(where for where in remark.wheres if where))
    if remark.open or (len(everywhere) == 1 and named == list(everywhere)):
        head = ""
    elif everywhere and named == list(everywhere):
        head = "all joints: "
    else:
        # A sentence that begins with what it is about needs no name before it.
        head = f"{', '.join(named)}: " if named and not remark.sentence.startswith(tuple(named)) else ""
    paragraphs = [f"{head}{remark.sentence} [{remark.rule}]"]
    if remark.open:
        values = list(zip(remark.wheres, remark.values, strict=True))
        told = {value: [where for where, its in values if its == value] for _, value in values}
        paragraphs.append("; ".join(f"{', '.join(wheres)}: {value}" for value, wheres in told.items()))
    return paragraphs
