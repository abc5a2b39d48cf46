"""What the seasons do to a dovetailed corner: nothing, unless its two boards move unlike across their widths."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.wood.seasons import SHOWS, Moving, Seasons

if TYPE_CHECKING:
    from jigcam.dovetails.joint import Dovetail
    from jigcam.job import Job
    from jigcam.kit import Kit

ACROSS = pi / 2.0
"""The direction across the grain, rad."""


def season_findings(joint: Dovetail, job: Job, kit: Kit) -> list[Finding]:
    """How far the edges of the boards come to stand off each other, where that is seen.

    The grain of both runs into the corner, so both move across their width, and nothing moves along. Raises InputError
    where the climate of job and kit is none: see `Seasons.of`.
    """
    seasons = Seasons.of(job, kit)
    tails, pins = Moving.of(joint.tail_board), Moving.of(joint.pin_board)
    if tails is None or pins is None:
        return []
    width, says = joint.layout.width, job.voice.length
    steps = [
        (season, width * (tails.in_plane(ACROSS, season.change) - pins.in_plane(ACROSS, season.change)))
        for season in seasons
    ]
    if max(abs(step) for _, step in steps) <= SHOWS:
        return []
    tail_board, pin_board = joint.tail_board.name, joint.pin_board.name
    told = ", ".join(
        f"when {season} the edges of {tail_board} would stand {says(abs(step))} in all "
        f"{'beyond' if step > 0.0 else 'within'} those of {pin_board}"
        for season, step in steps
    )
    text = (
        f"{tail_board} ({tails}) and {pin_board} ({pins}) move unlike across their {says(width)}: {told}; the glue "
        f"lines of the corner have to take that, so choose boards of one wood, sawn alike; {seasons.remark}"
    )
    return [Finding("caution", "season-edges", joint.name, text)]
