"""All files of a built job: G-code, dry runs, previews, drawings, setup sheets, manifest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.gcode import OFF, read, write
from jigcam.making.gcode_file import bit_facts
from jigcam.making.made_file import MadeFile
from jigcam.making.setup_sheet import setup_sheet
from jigcam.toolpath import dry_run, seconds
from jigcam.workshop.folder import MANIFEST
from jigcam.workshop.manifest import manifest, manifest_bytes

if TYPE_CHECKING:
    from jigcam.making.built import Built
    from jigcam.making.gcode_file import GcodeFile

PREVIEW_WIDTH = 100
"""Columns of the text pictures that are written to files."""


def made_files(built: Built) -> list[MadeFile]:
    """The files, in the order of the manifest."""
    from jigcam.drawing import svg, terminal

    files: list[MadeFile] = []
    for joint, proof in zip(built.joints, built.proofs, strict=True):
        drawings = joint.plan.drawings()
        facts = {"joint": joint.name}
        files += [each.made(built.kit.the_machine) for each in joint.files]
        files += [_dry_run(each, built) for each in joint.files]
        pictures = "\n\n".join(terminal.render(drawing, PREVIEW_WIDTH) for drawing in drawings.values())
        files.append(MadeFile(f"{joint.folder}/preview.txt", "preview", pictures.encode(), facts))
        files += [
            MadeFile(f"{joint.folder}/{stem}.svg", "drawing", svg.render(drawing).encode(), facts)
            for stem, drawing in drawings.items()
        ]
        sheet = "\n".join(setup_sheet(joint, proof, built)) + "\n"
        files.append(MadeFile(f"{joint.folder}/setup-sheet.txt", "sheet", sheet.encode(), facts))
    return files


def folder_content(built: Built) -> tuple[dict[str, bytes], dict[str, Any]]:
    """What the output folder is to hold, by relative path, and the manifest in it. Raises `Refused`."""
    files = made_files(built)
    content = manifest(built, files)
    return {MANIFEST: manifest_bytes(content), **{file.file: file.content for file in files}}, content


def _dry_run(file: GcodeFile, built: Built) -> MadeFile:
    """The same moves above the stock with the spindle off."""
    program, machine = dry_run(file.program), built.kit.the_machine
    name = file.file.removesuffix(".nc") + "-dry-run.nc"
    header = [f"{built.job.title} - dry run of {file.file}", "spindle off, all moves above the stock"]
    facts = {
        **file.facts(machine),
        "bit": bit_facts(program.bits[0]),
        **file.place(),
        "seconds": round(seconds(file.program, machine)),  # the same moves, only higher
    }
    text = write(program, machine, header=header)
    _prove_dry_run(text, name)
    return MadeFile(name, "dry-run", text.encode(), facts)


def _prove_dry_run(text: str, name: str) -> None:
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
            f"the dry run is not safe: lowest z {low:.3f} mm, "
            f"spindle {'on' if turning else 'off'}, {len(reading.faults)} faults",
        )
        raise Refused("a dry run failed its proof; nothing was written", [finding])
