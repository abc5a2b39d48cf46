"""What there is to say of a piece as a whole: whether it closes, whether its boards keep clear of each other, whether
they go together in some order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.joints import design
from jigcam.piece.assembly import assembly_of
from jigcam.piece.body import Body
from jigcam.piece.closing import closing_findings
from jigcam.piece.collisions import collision_findings
from jigcam.piece.locks import lock_findings

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.job import Job
    from jigcam.piece.space import Assembled
    from jigcam.wood import Hand


def together_findings(job: Job, piece: Assembled) -> tuple[Finding, ...]:
    """All findings about the boards together. Where the piece does not close, what follows from that is not told, and
    where a joint cannot be drawn, not what its board would run into without it."""
    closing = closing_findings(job, piece)
    if stops(closing):
        return closing
    parts = [part for part in assembly_of(piece) if part.holds]
    bodies = bodies_of(job) if parts else None
    collisions = [] if bodies is None else collision_findings(parts, bodies, job.voice)
    return (*closing, *collisions, *lock_findings(parts))


def drawn_stops(job: Job) -> tuple[Finding, ...]:
    """What stops joints as drawn, before any tool: a piece that is told without them would be another one."""
    found: list[Finding] = []
    for entry in job.joints:
        try:
            found += stops(design(entry, job).findings)
        except Refused as refused:
            found += refused.findings
    return tuple(found)


def bodies_of(job: Job) -> dict[tuple[str, Hand], list[Body]] | None:
    """What the joints of a job take of each board; None where one of them cannot be drawn."""
    found: dict[tuple[str, Hand], list[Body]] = {}
    for entry in job.joints:
        try:
            taken = design(entry, job).taken()
        except Refused:
            return None  # `make` says why
        for each in taken:
            found.setdefault((each.board.name, each.hand), []).append(Body(each))
    return found
