"""Boards: their measured size and what they are made of."""

from __future__ import annotations

from typing import Annotated, Literal

from jigcam.document.fields import Name, Size, a_known, a_whole_number
from jigcam.document.model import Model

Face = Literal["outside", "inside"]


class Board(Model):
    """A board, mm, all as measured.

    name: that of its table. length: along the grain (x). width: across it (y). thickness: from face to face. wood: a
    name in profiles/woods.toml. sawn: how the growth rings lie. count: of such boards in the piece; left out: as many
    as the joints want.
    """

    name: Name
    length: Size
    width: Size
    thickness: Size
    wood: Annotated[str, a_known("wood", "woods")] | None = None
    sawn: Literal["quarter", "rift", "flat"] | None = None
    count: Annotated[int, a_whole_number("a number of boards", 1, 200)] | None = None
