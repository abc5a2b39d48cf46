"""Sizes that follow from the joints: a board's `length` or `width` may be `"to fit"`.

A size that one joint says (a shelf as wide as its groove is long, boards of a corner equally wide) is taken from it;
the others are solved for, all at once, so that the piece closes: its equations are linear in them.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from jigcam.errors import Faults, InputError
from jigcam.job.board import TO_FIT
from jigcam.job.loading import job_from
from jigcam.joints import Entries, unknown_kind
from jigcam.piece.closing import SIZES, with_sizes
from jigcam.piece.copies import meetings_of, piece_of
from jigcam.piece.missing import missing_other_hand, other_hand_words, twin_of
from jigcam.piece.missing_enters import enters_words, missing_enters
from jigcam.piece.open_ends import follows_across, open_ends
from jigcam.wood.meeting import Size

if TYPE_CHECKING:
    from jigcam.document import Document
    from jigcam.job import Job
    from jigcam.piece.space import LeftOpen

GUESS: Final[dict[Size, float]] = {"length": 600.0, "width": 250.0}
"""mm; where a size begins that follows from others. No result depends on it."""
ROUNDS: Final = 4
"""So often sizes are worked out again, until the joints that they change agree with them."""
CHOICES: Final = 3
"""So often it is looked at again which end of a board enters, and which boards take nothing."""
ENOUGH: Final = 1e-7
"""mm; a change smaller than this is none."""
Unknown = tuple[str, Size]


def asked_to_fit(data: dict[str, Any]) -> list[Unknown]:
    """The sizes that a job's data leaves to its joints: board and size."""
    boards = data.get("boards")
    tables = boards.items() if isinstance(boards, dict) else ()
    return [
        (name, size)
        for name, table in tables
        for size in SIZES
        if isinstance(table, dict) and table.get(size) == TO_FIT
    ]


def fitted(document: Document) -> Job:
    """The job of a document whose sizes that are to fit are worked out.

    Raises InputError for a kit, Faults with what is wrong in the job, or with the sizes that do not follow.
    """
    unknown = asked_to_fit(document.data)
    sizes = {each: GUESS[each[1]] for each in unknown}
    drawn = with_sizes(job_from(_with(document, sizes), Entries(), unknown_kind), sizes)
    unsaid = [*_unsaid(document, drawn, unknown)]
    if unsaid:
        raise Faults(unsaid)
    job, found = _followed(drawn, unknown)
    sizes |= found
    missing = [each for each in unknown if each not in found]
    if missing:
        raise Faults([_does_not_follow(document, drawn, unknown, *each) for each in missing])
    small = [each for each in unknown if not 0.01 < sizes[each] < 10_000.0]
    if small:
        raise Faults([_impossible(document, job, *each) for each in small])
    done = job_from(_with(document, sizes), Entries(), unknown_kind)
    done._worked_out = frozenset(unknown)
    return done


def _followed(job: Job, unknown: list[Unknown]) -> tuple[Job, dict[Unknown, float]]:
    """The job with the sizes that follow, and these. job: with a guess for each."""
    sizes = {(name, size): float(getattr(job.boards[name], size)) for name, size in unknown}
    choice = piece_of(job, sizes_known=False).choice
    for _ in range(CHOICES):
        last, (job, found) = choice, _rounds(with_sizes(job, sizes), unknown, choice)
        # With sizes that follow it shows which end enters, and which of the boards that are alike take nothing.
        choice = piece_of(job).choice
        if choice == last:
            break
    return job, found


def _rounds(job: Job, unknown: list[Unknown], choice: LeftOpen) -> tuple[Job, dict[Unknown, float]]:
    """The job with the sizes that follow, and these."""
    sizes: dict[Unknown, float] = {}
    found: dict[Unknown, float] = {}
    for _ in range(ROUNDS):
        found = _solved(job, unknown, choice)
        change = max((abs(found[each] - sizes.get(each, 0.0)) for each in found), default=0.0)
        sizes |= found
        job = with_sizes(job, found)
        if change < ENOUGH:
            break
    return job, found


def _with(document: Document, sizes: dict[Unknown, float]) -> Document:
    data = deepcopy(document.data)
    for (name, size), value in sizes.items():
        data["boards"][name][size] = f"{value:.7f} mm"
    return replace(document, data=data)


def _solved(job: Job, unknown: list[Unknown], choice: LeftOpen) -> dict[Unknown, float]:
    """What follows with all sizes as they are now; what does not is left out. choice: of what the job leaves open."""
    found = {each: value for each in unknown if (value := _told(job, *each)) is not None}
    found |= {each: value for each in unknown if (value := _reaching(job, choice, *each)) is not None}
    rest = [each for each in unknown if each not in found]
    if not rest:
        return found
    job = with_sizes(job, found)
    now = {(name, size): float(getattr(job.boards[name], size)) for name, size in rest}
    off = _off(job, choice)
    moved = [_off(with_sizes(job, {each: now[each] + 1.0}), choice) for each in rest]
    if any(len(each) != len(off) for each in moved):
        return found  # With another size other boards meet: then nothing follows from where these do.
    columns = [each - off for each in moved]
    matrix = np.column_stack(columns)
    # What moves no equation, or only together with others, does not follow.
    if len(off) == 0 or np.linalg.matrix_rank(matrix, tol=1e-6) < len(rest):
        led = [k for k, column in enumerate(columns) if len(column) and np.abs(column).max() > 0.5]
        if len(led) == len(rest) or not led or np.linalg.matrix_rank(matrix[:, led], tol=1e-6) < len(led):
            return found
        rest, matrix = [rest[k] for k in led], matrix[:, led]
    step = np.linalg.lstsq(matrix, -off, rcond=None)[0]
    return found | {each: now[each] + float(by) for each, by in zip(rest, step, strict=True)}


