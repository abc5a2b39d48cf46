"""Grooves of a job that does not come together as they do not say which end or edge of a board lies in them.

What is proposed was tried: each way to share out the ends and edges that are left, until one closes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import groupby, permutations
from typing import TYPE_CHECKING, Final

from jigcam.piece.copies import piece_of
from jigcam.piece.missing import closes
from jigcam.piece.ways import joints_listed, listed

if TYPE_CHECKING:
    from jigcam.job import Job

KEY: Final = "enters"
ACROSS: Final = 0.5
"""Cosine; directions further apart are opposite, and not across each other."""
PARTS: Final = ("left", "right", "lower", "upper")
"""The ends and edges of a board, as `enters` has them."""
OPPOSITE: Final = (PARTS[:2], PARTS[2:])


def missing_enters(
    job: Job, board: str, sound: Callable[[Job], bool] | None = None, other_sound: Callable[[Job], bool] = closes
) -> Mapping[str, str]:
    """The end or edge of a board that each groove would have to say which says none, by the groove's name; nothing
    where no way mends the job. sound: whether a job is as it is wanted; None: whether all of it comes together.
    other_sound: the same, of what other boards that say none would have to say."""
    wanted = sound or _all_meet
    if said := _first(job, board, wanted):
        return said
    # As long as others are silent too, nothing need close: they get what closes for them, and then this one is tried.
    others = [name for name in job.boards if name != board and _silent(job, name)]
    for name in others:
        job = _with(job, _first(job, name, other_sound))
    return _first(job, board, wanted) if others else {}


def _first(job: Job, board: str, sound: Callable[[Job], bool]) -> dict[str, str]:
    """The likeliest way that is sound. Of two opposite ends either way round may close, where a groove lets the board
    slide to its place: the one in which it stands as the others do, lower edge down."""
    for rank, ways in groupby(_ways(job, board), key=lambda way: _unlikely(tuple(way[0].values()))):
        sounds = ((said, other) for said, other in ways if sound(other))
        if rank == len(OPPOSITE):  # many ways, of which none is likelier
            return next((said for said, _ in sounds), {})
        if found := list(sounds):
            return min(found, key=lambda way: _upside_down(way[1], board))[0]
    return {}


def _upside_down(job: Job, board: str) -> int:
    """How many boards stand with their lower edge down where that one has it up."""
    for part in piece_of(job).parts:
        up = [(each.copy.name == board, each.motion.turned([0.0, 1.0, 0.0])) for each in part]
        own = [way for mine, way in up if mine]
        if own:
            return sum(bool(own[0] @ way < -ACROSS) for mine, way in up if not mine)
    return 0


def enters_words(said: Mapping[str, str], board: str) -> str:
    """What to write, for a finding or an error."""
    keys = [f'{KEY} = "{part}" in {joints_listed([joint])}' for joint, part in said.items()]
    turned = {*said.values()} == {*PARTS}
    ends = "; where its grain is to run the other way, change ends for edges" if turned else ""
    return f"say which end or edge of {board} each groove takes: write {listed(keys)}{ends}"


def left_over(job: Job, board: str) -> list[str]:
    """The joints that receive a board and get none, as they do not say what lies in them and nothing is left of it."""
    met = {each.meeting.joint for each in piece_of(job).contacts}
    return [name for name in _silent(job, board) if name not in met]


def _silent(job: Job, board: str) -> list[str]:
    return [
        entry.name
        for entry in job.joints
        if getattr(entry, "receives", None) == board and getattr(entry, KEY, "") is None
    ]


def _ways(job: Job, board: str) -> Iterator[tuple[dict[str, str], Job]]:
    silent = _silent(job, board)
    own = [getattr(entry, KEY, None) for entry in job.joints if getattr(entry, "receives", None) == board]
    free = [part for part in PARTS if part not in own]
    if not silent or len(silent) > len(free):
        return
    for parts in sorted(permutations(free, len(silent)), key=_unlikely):
        said = dict(zip(silent, parts, strict=True))
        yield said, _with(job, said)


def _unlikely(parts: tuple[str, ...]) -> int:
    """A board between two others goes in by both its ends, or else by both its edges; the rest is seldom meant."""
    return next((place for place, pair in enumerate(OPPOSITE) if {*parts} == {*pair}), len(OPPOSITE))


def _with(job: Job, said: Mapping[str, str]) -> Job:
    joints = tuple(
        entry.model_copy(update={KEY: said[entry.name]}) if entry.name in said else entry for entry in job.joints
    )
    return job.model_copy(update={"joints": joints})


def _all_meet(job: Job) -> bool:
    met = {each.meeting.joint for each in piece_of(job).contacts}
    wanted = {entry.name for entry in job.joints if getattr(entry, "receives", None)}
    return wanted <= met and closes(job)
