"""The bench's correction: from a measured test cut to the kit file."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigcam.errors import InputError
from jigcam.kit import Adjustment, Bit, Bushing, Kit, adjusted, load_kit, write_measured
from jigcam.units import Voice

SAME = 5e-4
"""mm; a correction smaller than this is none."""


@dataclass(frozen=True, slots=True)
class Adjusted:
    """A correction, and the file that it went into; written: whether it did."""

    adjustment: Adjustment
    file: Path
    voice: Voice
    written: bool

    def as_dict(self) -> dict[str, Any]:
        """For `--json`; mm."""
        a = self.adjustment
        return {
            "bit": a.bit.name,
            "bushing": a.bushing.name,
            "date": a.measured.date.isoformat(),
            "opening_mm": round(a.measured.opening, 6),
            "measured_mm": round(a.measured.width, 6),
            "true_difference_mm": round(a.true, 6),
            "bit_diameter_mm": None if a.measured.diameter is None else round(a.measured.diameter, 6),
            "nominal_difference_mm": round(a.nominal, 6),
            "off_mm": round(a.off, 6),
            "file": str(self.file),
            "written": self.written,
        }


def adjust_kit(
    kit: str,
    pair: str,
    *,
    opening: float,
    width: float,
    date: datetime.date,
    diameter: float | None = None,
    write: bool = True,
) -> Adjusted:
    """Correct a pair, "BIT,BUSHING", of a kit by a test cut; diameter: of the bit, if it was measured; mm.

    Raises InputError: names that are not in the kit, a measurement that cannot be, a shipped kit; OutputError.
    """
    found = load_kit(kit)
    assert found.path is not None, "a kit from a file knows it"
    bit, bushing = _named(found, pair)
    result = adjusted(found, bit, bushing, opening=opening, width=width, date=date, diameter=diameter)
    if write:
        write_measured(found.path, result.measured, found.units)
    return Adjusted(result, found.path, found.voice, write)


def _named(kit: Kit, pair: str) -> tuple[Bit, Bushing]:
    """The tools of "BIT,BUSHING"; a comma may be part of a name."""
    for at in (i for i, letter in enumerate(pair) if letter == ","):
        names = pair[:at].strip(), pair[at + 1 :].strip()
        if any(each.name == names[0] for each in kit.bits) and any(each.name == names[1] for each in kit.bushings):
            return kit.bit(names[0]), kit.bushing(names[1])
    if "," not in pair:
        raise InputError(
            "a pair is a bit and a bushing",
            where="--pair",
            found=repr(pair),
            wanted='their names in the kit, as --pair "straight 1/2,bushing 3/4"',
        )
    first, _, second = pair.partition(",")
    try:
        return kit.bit(first.strip()), kit.bushing(second.strip())
    except InputError as error:
        error.where = "--pair"
        raise


def adjustment_lines(result: Adjusted) -> list[str]:
    """For people, in the kit's units."""
    places = 4 if result.voice.inch else 3

    def says(mm: float) -> str:
        return result.voice.length(mm, places)

    a = result.adjustment
    lines = [
        f"{a.bit.name} in {a.bushing.name}: opening {says(a.measured.opening)}, groove {says(a.measured.width)}",
        f"true difference, bushing - bit: {says(a.true)}; by their nominal sizes {says(a.nominal)}",
    ]
    if abs(a.off) < SAME:
        lines.append("that is what the kit went by: grooves come out as wanted")
    else:
        way = "narrower" if a.off > 0 else "wider"
        lines.append(f"the kit was {says(abs(a.off))} off, so grooves came out {says(abs(a.off))} {way} than wanted")
        lines.append(
            "templates made before, with the former figures, no longer fit: with this pair they go on cutting grooves "
            f"{says(abs(a.off))} {way} than drawn; make them anew from their jobs, and mark or throw out the old ones"
        )
    bit, bushing = a.measured.tools(a.bit, a.bushing)
    if abs(bit.diameter - a.bit.diameter) >= SAME or abs(bushing.outside - a.bushing.outside) >= SAME:
        lines.append(f"play is reckoned with a bit of {says(bit.diameter)} and a bushing of {says(bushing.outside)}")
        if a.measured.diameter is None:
            lines.append(
                "which of the two is off was not measured, so this is the case with the least play; measure the bit "
                "and give its diameter with --bit-diameter to decide it"
            )
    if result.written:
        lines.append(f"written to {result.file}; every job with this kit and pair goes by it from now on")
    return lines
