"""Whether a piece closes: what does not is told by the board that is too long, how long it has to be, and by which
joints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING, Final

from jigcam.findings import Finding, Level, stops
from jigcam.piece.copies import piece_of
from jigcam.piece.missing import missing_other_hand, other_hand_words, twin_of
from jigcam.piece.missing_enters import enters_words, left_over, missing_enters
from jigcam.piece.open_ends import stands_out_findings
from jigcam.piece.space import CLOSES

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.piece.space import Assembled, Closing
    from jigcam.wood.meeting import Size

SEEN: Final = 0.5
"""mm that a board may stay off the bottom of its groove before it is worth a word (common practice, no source)."""
ALIKE: Final = 0.1
"""Share of the length of a groove by which a length and a width may both miss it, so that either may be meant."""
SIZES: tuple[Size, Size] = ("length", "width")
LEADS: Final = 0.4
"""A size that moves an equation by less than this share of its own change does not lead it."""


def closing_findings(job: Job, piece: Assembled) -> tuple[Finding, ...]:
    """What there is to say of the equations of a piece. A stop: boards of these sizes cannot be put together."""
    closing = [finding for closing in piece.closing for finding in _said(job, piece, closing)]
    out = () if stops(closing) else stands_out_findings(piece, job.voice)
    return (*_by_one(job, piece), *closing, *out, *_empty_places(job, piece), *_unsaid(job, piece), *_not_joined(job))


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
    if closing.agrees:
        if closing.gap > SEEN:
            yield _stays_off(job, piece, closing, little=False)
        return
    if 0.0 < closing.gap < contact.meeting.enters and closing.aside <= CLOSES + contact.meeting.play:
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
    end = f"the {contact.meeting.b_at} of {contact.b.name}"
    return f"{end} stands {off} {way} {contact.a.name}{_cure(job, piece, closing)}"


def _by_one(job: Job, piece: Assembled) -> Iterator[Finding]:
    """Of several places that do not close, the one size that mends all of them."""
    off = [each for each in piece.closing if not each.agrees and not each.turned]
    if len(off) < 2:
        return
    inner = {each.contact.b.board.name for each in off}
    # The one board that stands there; of several, what they stand in.
    names = [*inner] if len(inner) == 1 else [name for name in job.boards if name not in inner]
    found = _leading(job, piece, off[0], names, off)
    if found is not None:
        joint = off[0].contact.meeting.joint
        boards = _listed(sorted(inner))
        do = "does" if len(inner) == 1 else "do"
        size = _sized(job, piece, *found, "has to be")
        says = f"{boards} {do} not fit, and one size mends it in {len(off)} places{size}"
        yield Finding("stop", "does-not-close", joint, f"{says}; or change each of them, as follows")


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _cure(job: Job, piece: Assembled, closing: Closing, wants: str = "has to be") -> str:
    """The size that mends it, with the joints by which it follows; "" where no one size does."""
    found = _leading(job, piece, closing)
    if found is None:
        return ": no one size mends it; compare the depths and places of the joints that hold it"
    return _sized(job, piece, *found, wants)


def _sized(job: Job, piece: Assembled, board: Board, size: Size, wanted: float, wants: str) -> str:
    says = job.voice.rule
    held: dict[str, list[str]] = {}
    for each in piece.contacts:
        for copy, at in ((each.a, each.meeting.a_at), (each.b, each.meeting.b_at)):
            if copy.board.name == board.name and at not in held.setdefault(each.meeting.joint, []):
                held[each.meeting.joint].append(at)
    long = {"length": "long", "width": "wide"}[size]
    joints = "; ".join(f"{joint} ({' and '.join(places)})" for joint, places in held.items())
    # What the file left to its joints nobody wrote: a maker looks for the number in vain.
    so = "is worked out as" if (board.name, size) in job.worked_out else "is"
    return f": {board.name} {so} {says(getattr(board, size))} {long} and {wants} {says(wanted)}, by {joints}"


def _leading(
    job: Job,
    piece: Assembled,
    closing: Closing,
    names: Iterable[str] | None = None,
    too: Iterable[Closing] = (),
) -> tuple[Board, Size, float] | None:
    """The board's size that would close it, and leave closed what is: of the board that stands there first, then of
    the one that it stands in, or of `names` alone. too: what it has to close beside it."""
    contact = closing.contact
    way = closing.off / closing.error
    if names is None:
        names = dict.fromkeys([contact.b.board.name, contact.a.board.name, *job.boards])
    closed = {each.contact.where for each in piece.closing if each.agrees} | {each.contact.where for each in too}
    for name, size in product([each for each in names if job.boards[each].like is None], SIZES):
        board = job.boards[name]
        moved = _with_size(job, piece, name, size, getattr(board, size) + 1.0).get(contact.where)
        slope = 0.0 if moved is None else float((moved.off - closing.off) @ way)
        wanted = getattr(board, size) - closing.error / slope if abs(slope) > LEADS else 0.0
        if wanted > 0.0:
            then = _with_size(job, piece, name, size, wanted)
            if all(where in then and then[where].agrees for where in (contact.where, *closed)):
                return board, size, wanted
    return None


def _with_size(job: Job, piece: Assembled, name: str, size: Size, value: float) -> dict[str, Closing]:
    """The equations with another size of a board, by where they have to hold."""
    return {each.contact.where: each for each in piece_of(with_sizes(job, {(name, size): value}), piece.choice).closing}


def with_sizes(job: Job, sizes: dict[tuple[str, Size], float]) -> Job:
    """The job with other sizes of boards, mm; boards that are like another keep its size."""
    boards = dict(job.boards)
    for name, board in boards.items():
        own: dict[str, float] = {size: value for (of, size), value in sizes.items() if of in (name, board.like)}
        if own:
            boards[name] = board.model_copy(update=own)
    return job.model_copy(update={"boards": boards})


def _empty_places(job: Job, piece: Assembled) -> Iterator[Finding]:
    """Where a joint is cut and nothing comes."""
    for each in piece.missed:
        contact, says = each.contact, job.voice.rule
        if contact.a.board.name != contact.meeting.a:
            continue  # A board with a name of its own, that is like the one which has the joint.
        off = "another way round" if each.turned else f"{says(each.error)} off it"
        pair = missing_other_hand(job, contact.b.board.name)
        mend = (
            other_hand_words(pair)
            if pair
            else (
                f'where it is not cut in both, give the other board a name of its own, like = "{contact.a.board.name}"'
            )
        )
        yield Finding(
            "caution",
            "nothing-comes",
            contact.meeting.joint,
            f"{contact.meeting.a_at} of {contact.a.name} takes nothing: {contact.b.name} stands {off}; {mend}",
        )
    for copy, meeting in piece.empty:
        count = sum(other.copy.board.name == meeting.b for other in piece.placed)
        here = "the mirror image" if meeting.a_opposite and not copy.opposite else copy.name
        short = f"there is no mirror image of {meeting.a}" if here != copy.name else f"of {meeting.b} there are {count}"
        yield Finding(
            "caution",
            "nothing-comes",
            meeting.joint,
            f"{meeting.a_at} of {here} takes nothing: {short}; compare count with what the joints make",
        )


def _unsaid(job: Job, piece: Assembled) -> Iterator[Finding]:
    """Boards of which one end may enter as well as the other, and with joints that then lie elsewhere; or an edge."""
    cut = {each.meeting.a for each in piece.contacts} | {str(getattr(each, "board", "")) for each in job.joints}
    asked: set[str] = set()
    for name in job.boards:
        if left := left_over(job, name):
            asked.add(name)
            said = missing_enters(job, name)
            mend = enters_words(said, name) if said else "say enters in each joint that receives it"
            nothing = f"{name} lies in other joints with both its ends or edges, and nothing is left for this one"
            yield Finding("caution", "enters-unsaid", left[0], f"{nothing}: {mend}")
    for contact in piece.contacts:
        meeting, board = contact.meeting, contact.b.board
        if not contact.open or board.name in asked or meeting.fits is None:
            continue
        both = all(abs(getattr(board, size) - meeting.fits[1]) <= ALIKE * meeting.fits[1] for size in SIZES)
        if both or (board.name in cut and _as_well(job, piece, meeting.b)):
            asked.add(board.name)
            why = "it is about as long as wide" if both else "it has joints of its own, which lie elsewhere then"
            part = meeting.b_at.rsplit(" ", 1)[0]
            yield Finding(
                "caution",
                "enters-unsaid",
                meeting.joint,
                f"{board.name} may enter {contact.a.name} by another end or edge than the {meeting.b_at} too, and "
                f'{why}: say enters = "{part}", or the other',
            )


def _not_joined(job: Job) -> Iterator[Finding]:
    """Boards that are in no joint, though they look like one more of a board that is."""
    for name in job.boards:
        if (twin := twin_of(job, name, as_large=True)) is not None:
            yield Finding(
                "caution",
                "not-joined",
                name,
                f"{name} is in no joint, and the joints want several of {twin}, which is as large: where it is one of "
                f'these, write like = "{twin}" in its table, and no sizes; else take it out',
            )


def _as_well(job: Job, piece: Assembled, name: str) -> bool:
    """Whether the piece closes as well with a board turned end for end."""
    other = piece_of(job, replace(piece.choice, swapped=piece.choice.swapped ^ {name}))
    return sum(not each.agrees for each in other.closing) <= sum(not each.agrees for each in piece.closing)
