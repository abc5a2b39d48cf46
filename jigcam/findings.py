"""Findings: what the rules of the trade and the proof have to say about a job."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from jigcam.values import dataclass

Level = Literal["stop", "caution", "note"]
LEVELS: tuple[Level, ...] = ("stop", "caution", "note")


@dataclass(frozen=True, slots=True)
class Rule:
    """A finding as its room declares it. levels: that it can have; means: what it is about; cure: what mends it."""

    levels: tuple[Level, ...]
    means: str
    cure: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One remark. `rule` is a stable short name (kebab-case); `where` a joint, file and line, or place.

    `says` is a whole sentence.

    A `stop` refuses the job: nothing is written. A `caution` is a danger or a doubt to be read before cutting.
    A `note` explains a choice.
    """

    level: Level
    rule: str
    where: str
    says: str

    def as_dict(self) -> dict[str, str]:
        """The fields, as the manifest and `--json` give them."""
        return {"level": self.level, "rule": self.rule, "where": self.where, "says": self.says}


def stops(findings: Iterable[Finding]) -> list[Finding]:
    """Those that refuse the job."""
    return [f for f in findings if f.level == "stop"]


def by_gravity(findings: Iterable[Finding]) -> list[Finding]:
    """Stops first, then cautions, then notes; the order within a level is kept; exact repeats are dropped."""
    return sorted(dict.fromkeys(findings), key=lambda f: LEVELS.index(f.level))
