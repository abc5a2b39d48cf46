"""Which joint of a job the next test piece is for, and what its kind says of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.errors import InputError, Refused
from jigcam.findings import stops
from jigcam.joints import kind, kind_names
from jigcam.units import parse_length

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.making.kind import Advice


def next_trial(job: Job, kit: Kit, joint: str | None, play: str) -> Advice:
    """What to set after a test piece with that play, of the joint named or the only one that is fitted so.

    play: a length as people write it; a bare number is in the job's units.

    Raises InputError where no joint, or more than one, comes into question, or the play is no length or says nothing;
    `Refused` for a joint that cannot be cut as drawn or with the kit.
    """
    entry = _fitted(job, joint)
    its = kind(entry.kind)
    assert its.next_trial is not None
    drawn = its.design(entry, job)
    if stops(drawn.findings):
        raise Refused(f"{entry.name} cannot be cut as drawn", drawn.findings)
    try:
        return its.next_trial(drawn, entry, job, kit, parse_length(play, job.units))
    except InputError as error:
        error.where = error.where or "--gap"
        raise


def fitted_kinds() -> tuple[str, ...]:
    """The kinds that are fitted by test pieces, as their rooms say."""
    return tuple(name for name in kind_names() if kind(name).next_trial)


def _fitted(job: Job, joint: str | None) -> Entry:
    entries = job.joints if joint is None else (job.joint(joint),)
    fitted = [entry for entry in entries if kind(entry.kind).next_trial]
    if len(fitted) == 1:
        return fitted[0]
    kinds = " or ".join(fitted_kinds())
    if fitted:
        names = ", ".join(repr(entry.name) for entry in fitted)
        raise InputError(
            "several joints of the job are fitted by test pieces",
            where=job.where(),
            found=names,
            wanted="one of them",
            mend=f"--joint {fitted[0].name!r}",
        )
    raise InputError(
        f"a {entries[0].kind} is not fitted by test pieces"
        if joint
        else "no joint of the job is fitted by test pieces",
        where=job.where(),
        found=", ".join(f"{entry.name!r}, a {entry.kind}" for entry in entries) or "no joint",
        wanted=f"a joint of kind {kinds}",
    )
