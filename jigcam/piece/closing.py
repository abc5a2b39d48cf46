"""Whether a piece closes: what does not is told by the board that is too long, how long it has to be, and by which
joints."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import numpy as np

from jigcam.findings import Finding, Level
from jigcam.piece.copies import piece_of
from jigcam.wood.meeting import FloatArray

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.piece.space import Assembled, Closing, Contact
    from jigcam.wood.meeting import Size

CLOSES: Final = 0.1
"""mm beside the play of a joint: what hands and clamps bring together (common practice, no source)."""
SEEN: Final = 0.5
"""mm that a board may stay off the bottom of its groove before it is worth a word (common practice, no source)."""
SIZES: tuple[Size, Size] = ("length", "width")
LEADS: Final = 0.5
"""A size that moves an equation by less than this share of its own change does not lead it."""


def closing_findings(job: Job, piece: Assembled) -> tuple[Finding, ...]:
    """What there is to say of the equations of a piece. A stop: boards of these sizes cannot be put together."""
    return tuple(finding for closing in piece.closing for finding in _said(job, piece, closing))


def _said(job: Job, piece: Assembled, closing: Closing) -> Iterator[Finding]:
    contact = closing.contact
    joint = contact.meeting.joint
    if closing.turned:
        says = (
            f"{contact.b.name} cannot stand in {contact.a.name} as {joint} wants it: its other joints hold it another "
            "way round; look at faces, ends and directions of the joints that hold it"
        )
        yield Finding("stop", "does-not-close", joint, says)
        return
    out = _out(piece, contact)
    aside = float(np.linalg.norm(closing.off - closing.gap * out))
    allowed = CLOSES + contact.meeting.play
    stays_off = 0.0 < closing.gap <= contact.meeting.stands_off
    if closing.error <= allowed or (stays_off and aside <= allowed):
        if closing.gap > SEEN:
            yield _stays_off(job, piece, closing, little=False)
        return
    if closing.gap > 0.0 and aside <= allowed and contact.meeting.stands_off:
        yield _stays_off(job, piece, closing, little=True)
        return
    yield Finding("stop", "does-not-close", joint, _does_not_close(job, piece, closing))


def _stays_off(job: Job, piece: Assembled, closing: Closing, *, little: bool) -> Finding:
    contact, says = closing.contact, job.voice.rule
    level: Level = "caution" if little else "note"
    hold = ", and little of it is left in there" if little else ""
    cure = _cure(job, piece, closing, "has to be" if little else "would touch it if it were")
    return Finding(
        level,
        "stays-off",
        contact.meeting.joint,
        f"{contact.b.name} stays {says(closing.gap)} off the bottom of its groove in {contact.a.name}{hold}{cure}",
    )


def _does_not_close(job: Job, piece: Assembled, closing: Closing) -> str:
    contact = closing.contact
    off = job.voice.rule(closing.error)
    way = "too deep in" if closing.gap < -0.5 * closing.error else "off its place in"
    return f"{contact.b.name}, {contact.meeting.b_at}, stands {off} {way} {contact.a.name}{_cure(job, piece, closing)}"


def _cure(job: Job, piece: Assembled, closing: Closing, wants: str = "has to be") -> str:
    """The size that mends it, with the joints by which it follows; "" where no one size does."""
    found = _leading(job, closing)
    if found is None:
        return ": no one size mends it; compare the depths and places of the joints that hold it"
    board, size, wanted = found
    says = job.voice.rule
    held: dict[str, list[str]] = {}
    for each in piece.contacts:
        for copy, at in ((each.a, each.meeting.a_at), (each.b, each.meeting.b_at)):
            if copy.board.name == board.name and at not in held.setdefault(each.meeting.joint, []):
                held[each.meeting.joint].append(at)
    long = {"length": "long", "width": "wide"}[size]
    joints = "; ".join(f"{joint} ({' and '.join(places)})" for joint, places in held.items())
    return f": {board.name} is {says(getattr(board, size))} {long} and {wants} {says(wanted)}, by {joints}"


def _leading(job: Job, closing: Closing) -> tuple[Board, Size, float] | None:
    """The board's size that would close it: of the board that stands there first, then of the one that it stands in."""
    contact = closing.contact
    way = closing.off / closing.error
    names = dict.fromkeys([contact.b.board.name, contact.a.board.name, *job.boards])
    for size in SIZES:
        for name in names:
            board = job.boards[name]
            if board.like is not None:
                continue
            moved = offs_with(job, name, size, getattr(board, size) + 1.0).get(contact.where)
            if moved is None:
                continue
            slope = float((moved - closing.off) @ way)
            if abs(slope) > LEADS and getattr(board, size) - closing.error / slope > 0.0:
                return board, size, getattr(board, size) - closing.error / slope
    return None


def offs_with(job: Job, name: str, size: Size, value: float) -> dict[str, FloatArray]:
    """How far every equation is off with another size of a board, (3,) mm in the world, by where it has to hold."""
    return {each.contact.where: each.off for each in piece_of(with_sizes(job, {(name, size): value})).closing}


def with_sizes(job: Job, sizes: dict[tuple[str, Size], float]) -> Job:
    """The job with other sizes of boards, mm; boards that are like another keep its size."""
    boards = dict(job.boards)
    for name, board in boards.items():
        own: dict[str, float] = {size: value for (of, size), value in sizes.items() if of in (name, board.like)}
        if own:
            boards[name] = board.model_copy(update=own)
    return job.model_copy(update={"boards": boards})


def _out(piece: Assembled, contact: Contact) -> FloatArray:
    """The way in which b comes off a, in the world."""
    if not contact.meeting.apart:
        return np.zeros(3)
    first: FloatArray = piece.apart(contact)[0]
    return first
