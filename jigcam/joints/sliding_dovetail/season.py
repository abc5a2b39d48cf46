"""What the seasons do to a sliding dovetail: a tail board whose width moves unlike its socket, and where to glue it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.joints.sliding_dovetail.glue import Glue, unlike_of
from jigcam.wood.seasons import SHOWS, Moving, Seasons

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Kit


def season_findings(joint: SlidingDovetail, job: Job, kit: Kit) -> list[Finding]:
    """How far the free edge of the tail board leaves its place, with the advice on glue; nothing where it is not seen.

    The tail board moves across its width, which lies along the socket; the socket moves along itself as its board does
    in that direction. Raises InputError where the climate of job and kit is none: see `Seasons.of`.
    """
    seasons = Seasons.of(job, kit)
    tail, socket = Moving.of(joint.tail_board), Moving.of(joint.board)
    if tail is None or socket is None:
        return []
    width, says = joint.tail_board.width, job.voice.length
    steps = [(season, width * (unlike_of(joint, season.change) or 0.0)) for season in seasons]
    if max(abs(step) for _, step in steps) <= SHOWS:
        return []
    told = ", ".join(
        f"{says(abs(step))} {'longer' if step > 0.0 else 'shorter'} than its socket when {season}"
        for season, step in steps
    )
    where = Glue.of(joint, job, kit).where(job.voice)
    glue = f"glue {where}, which so stays flush, and let the rest slide"
    text = (
        f"{joint.tail_board.name} ({tail}) and {joint.board.name} ({socket}) move unlike along the socket: over its "
        f"{says(width)} the tail gets {told}; {glue}; {seasons.remark}"
    )
    return [Finding("note", "season-edges", joint.name, text)]
