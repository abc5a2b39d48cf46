"""The dry run beside each file that cuts: made, proved to touch nothing, and known again by its opening comment."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.gcode import OFF, read, write
from jigcam.making.gcode_file import bit_facts
from jigcam.making.header import opening_comments
from jigcam.making.made_file import MadeFile
from jigcam.toolpath import dry_run, seconds
from jigcam.toolpath.rehearsal import DRY_RUN
from jigcam.units import MM, Voice

if TYPE_CHECKING:
    from jigcam.kit import Machine
    from jigcam.making.gcode_file import GcodeFile

_SUFFIX, _MARK = ".nc", "-dry-run"


def made_dry_run(file: GcodeFile, title: str, machine: Machine) -> MadeFile:
    """The same moves above the stock with the spindle off. title: of the job. Raises `Refused` if it is not safe."""
    program = dry_run(file.program)
    name = dry_run_name(file.file)
    header = [f"{title} - dry run of {file.file}", "spindle off, all moves above the stock"]
    facts = {
        **file.facts(machine),
        "bit": bit_facts(program.bits[0]),
        **file.place(),
        "seconds": round(seconds(file.program, machine)),  # the same moves, only higher
    }
    text = write(program, machine, header=header)
    _prove(text, name, Voice(machine.output_units))
    return MadeFile(name, "dry-run", text.encode(), facts)


def is_dry_run(text: str) -> bool:
    """Whether a G-code text says of itself that it is a dry run."""
    return any(comment.startswith(DRY_RUN) for comment in opening_comments(text))


def dry_run_name(file: str) -> str:
    """The name of the dry run of a file of that name."""
    return file.removesuffix(_SUFFIX) + _MARK + _SUFFIX


def rehearsed(name: str) -> str:
    """The name of the file that a dry run of that name rehearses."""
    return name.replace(_MARK, "")


def _prove(text: str, name: str, voice: Voice = MM) -> None:
    """Reads a dry run back: no fault, the spindle never turns, nothing comes down to the stock. Raises `Refused`."""
    reading = read(text)
    motions = reading.motions
    low = float(np.nanmin(motions["end"][:, 2], initial=np.inf))
    turning = bool(np.any((motions["spindle"] != OFF) & (motions["rpm"] > 0.0)))
    if reading.faults or turning or low <= 0.0:
        finding = Finding(
            "stop",
            "dry-run",
            name,
            f"the dry run is not safe: lowest z {voice.length(low)}, "
            f"spindle {'on' if turning else 'off'}, {len(reading.faults)} faults",
        )
        raise Refused("a dry run failed its proof; nothing was written", [finding])
