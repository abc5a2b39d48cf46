"""The legend of a picture on a page: what lines mean, where no word in the picture says it already."""

from __future__ import annotations

from collections.abc import Set

from jigcam.drawing.model import Drawing
from jigcam.drawing.pdf_ink import width_of
from jigcam.drawing.roles import Role

SAMPLE = 12.0
"""Room for a sample of a line, mm."""
SAID_BY: dict[Role, tuple[str, ...]] = {
    "opening": ("opening",),
    "sheet": ("sheet",),
    "bit": ("bit ",),
    "bushing": ("bushing ",),
    "fence": ("fence", "stop"),
    "backer": ("backer",),
    "free": ("keep free",),
    "stock": (),
    "zero": (),
    "blank": ("lower edge of the blank",),
    "base": ("base",),
}
"""Words in a picture, by their first letters, that say what a role is. The board is what a picture is of, and the zero
point has the sign that every drawing gives it: they stand alone."""


def brief_legend(drawing: Drawing) -> tuple[tuple[Role, str], ...]:
    """Role and words of what has to be explained, in the table's order."""
    words = [label.text for view in drawing.views for label in view.labels]
    words += [each.text for view in drawing.views for each in view.dimensions]

    def said(role: Role) -> bool:
        begins = SAID_BY.get(role)
        return begins is not None and (not begins or any(word.startswith(begins) for word in words))

    return tuple((role, name) for role, name, _ in drawing.legend if not said(role))


def legend_lines(
    drawing: Drawing, told: Set[Role], size: float, left: float, room: float
) -> list[list[tuple[Role, str, float]]]:
    """The entries on lines of that room, mm, without those that are told already: role, words, and place."""
    lines: list[list[tuple[Role, str, float]]] = []
    x = left + room
    for role, name in brief_legend(drawing):
        wide = SAMPLE + width_of(name, size) + 5.0
        if role in told:
            continue
        if not lines or x + wide > left + room:
            x = left
            lines.append([])
        lines[-1].append((role, name, x))
        x += wide
    return lines
