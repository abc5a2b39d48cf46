"""What the seasons do to a board of solid wood that lies in rabbets, as a back does, across its grain."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.joints.rabbet.meets import enters_by_end
from jigcam.wood.seasons import SHOWS, Moving, Seasons

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.rabbet.entry import RabbetEntry
    from jigcam.joints.rabbet.rabbet import Rabbet
    from jigcam.kit import Kit

ACROSS = pi / 2.0
"""The direction across the grain, rad."""


def season_findings(it: Rabbet, entry: RabbetEntry, job: Job, kit: Kit) -> Iterator[Finding]:
    """A caution where an edge of a solid board lies on the cheek: it grows there, and a rabbet says of no room.

    Nothing where its wood is not known, as of plywood, or where an end of it lies there: along the grain nothing moves.
    Raises InputError where the climate of job and kit is none: see `Seasons.of`.
    """
    mate, moving = it.mate, Moving.of(it.mate)
    if mate is None or moving is None or enters_by_end(it, entry, mate):
        return
    seasons, says = Seasons.of(job, kit), job.voice.length
    dry, damp = (mate.width * moving.in_plane(ACROSS, season.change) for season in seasons)
    if damp - dry <= SHOWS:
        return
    dry_name, damp_name = map(str, seasons)
    ways = [f"grows {says(damp)} when {damp_name}"] if damp > 0.0 else []
    ways += [f"shrinks {says(-dry)} when {dry_name}"] if dry < 0.0 else []
    cut = "cut it to fill the way from cheek to cheek and no wider"
    if damp > 0.0:
        cut = f"cut it {job.voice.at_least(damp)} narrower than the way from cheek to cheek, half of it at each edge"
    yield Finding(
        "caution",
        "season-binds",
        it.name,
        f"{mate.name} ({moving}), {says(mate.width)} across its grain, {' and '.join(ways)}, and its rabbets leave it "
        f"no room by themselves: {cut}, and hold it by screws in slots, without glue; or take plywood, and name no "
        f"wood for it; {seasons.remark}",
    )
