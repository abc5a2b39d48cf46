"""Commented files to start from: one for each kind of joint, a whole case, and a kit."""

from __future__ import annotations

from typing import NamedTuple

from jigcam.document.starter import starter_says
from jigcam.errors import InputError, nearest
from jigcam.joints import kind_called, kind_names
from jigcam.kit.starter import starter_kit
from jigcam.making.columns import PROSE, hanging, prose
from jigcam.piece.starter import starter_case
from jigcam.units import Unit

OF_THEIR_OWN = {"case": starter_case, "kit": starter_kit}
"""Those that are no kind of joint."""


class Starter(NamedTuple):
    """One of the starters. says: what it is for, in a line; next: the command that looks at it."""

    name: str
    text: str
    next: str

    @property
    def says(self) -> str:
        """What it is for, in a line."""
        return starter_says(self.text)


def starter_names() -> tuple[str, ...]:
    """All that can be asked for by name: the kinds of joint first."""
    return (*kind_names(), *OF_THEIR_OWN)


def starter_called(name: str, units: Unit) -> Starter:
    """The starter of that name, or of the kind of joint that the trade also calls so. Raises InputError."""
    own = OF_THEIR_OWN.get(name)
    if own is not None:
        return Starter(name, own(units), {"case": "piece", "kit": "kit"}[name])
    try:
        return Starter(name, kind_called(name).starter(units), "check")
    except InputError as error:
        error.wanted += ", or " + " or ".join(map(repr, OF_THEIR_OWN))
        near = nearest(name, starter_names())
        error.mend = error.mend if near not in OF_THEIR_OWN else f"did you mean {near!r}?"
        raise


def starter_lines(units: Unit, width: int) -> list[str]:
    """All of them, a line each, and what to type then. width: columns of the screen."""
    wide, most = max(map(len, starter_names())), min(width, PROSE)
    lines = ["to start from"]
    for name in starter_names():
        # Further lines stand under the first word of what is said.
        lines += hanging(f"  {name:<{wide}}  {starter_called(name, units).says}", most, wide + 2)
    return [
        *lines,
        "",
        *prose(
            [
                "next: jigcam start NAME -o mine.toml writes one into a new file, with every key explained",
                "in millimetres: add --units mm; your own tools: jigcam start kit -o my-kit.toml",
            ],
            width,
        ),
    ]