def _told(job: Job, name: str, size: Size) -> float | None:
    """The size that one joint says: the least that any of them leaves."""
    values = [
        each.fits[1]
        for each in meetings_of(job)
        if each.b == name and each.fits and each.fits[0] == size and not follows_across(each, meetings_of(job))
    ]
    # Boards of a corner are equally wide, whichever of both is known.
    values += [
        float(getattr(job.boards[each.b], size))
        for each in meetings_of(job)
        if each.a == name and each.fits and each.fits[0] == size and each.corner
    ]
    return min(values, default=None)


def _reaching(job: Job, choice: LeftOpen, name: str, size: Size) -> float | None:
    """The size with which a board that is held at one end reaches to where the cuts along it run out."""
    ends = [each for each in open_ends(piece_of(job, choice)) if each.contact.b.board.name == name]
    values = [float(getattr(job.boards[name], size)) + each.beyond for each in ends if each.size == size]
    return min(values, default=None)


def _off(job: Job, choice: LeftOpen) -> np.ndarray:
    return np.concatenate([np.zeros(0), *(each.off for each in piece_of(job, choice).closing)])


def _unsaid(document: Document, job: Job, unknown: list[Unknown]) -> Iterator[InputError]:
    """Joints in which an end as well as an edge of a board may lie whose size would tell which, were it known."""
    for number, entry in enumerate(job.joints):
        received = getattr(entry, "receives", None)
        sizes = [size for name, size in unknown if name == received]
        if entry.ASKS_ENTERS and sizes and getattr(entry, "enters", None) is None:
            yield InputError(
                f"which end or edge of {received} lies in {entry.name} is not said",
                where=document.where("joints", number),
                found=f'no enters, and the {" and the ".join(sizes)} of {received} "{TO_FIT}"',
                wanted='enters = "left" where its ends lie in it, enters = "lower" where its edges do',
                mend="its grain runs from end to end: say it in each joint that receives it",
            )


def _does_not_follow(document: Document, job: Job, unknown: list[Unknown], name: str, size: Size) -> InputError:
    """job: with guesses for all that is unknown."""
    wanted = (
        "joints at both its ends, between boards that other joints hold"
        if size == "length"
        else "a joint that says it: a groove that it enters by an end, or a corner"
    )
    mend = f"write its {size}, or the joint that is missing"
    if joint := missing_other_hand(job, name, lambda other: (name, size) in _followed(other, unknown)[1]):
        mend = other_hand_words(joint)
    elif said := missing_enters(
        job, name, lambda other: _closes_with(other, unknown, (name, size)), lambda other: _closes_with(other, unknown)
    ):
        wanted, mend = f"joints that say which ends and edges of {name} lie in them", enters_words(said, name)
    elif lone := _held_by_it_alone(job, name):
        wanted = f"other joints that hold {lone}: nothing but {name} does"
        mend = f"name the joint that is missing, of {lone} and the boards beside it; or write its {size}"
    elif (twin := twin_of(job, name)) is not None:
        wanted = f"a joint: none names {name}"
        mend = f'write like = "{twin}" and no sizes, where it is one more of these; or its {size}'
    return InputError(
        f"the {size} of {name} does not follow from the joints",
        where=document.where("boards", name, size),
        found=f'"{TO_FIT}"',
        wanted=wanted,
        mend=mend,
    )


def _closes_with(job: Job, unknown: list[Unknown], *wanted: Unknown) -> bool:
    """Whether sizes follow in a job, as a board has them, and nothing that is held from two sides is off with them."""
    done, found = _followed(job, unknown)
    sizes = [found.get(each, 0.0) for each in wanted]
    return all(0.01 < each < 10_000.0 for each in sizes) and all(each.agrees for each in piece_of(done).closing)


def _held_by_it_alone(job: Job, name: str) -> str:
    """A board that one of this name lies in and that no further joint holds; "" where there is none."""
    contacts = piece_of(job, sizes_known=False).contacts
    for each in contacts:
        if each.b.board.name == name and not any(
            each.a in (other.a, other.b) for other in contacts if name not in (other.a.board.name, other.b.board.name)
        ):
            return each.a.name
    return ""


def _impossible(document: Document, job: Job, name: str, size: Size) -> InputError:
    return InputError(
        f"the {size} of {name} would have to be {job.voice.length(getattr(job.boards[name], size))}",
        where=document.where("boards", name, size),
        found=f'"{TO_FIT}"',
        wanted="boards and joints that leave room for it",
        mend="compare the sizes of the boards that hold it",
    )
