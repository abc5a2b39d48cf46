"""A drawing as text: title, pictures with their scale bars, legend and notes, in lines that fit any width."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from jigcam.drawing.canvas import ACROSS, DOWN, Canvas, paint
from jigcam.drawing.model import Drawing, View
from jigcam.drawing.picture import Picture, frame_for
from jigcam.drawing.roles import PENS, Role
from jigcam.drawing.text import clean, columns, fit, plain, wrap
from jigcam.units import INCH, format_length

GAP = 3
"""Columns between views that stand side by side."""
SAMPLE = 8
"""Columns of a line's sample in the legend."""
MINOR = 0.5
"""Height of a minor view, of that of a main one."""
BARS = {
    "in": tuple(INCH * n for n in (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 48, 96)),
    "mm": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0),
}
"""Round lengths for scale bars, mm."""
PREVIEW_WIDTH = 100
"""Columns of the pictures that are written to files."""


def files_of(drawings: Mapping[str, Drawing]) -> dict[str, bytes]:
    """All drawings below each other, in one file."""
    return {"preview": "\n\n".join(render(drawing, PREVIEW_WIDTH) for drawing in drawings.values()).encode()}


def render(
    drawing: Drawing, width: int = 80, height: int | None = None, colour: bool = False, unicode: bool = True
) -> str:
    """The drawing in lines of at most `width` columns (at least 1), without blanks at their ends; ends with a line
    break.

    height: rows to keep to as far as the pictures stay readable; left out, pictures take what suits the width.
    unicode: False for pictures and words in ASCII.
    """
    width = max(width, 1)
    say = clean if unicode else plain
    title = fit(say(drawing.title), width, _dots(unicode))
    lines = [paint(title, "strong") if colour else title]
    facts = [say(f"{name}: {value}") for name, value in drawing.facts]
    lines += _flow([(fact, columns(fact)) for fact in facts], width, 3)
    foot = _legend(drawing, width, colour, unicode)
    notes = [line for note in drawing.notes for line in wrap(say(note), width, "  ", _dots(unicode))]
    rows = [row for row in drawing.rows if row]
    if height is None:
        high = max(10, min(44, round(width * 0.42)))
    else:
        high = max(6, (height - len(lines) - len(foot) - len(notes) - 2) // max(len(rows), 1) - 5)
    for row in rows:
        lines += ["", *_row(row, drawing.units, width, high, colour, unicode)]
    if foot:
        lines += ["", *foot]
    if notes:
        lines += ["", *notes]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _row(views: tuple[View, ...], units: str, width: int, high: int, colour: bool, unicode: bool) -> list[str]:
    """Views side by side where they fit at full height, otherwise one below the other."""
    low = max(8, round(high * MINOR))
    frames = [frame_for(view, units, width, low if view.minor else high) for view in views]
    wide = [max(taken, min(width, 24)) for _, taken, _ in frames]
    over = sum(wide) + GAP * (len(views) - 1) - width
    if len(views) > 1 and views[-1].minor and 0 < over <= wide[-1] / 3:  # the last one may shrink a little to fit in
        frames[-1] = frame_for(views[-1], units, wide[-1] - over, low)
        wide[-1], over = wide[-1] - over, 0
    if len(views) > 1 and over > 0:
        return [line for view in views for line in [*_row((view,), units, width, high, colour, unicode), ""]][:-1]
    blocks = []
    for view, (frame, taken, tall), room in zip(views, frames, wide, strict=True):
        room = width if len(views) == 1 else room
        # Words may use free ground at the sides of a slim picture.
        spare = min(room, max(taken, 24)) - taken
        if spare > 0:
            frame = type(frame)(frame.scale, frame.left + spare // 2 * ACROSS, frame.top)
        picture = Picture(view, units, frame, taken + max(spare, 0), tall, unicode)
        block = picture.canvas.lines(colour=colour, unicode=unicode)
        while block and not block[0]:
            block.pop(0)
        while block and not block[-1]:
            block.pop()
        block += _footer(view, units, frame.scale, room, unicode)
        for key, text in picture.keys:
            block += wrap(f"{key}  {text}", room, "   ", _dots(unicode))
        blocks.append((block, room))
    return _beside(blocks)


def _dots(unicode: bool) -> str:
    """The sign that words were cut short."""
    return "…" if unicode else "..."


def _beside(blocks: list[tuple[list[str], int]]) -> list[str]:
    """Blocks of lines next to each other, all from the top."""
    tallest = max(len(block) for block, _ in blocks)
    lines = [""] * tallest
    for place, (block, room) in enumerate(blocks):
        last = place == len(blocks) - 1
        for index in range(tallest):
            text = block[index] if index < len(block) else ""
            lines[index] += text if last else text + " " * (room + GAP - columns(_bare(text)))
    return lines


def _bare(text: str) -> str:
    """Without colour."""
    parts = text.split("\x1b[")
    return parts[0] + "".join(part.split("m", 1)[1] for part in parts[1:])


def _footer(view: View, units: str, scale: float, room: int, unicode: bool) -> list[str]:
    """The directions of the axes, the caption and the scale bar, below a picture."""
    bar = _scale_bar(units, scale, room, unicode)
    say, dots = (clean if unicode else plain), _dots(unicode)
    caption = say(view.caption)
    if not view.axes or room < 16:
        return [line for part in (*wrap(caption, room, "", dots), bar) for line in [fit(part, room, dots)] if line]
    x, y = fit(say(view.axes.x), 4, dots), fit(say(view.axes.y), 4, dots)
    up, corner = ("↑", "└→") if unicode else ("^", "+>")
    arrows = [f"{up} {y}", f"{corner} {x}"]
    wide = max(map(columns, arrows)) + 2
    words = [*wrap(caption, room - wide, "", dots), fit(bar, room - wide, dots)]
    arrows = [""] * (len(words) - 2) + arrows
    words = [""] * (len(arrows) - len(words)) + words
    return [
        fit(arrow + " " * (wide - columns(arrow)) + word, room, dots) for arrow, word in zip(arrows, words, strict=True)
    ]


def _scale_bar(units: str, scale: float, room: int, unicode: bool) -> str:
    """A round length at the picture's scale: the one of handy size whose ends lie best on whole columns."""
    first, line, last = "├─┤" if unicode else "|-|"
    choices = []
    for length in BARS[units if units in BARS else "mm"]:
        exact = length * scale / ACROSS
        span = round(exact)
        name = format_length(length, units, places=None)
        if 4 <= span <= 24 and span + 3 + columns(name) <= room:
            choices.append(
                (abs(span - exact) / exact + abs(span - 12) * 0.004, f"{first}{line * (span - 1)}{last} {name}")
            )
    return min(choices)[1] if choices else ""


def _flow(words: list[tuple[str, int]], width: int, gap: int) -> list[str]:
    """Words (with their columns) in as few lines as hold them, `gap` blanks apart. What is longer than a line goes on
    in the next: a figure that is cut off would read as another one."""
    lines: list[str] = []
    used = width
    for text, room in words:
        if room > width:
            lines += wrap(_bare(text), width, "  ", "")
            used = width
            continue
        if not lines or used + gap + room > width:
            lines.append(text)
            used = room
        else:
            lines[-1] += " " * gap + text
            used += gap + room
    return lines


def _legend(drawing: Drawing, width: int, colour: bool, unicode: bool) -> list[str]:
    words = []
    for role, name, filled in drawing.legend:
        sample = _sample(role, filled, colour, unicode)
        words.append((f"{sample} {name}", SAMPLE + 1 + columns(name)))
    return _flow(words, width, 3)


def _sample(role: Role, filled: bool, colour: bool, unicode: bool) -> str:
    """A short piece of the role's line, or of its filling, as it stands in the pictures."""
    canvas = Canvas(SAMPLE, 1)
    right, bottom = SAMPLE * ACROSS - 1, DOWN - 1
    if role == "zero":
        canvas.write(1, 0, "⊕" if unicode else "O", role)
    elif filled and PENS[role].fill != "none":
        canvas.area([np.array([(0, -0.5), (right, -0.5), (right, bottom), (0, bottom)])], role, PENS[role].fill)
    elif role == "hole":
        turn = np.linspace(0.0, 2 * np.pi, 24)
        canvas.line(3.5 + np.column_stack([1.5 * np.cos(turn), 1.5 * np.sin(turn) - 2.0]), role)
    elif role == "base":
        turn = np.linspace(np.pi, 2 * np.pi, 64)
        canvas.line(np.column_stack([7.5 + 7.5 * np.cos(turn), 3.0 + 3.0 * np.sin(turn)]), role)
    else:
        canvas.line(np.array([(0.0, 2.0), (right, 2.0)]), role)
    text = canvas.lines(colour=colour, unicode=unicode)[0]
    return text + " " * (SAMPLE - columns(_bare(text)))
