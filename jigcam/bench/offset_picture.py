"""A cross-section in letters: sheet, bushing, bit and wood, with one offset at each wall."""

from __future__ import annotations

from jigcam.units import Voice

SPAN = 44
"""Columns that the bushing's way through an opening takes at most."""


def offset_picture(bit: float, bushing: float, cut: float | None, *, pattern: bool, voice: Voice) -> list[str]:
    """The section across a groove, or across a part under its pattern, wide things wide; sizes in mm.

    cut: width of the groove or part; None: as wide as the bit, or twice the bushing. Plain ASCII letters.
    """
    return _around(bit, bushing, cut, voice) if pattern else _inside(bit, bushing, cut, voice)


def _inside(bit: float, bushing: float, cut: float | None, voice: Voice) -> list[str]:
    """The bushing at the left wall of its opening."""
    wide = cut if cut is not None else bit
    scale = SPAN / (wide + bushing - bit)
    o = max(2, round((bushing - bit) / 2.0 * scale))
    groove = max(5, round(wide * scale))
    tool = groove if wide - bit < 1.0 / scale else max(3, min(groove - 2, round(bit * scale)))
    # The sheet's edges stand o columns outside the groove's.
    ring = o * 2 + tool
    play = groove - tool
    sheet, wood = "#" * 8, ":" * (8 + o)
    opening = groove + 2 * o
    air = " " * play
    bushes = "|" + _centred("bushing", ring - 2, "=") + "|"
    bits = " " * o + "|" + _centred("bit", tool - 2, " ") + "|" + " " * o
    below = "|" + _centred("bit", tool - 2, " ") + "|" + air
    lines = [
        _ruler("opening", opening, 8),
        f"  {sheet}{bushes}{air}{sheet}  sheet",
        f"  {sheet}{bits}{air}{sheet}",
        f"  {wood}{below}{wood}  wood",
        f"  {wood}{below}{wood}",
        f"  {wood}{':' * groove}{wood}",
        _ruler("cut", groove, 8 + o),
        f"{_ruler('', o, 8)} offset {voice.length((bushing - bit) / 2.0)}, at each wall",
    ]
    return [line.rstrip() for line in lines]


def _around(bit: float, bushing: float, part: float | None, voice: Voice) -> list[str]:
    """The bushing on the right of its pattern, the part below."""
    wide = part if part is not None else 2.0 * bushing
    scale = min(1.0, SPAN / (wide + bushing)) if wide + bushing > SPAN else SPAN / (wide + bushing)
    o = max(2, round((bushing - bit) / 2.0 * scale))
    tool = max(5, round(bit * scale))
    held = max(10, round(wide * scale)) - 2 * o
    held = max(9, held)
    ring = tool + 2 * o
    pattern = "#" * held
    lines = [
        f"{_ruler('pattern', held, o)}",
        f"  {' ' * o}{pattern}|{_centred('bushing', ring - 2, '=')}|",
        f"  {' ' * o}{pattern}{' ' * o}|{_centred('bit', tool - 2, ' ')}|",
        f"  {':' * (held + 2 * o)}|{_centred('bit', tool - 2, ' ')}|  wood",
        f"  {':' * (held + 2 * o)}|{_centred('bit', tool - 2, ' ')}|",
        f"{_ruler('part', held + 2 * o, 0)}",
        f"{_ruler('', o, o + held)} offset {voice.length((bushing - bit) / 2.0)}, all round",
    ]
    return [line.rstrip() for line in lines]


def _centred(word: str, room: int, fill: str) -> str:
    """The word in the middle of so many letters, left out where it does not fit."""
    if room >= len(word) + 2:
        return f" {word} ".center(room, fill)
    return word.center(room, fill) if room >= len(word) else fill * max(0, room)


def _ruler(word: str, columns: int, before: int) -> str:
    """A measured length, with its name where there is room for it, else beside it."""
    if word and columns >= len(word) + 4:
        return "  " + " " * before + "<" + f" {word} ".center(columns - 2, "-") + ">"
    return "  " + " " * before + "<" + "-" * max(0, columns - 2) + f"> {word}".rstrip()
