"""Which cut of a job the bench is asked about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.errors import InputError, Refused
from jigcam.findings import stops
from jigcam.joints import Groove, build

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jigcam.job import Entry, Job
    from jigcam.joints import Cut


@dataclass(frozen=True, slots=True)
class BenchCut:
    """A groove of a job, and its cut as drawn."""

    entry: Entry
    groove: Groove
    cut: Cut


def bench_cuts(job: Job, joint: str | None = None) -> Iterator[BenchCut]:
    """The grooves of a job that a template can guide, or the one named; a groove is one whatever its `way`.

    Raises InputError where there is none, `Refused` for a groove that cannot be cut as drawn.
    """
    entries = job.joints if joint is None else (job.joint(joint),)
    found = False
    for entry in entries:
        made = build(entry, job)
        if not isinstance(made, Groove):
            continue
        found = True
        if stops(made.findings):
            raise Refused(f"{entry.name} cannot be cut as drawn", made.findings)
        yield BenchCut(entry, made, made.cuts()[0])
    if not found:
        what = f"{joint!r} is a {entries[0].kind}" if joint is not None else "none of its joints is a groove"
        raise InputError("the bench wants a groove", where=job.where(), found=what,
                         wanted="a joint of kind groove: one width, which a bushing guides")  # fmt: skip
