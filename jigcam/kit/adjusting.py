"""Correcting a kit from a test cut: the true B − d of a pair, written into the kit's file.

Only the table of that pair is written anew; comments, order and line ends of the rest stay as they are. The file is
replaced in one step, after the new text has been read as a kit.
"""

from __future__ import annotations

import datetime
import os
import tempfile
from collections.abc import MutableMapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigcam.document import Document
from jigcam.errors import InputError, OutputError
from jigcam.interruption import interruptible, tidying_up
from jigcam.kit.bit import Bit
from jigcam.kit.kit import Kit
from jigcam.kit.loading import kit_from
from jigcam.kit.measured import Measured, slip
from jigcam.kit.profiles import profiles_folder
from jigcam.kit.router import Bushing
from jigcam.units import INCH, Unit, length_text


@dataclass(frozen=True, slots=True)
class Adjustment:
    """What a test cut has shown, mm. before: the difference that the kit went by until now, nominal or measured."""

    bit: Bit
    bushing: Bushing
    measured: Measured
    before: float

    @property
    def nominal(self) -> float:
        """B − d of the sizes in the kit."""
        return self.bushing.outside - self.bit.diameter

    @property
    def true(self) -> float:
        """B − d as it is."""
        return self.measured.difference

    @property
    def off(self) -> float:
        """True less what the kit went by: by so much the openings were too narrow, and so the grooves."""
        return self.true - self.before


def adjusted(
    kit: Kit,
    bit: Bit,
    bushing: Bushing,
    *,
    opening: float,
    width: float,
    date: datetime.date,
    diameter: float | None = None,
) -> Adjustment:
    """The correction of a pair of the kit. opening: as measured across the template, width: across its groove,
    diameter: of the bit, if it was measured; mm.

    Raises InputError, with the likely slip, for a measurement that cannot be.
    """
    others = [(a, b) for a in kit.bits if a.upright_walls for b in kit.bushings]
    sizes = [("--opening", opening), ("--measured", width)]
    sizes += [] if diameter is None else [("--bit-diameter", diameter)]
    for name, size in sizes:
        if not 0.0 < size < 1000.0:
            raise InputError(
                "no size for an opening or a groove",
                where=name,
                found=length_text(size, kit.voice.units),
                wanted=f"more than 0 and less than {kit.voice.length(1000.0)}",
            )
    fault = slip(bit, bushing, opening, width, others, kit.voice, diameter)
    if fault is not None:
        fault.where = "--opening, --measured" + ("" if diameter is None else ", --bit-diameter")
        raise fault
    found = Measured(bit=bit.name, bushing=bushing.name, opening=opening, width=width, date=date, diameter=diameter)
    earlier = kit.measurement(bit, bushing)
    before = earlier.difference if earlier else bushing.outside - bit.diameter
    return Adjustment(bit, bushing, found, before)


def write_measured(path: Path, measured: Measured, units: Unit) -> Kit:
    """Write a measurement into a kit file, in place of an earlier one of the same pair; the kit as it now is.

    units: "in" or "mm", in which its lengths are written. Raises InputError for a shipped kit, which stays as it is,
    and for a file that cannot be read; Faults for one that is no kit, before or with the measurement; OutputError where
    it cannot be written. Nothing is left half written.
    """
    target = path.resolve()
    if target.is_relative_to(profiles_folder().resolve()):
        raise InputError(
            "a shipped kit is not written to",
            where=str(path),
            found="a kit of the program's own profiles",
            wanted="a kit file of yours",
            mend=f"copy it: cp {target} my-shop.toml, name my-shop.toml in the job or with --kit, and adjust that",
        )
    kit_from(Document.read(target))
    raw = target.read_bytes()
    mark = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    text = raw.decode("utf-8-sig")
    new = with_measured(text, measured, units)
    kit = kit_from(Document.parse(new, path))
    _replace(target, mark + new.encode("utf-8"))
    return kit


def with_measured(text: str, measured: Measured, units: Unit) -> str:
    """The text of a kit file with that measurement in it; all else of it unchanged, its kind of line ends too.

    Raises ValueError, as the TOML writer words it, for text that is not TOML.
    """
    import tomlkit

    plain = text.replace("\r\n", "\n")
    document = tomlkit.parse(plain)
    there = document.get("measured")
    table = next((each for each in there or () if (each.get("bit"), each.get("bushing")) == _pair(measured)), None)
    if table is not None:
        _fill(table, measured, units)
        new = tomlkit.dumps(document)
    elif there is None or isinstance(there, tomlkit.items.AoT):
        # A header of its own ends whatever table the file ends with.
        fresh = tomlkit.table()
        _fill(fresh, measured, units)
        new = f"{plain.rstrip()}\n\n[[measured]]\n{tomlkit.dumps(fresh)}"
    else:  # written as a list of inline tables
        inline = tomlkit.inline_table()
        _fill(inline, measured, units)
        there.append(inline)
        new = tomlkit.dumps(document)
    return new.replace("\n", "\r\n") if "\r\n" in text else new


def _pair(measured: Measured) -> tuple[str, str]:
    return measured.bit, measured.bushing


def _fill(table: MutableMapping[str, Any], measured: Measured, units: Unit) -> None:
    table["bit"] = measured.bit
    table["bushing"] = measured.bushing
    table["opening"] = _written(measured.opening, units)
    table["width"] = _written(measured.width, units)
    table["date"] = measured.date
    if measured.diameter is not None:
        table["diameter"] = _written(measured.diameter, units)
    else:
        table.pop("diameter", None)


def _written(mm: float, units: Unit) -> str:
    """A length to a hundredth of a micron and better, with its unit, without idle zeros."""
    value, places = (mm / INCH, 6) if units == "in" else (mm, 4)
    return f"{value:.{places}f}".rstrip("0").rstrip(".") + f" {units}"


def _replace(path: Path, content: bytes) -> None:
    """Replace a file in one step, keeping its permissions."""
    part = ""
    try:
        with tidying_up():
            try:
                handle, part = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
                with os.fdopen(handle, "wb") as out, interruptible():
                    out.write(content)
                    out.flush()
                    os.fsync(out.fileno())
                Path(part).chmod(path.stat().st_mode & 0o7777)
                Path(part).replace(path)
            finally:
                if part:  # it is gone where it took its place
                    Path(part).unlink(missing_ok=True)
    except OSError as fault:
        raise OutputError(
            "the kit could not be written; it is as it was",
            where=str(path),
            found=fault.strerror or str(fault),
            mend="is the folder writable?",
        ) from fault
