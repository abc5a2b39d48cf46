"""Which cut of a job the bench is asked about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.bench.sheet import sheet_verdict
from jigcam.errors import InputError, Refused
from jigcam.findings import stops
from jigcam.joints import kind, kind_names
from jigcam.template import Need, Verdict, rank_pairs
from jigcam.units import Voice

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.making.kind import Guided
    from jigcam.wood import Cut, Mate


@dataclass(frozen=True, slots=True)
class BenchCut:
    """A joint of a job that a bushing can guide, as drawn."""

    entry: Entry
    guided: Guided
    job: Job

    @property
    def sheet(self) -> str | None:
        """The name of the sheet that it shares with other joints, if it does."""
        return self.entry.template if self.entry.template in self.job.sheets else None

    @property
    def cut(self) -> Cut:
        """As drawn."""
        return self.guided.cut

    @property
    def mate(self) -> Mate:
        """That goes into it."""
        return self.guided.mate


def bench_cuts(job: Job, joint: str | None = None) -> Iterator[BenchCut]:
    """The grooves of a job that a template can guide, or the one named; a groove is one whatever its `way`.

    Raises InputError where there is none, `Refused` for a groove that cannot be cut as drawn.
    """
    entries = job.joints if joint is None else (job.joint(joint),)
    found = False
    for entry in entries:
        its = kind(entry.kind)
        if its.guided is None:
            continue
        found = True
        made = its.design(entry, job)
        if stops(made.findings):
            raise Refused(f"{entry.name} cannot be cut as drawn", made.findings)
        yield BenchCut(entry, its.guided(made), job)
    if not found:
        kinds = " or ".join(name for name in kind_names() if kind(name).guided is not None)
        what = f"{joint!r} is a {entries[0].kind}" if joint is not None else f"none of its joints is a {kinds}"
        raise InputError(
            f"the bench wants a {kinds}",
            where=job.where(),
            found=what,
            wanted=f"a joint of kind {kinds}: one width, which a bushing guides",
        )


def the_cut(job: Job, joint: str | None = None) -> BenchCut:
    """The job's only groove, or the one named. Raises InputError where there are several and none is named."""
    cuts = list(bench_cuts(job, joint))
    if len(cuts) > 1:
        names = ", ".join(repr(each.entry.name) for each in cuts)
        raise InputError(
            "the job has several grooves", where=job.where(), found=names, wanted="one of them, with --joint"
        )
    return cuts[0]


def chosen_verdict(each: BenchCut, kit: Kit, voice: Voice) -> Verdict:
    """The pair that the groove would be cut with, of those that its entry allows: the best, whether it works or not.

    On a sheet that it shares the one by which the sheet is made. Raises InputError where the kit has no bushing,
    `Refused` where the shared sheet cannot be made.
    """
    entry, cut = each.entry, each.cut
    if each.sheet is not None and kit.bushings:
        return sheet_verdict(each.job, entry, kit)[0]
    bits = [kit.bit(entry.bit)] if entry.bit else None
    bushings = [kit.bushing(entry.bushing)] if entry.bushing else None
    need = Need(cut.narrowest, cut.solid.depth, each.guided.corners, voice)
    verdicts = rank_pairs(kit, need, bits=bits, bushings=bushings, where=cut.joint)
    if not verdicts:
        raise InputError(
            "the kit has no guide bushing: nothing rides a template",
            where=entry.name,
            found=kit.name,
            wanted="a kit with [[bushings]]",
        )
    return verdicts[0]
