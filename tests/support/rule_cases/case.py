"""One rule's case, and how findings are had from what may refuse."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache

from jigcam.errors import Refused
from jigcam.findings import Finding

Findings = Iterable[Finding]
Say = Callable[[], Findings]


@dataclass(frozen=True)
class Case:
    """speaks: each makes the rule speak; together at all of its levels. silent: does not."""

    speaks: tuple[Say, ...]
    silent: Say


def case(*speaks: Say, silent: Say) -> Case:
    """A rule's case."""
    return Case(speaks, silent)


def said(make: Callable[[], Findings]) -> Say:
    """The findings of what is made, or of its refusal; made once."""

    @cache
    def say() -> tuple[Finding, ...]:
        try:
            return tuple(make())
        except Refused as refused:
            return tuple(refused.findings)

    return say
