"""What the seasons do to a bow-tie key: it lies across the grain of its board, which moves as it does not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.wood.practice import SLACK
from jigcam.wood.seasons import Moving, Seasons

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.key.key import Key
    from jigcam.kit import Kit


def season_findings(key: Key, job: Job, kit: Kit) -> list[Finding]:
    """What the flanks of a key hold over a year; nothing where the board's wood is not known.

    The key's own grain runs along its length, where nothing moves. Raises InputError where the climate of job and kit
    is none: see `Seasons.of`.
    """
    seasons = Seasons.of(job, kit)
    board = Moving.of(key.board)
    if board is None:
        return []
    dry, damp = (key.length * board.in_plane(key.angle, season.change) for season in seasons)
    if max(abs(dry), abs(damp)) < SLACK:
        return []
    says = job.voice.length
    text = (
        f"{key.board.name} ({board}) {'shrinks' if dry <= 0.0 else 'grows'} {says(abs(dry))} over the length of a key "
        f"when dry ({seasons.dry:.1f} % moisture) and {'grows' if damp >= 0.0 else 'shrinks'} {says(abs(damp))} when "
        f"damp ({seasons.damp:.1f} %), and the key, whose grain lies across, does not: when dry the board pulls on the "
        "flanks of the key, which hold the crack, and when damp it moves away from its ends; a shorter key holds less "
        "and moves less, and the rest "
        f"of the board has to be free to move; {seasons.remark}"
    )
    return [Finding("note", "season-key", key.name, text)]
