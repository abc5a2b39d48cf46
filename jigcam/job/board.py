"""Boards: their measured size and what they are made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Annotated, Literal

from pydantic import BeforeValidator

from jigcam.document.fields import LARGEST, Name, Size, a_known, a_whole_number
from jigcam.document.model import Model
from jigcam.document.plausible import no_slip_of_units
from jigcam.document.positions import Key
from jigcam.errors import InputError, nearest
from jigcam.units.parse import shown

Face = Literal["outside", "inside"]

TO_FIT = "to fit"
"""What a board's length or width says where it follows from the joints."""

SIZES = ("length", "width", "thickness")
"""What a board has to say, but where it is like another."""


def _no_slip_of_to_fit(value: object, *, may_follow: bool) -> object:
    """A size as it is; one that was meant to be "to fit" raises InputError with what to write."""
    if not isinstance(value, str) or any(char.isdigit() for char in value) or not nearest(value, (TO_FIT,)):
        return value
    if may_follow:
        raise InputError(
            "neither a length nor to fit",
            found=shown(value),
            wanted=f'a length, or "{TO_FIT}" where it follows from the joints',
            mend=f'did you mean "{TO_FIT}"?',
        )
    raise InputError(
        "a thickness does not follow from the joints",
        found=shown(value),
        wanted="a length",
        mend="measure the board",
    )


SizeOrFit = Annotated[Size, BeforeValidator(partial(_no_slip_of_to_fit, may_follow=True))]
"""mm; what is "to fit" has been worked out before a board is read."""
Length = Annotated[SizeOrFit, no_slip_of_units("a length of a board", most_in=240, least_mm=40, largest=LARGEST)]
"""mm. Boards are sold up to 20 ft long (common practice); none that is joined is shorter than a hand is wide."""
Width = Annotated[SizeOrFit, no_slip_of_units("a width of a board", most_in=60, least_mm=8, largest=LARGEST)]
"""mm. Sheet goods are 4 and 5 ft wide (common practice)."""
Thickness = Annotated[
    Size,
    BeforeValidator(partial(_no_slip_of_to_fit, may_follow=False)),
    no_slip_of_units("a thickness of a board", most_in=6.5, least_mm=2, largest=LARGEST),
]
"""mm. From a drawer's bottom to a post of 6 in (common practice)."""


class Board(Model):
    """A board, mm, all as measured.

    name: that of its table. length: along the grain (x). width: across it (y). Either may be "to fit": it then follows
    from the joints. thickness: from face to face. wood: a name in profiles/woods.toml. sawn: how the growth rings lie.
    count: of such boards in the piece; left out: as many as the joints want. like: another board, of which this is a
    further one; its sizes need not be said again, and joints of that board that serve several serve this one too.
    """

    name: Name
    length: Length
    width: Width
    thickness: Thickness
    wood: Annotated[str, a_known("wood", "woods")] | None = None
    sawn: Literal["quarter", "rift", "flat"] | None = None
    like: Annotated[str, a_known("board", "boards")] | None = None
    count: Annotated[int, a_whole_number("a number of boards", 1, 200)] | None = None


def like_faults(board: Board, boards: Mapping[str, Board]) -> Iterator[tuple[Key, InputError]]:
    """What is wrong with a board that is said to be like another, each with the place of its key."""
    other = boards.get(board.like) if board.like is not None else None
    if other is None:
        return
    if other is board or other.like is not None:
        yield (
            ("boards", board.name, "like"),
            InputError(
                "a board is like one that has sizes of its own",
                found=f'"{board.like}", {"itself" if other is board else f"which is like {other.like}"}',
                wanted="another board, with length, width and thickness",
            ),
        )
        return
    for key in SIZES:
        if getattr(board, key) != getattr(other, key):
            yield (
                ("boards", board.name, key),
                InputError(
                    f"{board.name} is like {other.name}, and has another {key}",
                    found="two sizes",
                    wanted=f"the same, or no {key} here",
                    mend="leave like out, and say its joints too, where it is another board",
                ),
            )
