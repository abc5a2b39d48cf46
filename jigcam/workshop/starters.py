"""Commented files to start from: one for each kind of joint, a whole case, and a kit."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from jigcam.document.starter import starter_for, starter_says
from jigcam.errors import InputError, nearest
from jigcam.joints import kind_called, kind_names
from jigcam.kit import kit_names, load_kit
from jigcam.kit.starter import starter_kit
from jigcam.making.columns import PROSE, hanging, prose
from jigcam.piece.starter import starter_case
from jigcam.units import Unit

OF_THEIR_OWN = {"case": starter_case, "kit": starter_kit}
"""Those that are no kind of joint."""
NEXT = {"case": "piece", "kit": "kit"}
"""The command that looks at one, where that is not `check`."""


class Starter(NamedTuple):
    """One of the starters. says: what it is for, in a line; next: the command that looks at it."""

    name: str
    text: str
    next: str

    @property
    def says(self) -> str:
        """What it is for, in a line."""
        return starter_says(self.text)


class NamedKit(NamedTuple):
    """A kit as a job is to name it. name: of profiles/, or the path from the job's folder."""

    name: str
    units: Unit


def kit_as_named(kit: str, target: Path | None) -> NamedKit:
    """The kit of that name or path, for a job that is written to `target`, or into this folder.

    Raises InputError where there is none, and Faults with all that is wrong in it: a job is not begun with such tools.
    """
    units = load_kit(kit).units
    if kit in kit_names():
        return NamedKit(kit, units)
    folder = target.parent if target else Path()
    return NamedKit(Path(os.path.relpath(kit, folder)).as_posix(), units)


def starter_names() -> tuple[str, ...]:
    """All that can be asked for by name: the kinds of joint first."""
    return (*kind_names(), *OF_THEIR_OWN)


def starter_called(name: str, units: Unit, kit: NamedKit | None = None) -> Starter:
    """The starter of that name, or of the kind of joint that the trade also calls so; a job with that kit.

    Raises InputError for a name that there is not.
    """
    own = OF_THEIR_OWN.get(name)
    try:
        text = own(units) if own is not None else kind_called(name).starter(units)
        return Starter(name, starter_for(text, kit.name) if kit else text, NEXT.get(name, "check"))
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
                "in millimetres: add --units mm; your own tools: jigcam start kit -o my-kit.toml, then add --kit "
                "my-kit.toml to the others",
            ],
            width,
        ),
    ]
