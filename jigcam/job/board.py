"""Boards: their measured size and what they are made of."""

from __future__ import annotations

from typing import Annotated, Literal

from jigcam.document.fields import Name, Size, a_known
from jigcam.document.model import Model

Face = Literal["outside", "inside"]


class Board(Model):
    """A board, mm, all as measured.

    name: that of its table. length: along the grain (x). width: across it (y). thickness: from face to face. wood: a
    name in profiles/woods.toml. sawn: how the growth rings lie.
    """

    name: Name
    length: Size
    width: Size
    thickness: Size
    wood: Annotated[str, a_known("wood", "woods")] | None = None
    sawn: Literal["quarter", "rift", "flat"] | None = None
