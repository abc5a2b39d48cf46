"""The order of a piece for people: step by step, how it is glued up, and what the year does to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.errors import JigcamError
from jigcam.job.loading import kit_for
from jigcam.kit import Kit
from jigcam.making.columns import hanging
from jigcam.piece.glue_up import glue_lines
from jigcam.piece.order_words import order_lines
from jigcam.wood.seasons import Seasons

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.piece.assembly import PartAssembly


def order_account(parts: Sequence[PartAssembly], job: Job, width: int) -> list[str]:
    """Lines of the screen for all parts of several boards. Raises InputError where the climate of job and kit is none.

    Where boards lock each other there is no order to tell: what says so are the findings.
    """
    lines: list[str] = []
    several = [part for part in parts if part.contacts]
    seasons = seasons_of(job)
    for number, part in enumerate(several, start=1):
        of = f" of part {number}" if len(several) > 1 else ""
        if part.locked:
            lines += ["", *hanging(f"order{of}: none, as boards lock each other", width)]
            continue
        lines += ["", f"order{of}", *_told(order_lines(part), width)]
        lines += ["", f"gluing up{of}", *_told(glue_lines(part, job, seasons), width)]
    return lines


def seasons_of(job: Job) -> Seasons:
    """By the climate of the job, or else of its kit. Raises InputError where it is none."""
    return Seasons.of(job, _kit(job))


def _told(says: Sequence[str], width: int) -> Iterator[str]:
    for number, each in enumerate(says):
        yield from hanging(f"  {number + 1}. {each}", width)


def _kit(job: Job) -> Kit:
    """For its climate alone: a piece wants no kit, and a missing one is for `make` to tell."""
    try:
        return kit_for(job)
    except JigcamError:
        return Kit(kit="hand tools", units=job.units)
