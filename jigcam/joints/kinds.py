"""Which module builds which kind of joint. A new kind adds its line here, and nowhere else in this package."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final, Protocol

from jigcam.findings import Finding
from jigcam.job import Entry, Job
from jigcam.joints.groove.groove import groove
from jigcam.joints.key.key import key
from jigcam.joints.through_dovetail import through_dovetail


class Joint(Protocol):
    """What every kind of joint answers. Its cuts are the kind's own: a groove's are known before any tool, a dovetail's
    only with the kit whose bit decides the slope."""

    @property
    def name(self) -> str:
        """As the job names it."""
        ...

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules of the trade say about it, before any tool is chosen."""
        ...


BUILDERS: Final[dict[str, Callable[[Any, Job], Joint]]] = {
    "groove": groove,
    "key": key,
    "through-dovetail": through_dovetail,
}
"""Builder of each kind, by the name that the key `kind` gives it; it takes that kind's entry."""


def build(entry: Entry, job: Job) -> Joint:
    """The joint of a job's entry, with its findings. Every kind that a job can ask for has a builder."""
    return BUILDERS[entry.kind](entry, job)
