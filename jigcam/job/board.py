"""Boards: their measured size and what they are made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Literal

from jigcam.document.fields import Name, Size, a_known, a_whole_number
from jigcam.document.model import Model
from jigcam.document.positions import Key
from jigcam.errors import InputError

Face = Literal["outside", "inside"]

SIZES = ("length", "width", "thickness")
"""What a board has to say, but where it is like another."""


class Board(Model):
    """A board, mm, all as measured.

    name: that of its table. length: along the grain (x). width: across it (y). Either may be "to fit": it then follows
    from the joints. thickness: from face to face. wood: a name in profiles/woods.toml. sawn: how the growth rings lie.
    count: of such boards in the piece; left out: as many as the joints want. like: another board, of which this is a
    further one; its sizes need not be said again, and joints of that board that serve several serve this one too.
    """

    name: Name
    length: Size
    width: Size
    thickness: Size
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
