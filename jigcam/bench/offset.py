"""The sums of one bit in one bushing, with the words that go with them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from jigcam.bench.offset_picture import offset_picture
from jigcam.errors import InputError
from jigcam.template import bushing as sums
from jigcam.units import MM, Voice, length_text, nearest_fraction


@dataclass(frozen=True, slots=True)
class OffsetSums:
    """All in mm. opening: size of the template's edge, of an opening or (`pattern`) of a pattern; cut: of cut or part.

    least_radius: the tightest inside corner that comes out in the work.
    """

    bit: float
    bushing: float
    pattern: bool
    offset: float
    opening: float | None
    cut: float | None
    least_radius: float

    @property
    def direction(self) -> Literal["clockwise", "anticlockwise"]:
        """Of a hand-held feed, seen from above, in which the cut pulls the bushing against the wall."""
        return "anticlockwise" if self.pattern else "clockwise"

    def as_dict(self) -> dict[str, Any]:
        """For `--json`; the first four keys are contract."""
        return {
            "offset_mm": _rounded(self.offset),
            "opening_mm": _rounded(self.opening),
            "cut_mm": _rounded(self.cut),
            "least_radius_mm": _rounded(self.least_radius),
            "pattern": self.pattern,
            "bit_mm": _rounded(self.bit),
            "bushing_mm": _rounded(self.bushing),
            "feed": self.direction,
        }


def offset_sums(
    bit: float,
    bushing: float,
    *,
    opening: float | None = None,
    cut: float | None = None,
    pattern: bool = False,
    radius: float | None = None,
    voice: Voice = MM,
) -> OffsetSums:
    """The sums for a bit and a bushing (diameters, mm) and, where given, one of opening and cut (sizes, mm).

    radius: of the opening's inside corners, mm; None: so tight that the bit alone decides the corner of the cut.
    Raises InputError for sizes that cannot be: not positive, a bit wider than its bushing, both opening and cut, a size
    that two offsets use up, or a cut narrower than the bit.
    """
    for name, size in (("bit", bit), ("bushing", bushing), ("opening", opening), ("cut", cut)):
        if size is not None and not 0.0 < size < 10_000.0:
            raise InputError(
                f"no size for {'an' if name == 'opening' else 'a'} {name}",
                where=f"--{name}",
                found=length_text(size, voice.units),
                wanted=f"more than 0 and less than {voice.length(10_000.0)}",
            )
    if opening is not None and cut is not None:
        raise InputError(
            "both the opening and the cut are given",
            wanted="one of --opening and --cut",
            mend="leave out the one that is to be computed",
        )
    if bit >= bushing:
        raise InputError(
            "the bit does not fit in the bushing",
            where="--bit",
            found=f"bit {voice.length(bit)}, bushing {voice.length(bushing)}",
            wanted="a bit smaller than the bushing's outside",
            mend="were the two exchanged?",
        )
    if radius is not None and (pattern or not 0.0 <= radius < 10_000.0):
        raise InputError(
            "no radius for an opening's corner",
            where="--radius",
            found=length_text(radius, voice.units),
            wanted="a radius of the inside corners of an opening, and no pattern",
        )
    o = sums.offset(bit, bushing)
    if cut is not None:
        opening = sums.pattern_size(cut, bit, bushing) if pattern else sums.opening_size(cut, bit, bushing)
    elif opening is not None:
        cut = sums.part_size(opening, bit, bushing) if pattern else sums.cut_size(opening, bit, bushing)
    if pattern and opening is not None and opening <= 0.0:
        raise InputError(
            "two offsets use up the whole pattern",
            where="--cut",
            found=voice.length(cut or 0.0),
            wanted=f"more than {voice.length(2 * o)}",
            mend="take a bit and bushing with a smaller difference",
        )
    if not pattern and cut is not None and cut < bit - 1e-9:
        least = sums.opening_size(bit, bit, bushing)
        raise InputError(
            "the cut is narrower than the bit",
            where="--cut" if opening is None else "--opening or --cut",
            found=voice.length(cut),
            wanted=f"a cut of at least {voice.length(bit)}, an opening of at least {voice.length(least)}",
            mend="take a smaller bit",
        )
    return OffsetSums(bit, bushing, pattern, o, opening, cut, sums.corner_in_opening(radius or 0.0, bit, bushing))


def offset_lines(result: OffsetSums, voice: Voice) -> list[str]:
    """The sums in words, with a small picture of the two edges."""
    edge, work = ("pattern", "part") if result.pattern else ("opening", "cut")
    sign = "less" if result.pattern else "more"
    lines = [
        f"bit {_shown(result.bit, voice)} in bushing {_shown(result.bushing, voice)}",
        f"offset   {_shown(result.offset, voice)}   (bushing - bit) / 2, at each wall",
    ]
    if result.opening is not None and result.cut is not None:
        lines += [
            f"{work:<8} {_shown(result.cut, voice)}",
            f"{edge:<8} {_shown(result.opening, voice)}   the {work} and two offsets {sign}, one at each side",
        ]
    lines += [
        f"inside corners of the work come out at a radius of {_shown(result.least_radius, voice)} or more",
    ]
    if result.pattern:
        lines.append(f"a sharp outside corner of the pattern leaves the part rounded at {_shown(result.offset, voice)}")
    lines += [
        f"hand feed {result.direction}, seen from above, so that the cut pulls the bushing against the wall",
        "from these diameters alone: what a test cut has shown of a pair stands in a kit, and `jigcam bushing pairs` "
        "has it",
    ]
    return [*lines, "", *offset_picture(result.bit, result.bushing, result.cut, pattern=result.pattern, voice=voice)]


def _shown(mm: float, voice: Voice) -> str:
    text = voice.length(mm)
    if voice.inch:
        fraction = nearest_fraction(mm)
        if abs(fraction.error_mm) < 1e-6:
            text += f" ({fraction.text})"
    return text


def _rounded(mm: float | None) -> float | None:
    return None if mm is None else round(mm, 6) + 0.0
