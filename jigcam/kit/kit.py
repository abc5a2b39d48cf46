"""A kit: everything that one shop has."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal, Self, TypeVar

from pydantic import Field, PrivateAttr, model_validator

from jigcam.document.fields import Name, a_list
from jigcam.document.model import Model
from jigcam.document.positions import Key
from jigcam.document.reading import Misfit
from jigcam.errors import InputError, Refused, unknown_name
from jigcam.findings import Finding
from jigcam.kit.accuracy import Accuracy
from jigcam.kit.bit import Bit
from jigcam.kit.climate import Climate
from jigcam.kit.machine import Machine
from jigcam.kit.measured import Measured, misfits, sized
from jigcam.kit.router import Bushing, Router, Sheet
from jigcam.units import Voice

_TABLES = "a list of tables, each under its own double brackets"

_Tool = TypeVar("_Tool")


def _there(tool: _Tool | None, kit: str, rule: str, what: str) -> _Tool:
    """The tool, if the kit has it. Raises `Refused`."""
    if tool is None:
        table = rule.removeprefix("no-")
        says = f"this wants {what}, and the kit has none: write its [{table}] into the kit, if the shop has one"
        raise Refused(f"the kit {kit} has no [{table}]", [Finding("stop", rule, kit, says)])
    return tool


class Kit(Model):
    """The tools of a shop, in mm.

    name (`kit` in files): of the shop. units: those of its file, in which the maker is spoken to. router, machine,
    sheet, bits, bushings: as far as the shop has them; a kit without a machine is a kit, and so is one of hand tools
    alone. accuracy (`tolerances` in files): how far sizes may be off. measured: what test cuts have shown of pairs.
    climate: of the shop, and of where its pieces stand. paper: of the printer, "letter" or "a4"; left out: Letter where
    units are inches, A4 where they are millimetres.

    Whoever cannot do without one asks for `the_router`, `the_machine` or `the_sheet`.
    """

    name: Name = Field(alias="kit")
    units: Literal["in", "mm"]
    router: Router | None = None
    machine: Machine | None = None
    sheet: Sheet | None = None
    bits: Annotated[tuple[Bit, ...], a_list(None, _TABLES)] = ()
    bushings: Annotated[tuple[Bushing, ...], a_list(None, _TABLES)] = ()
    accuracy: Accuracy = Field(default_factory=Accuracy, alias="tolerances")
    measured: Annotated[tuple[Measured, ...], a_list(None, _TABLES)] = ()
    climate: Climate = Field(default_factory=Climate)
    paper: Literal["letter", "a4"] | None = None
    _path: Path | None = PrivateAttr(default=None)

    @property
    def voice(self) -> Voice:
        """In which its maker is spoken to."""
        return Voice(self.units)

    @property
    def path(self) -> Path | None:
        """The file that it came from; None if it was made in Python."""
        return self._path

    @property
    def the_paper(self) -> Literal["letter", "a4"]:
        """On which plans are printed."""
        return self.paper or ("letter" if self.units == "in" else "a4")

    @property
    def the_machine(self) -> Machine:
        """The CNC. Raises `Refused` where the kit has none."""
        return _there(self.machine, self.name, "no-machine", "a machine")

    @property
    def the_router(self) -> Router:
        """The hand-held router. Raises `Refused` where the kit has none."""
        return _there(self.router, self.name, "no-router", "a hand-held router")

    @property
    def the_sheet(self) -> Sheet:
        """The stock of templates. Raises `Refused` where the kit has none."""
        return _there(self.sheet, self.name, "no-sheet", "sheet stock for templates")

    def bit(self, name: str) -> Bit:
        """The bit of that name. Raises InputError, with the nearest name, if there is none."""
        for each in self.bits:
            if each.name == name:
                return each
        raise unknown_name("bit", name, [each.name for each in self.bits])

    def bushing(self, name: str) -> Bushing:
        """The bushing of that name. Raises InputError, with the nearest name, if there is none."""
        for each in self.bushings:
            if each.name == name:
                return each
        raise unknown_name("bushing", name, [each.name for each in self.bushings])

    def measurement(self, bit: Bit, bushing: Bushing) -> Measured | None:
        """What a test cut has shown of a pair, if there was one."""
        wanted = (bit.name, bushing.name)
        return next((each for each in self.measured if (each.bit, each.bushing) == wanted), None)

    def as_measured(self, bit: Bit) -> Bit:
        """A bit of the kit at its diameter as measured with the latest of its test cuts, or as it is sold."""
        sold = next((each for each in self.bits if each.name == bit.name), bit)
        found = [each for each in self.measured if each.bit == bit.name and each.diameter is not None]
        latest = max(found, key=lambda each: each.date, default=None)
        return sold if latest is None or latest.diameter is None else sized(sold, latest.diameter)

    @model_validator(mode="after")
    def _all_goes_together(self) -> Self:
        faults: list[tuple[Key, InputError]] = []
        spindles = [each for each in (self.router, self.machine) if each is not None]
        if spindles and not self.bits:
            faults.append(
                (
                    ("bits",),
                    InputError(
                        "the kit has no bits",
                        found="[]",
                        wanted="at least one [[bits]]",
                        mend="jigcam start kit shows some",
                    ),
                )
            )
        if self.bits and not spindles:
            none = InputError("nothing in the kit turns its bits", found="[[bits]]", wanted="a [router] or a [machine]")
            faults.append((("bits",), none))
        for number, each in enumerate(self.bits if spindles else ()):
            if not any(spindle.takes(each) for spindle in spindles):
                says = Voice(self.units).length
                collets = sorted({size for spindle in spindles for size in spindle.collets or ()})
                faults.append(
                    (
                        ("bits", number, "shank"),
                        InputError(
                            "no collet takes this shank",
                            found=says(each.shank),
                            wanted="one of " + ", ".join(map(says, collets)),
                        ),
                    )
                )
        faults += misfits(self.measured, self.bits, self.bushings, self.voice)
        if faults:
            raise Misfit(*faults)
        return self
