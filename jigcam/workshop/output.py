"""All files of a built job: G-code, dry runs, previews, drawings, setup sheets, manifest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.characters import one_line
from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.gcode import OFF, read, write
from jigcam.toolpath import dry_run, seconds
from jigcam.workshop.cutfile import bit_facts, tidy
from jigcam.workshop.folder import MANIFEST
from jigcam.workshop.manifest import manifest, manifest_bytes
from jigcam.workshop.outfile import OutFile
from jigcam.workshop.sheet import setup_sheet

if TYPE_CHECKING:
    from jigcam.workshop.build import Built
    from jigcam.workshop.cutfile import CutFile

PREVIEW_WIDTH = 100
"""Columns of the text pictures that are written to files."""


def out_files(built: Built) -> list[OutFile]:
    """The files, in the order of the manifest."""
    from jigcam.drawing import svg, terminal

    files: list[OutFile] = []
    for work, proof in zip(built.works, built.proofs, strict=True):
        facts = {"joint": work.name}
        files += [each.out(built.kit.machine) for each in work.cut_files]
        files += [_dry_run(each, built) for each in work.cut_files]
        pictures = [terminal.render(drawing, PREVIEW_WIDTH) for drawing in work.drawings.values()]
        files.append(OutFile(f"{work.folder}/preview.txt", "preview", "\n\n".join(pictures), facts))
        files += [
            OutFile(f"{work.folder}/{stem}.svg", "drawing", svg.render(drawing), facts)
            for stem, drawing in work.drawings.items()
        ]
        sheet = "\n".join(map(one_line, setup_sheet(work, proof, built))) + "\n"
        files.append(OutFile(f"{work.folder}/setup-sheet.txt", "sheet", sheet, facts))
    return files


def folder_content(built: Built) -> tuple[dict[str, bytes], dict[str, Any]]:
    """What the output folder is to hold, by relative path, and the manifest in it."""
    files = out_files(built)
    content = manifest(built, files)
    return {MANIFEST: manifest_bytes(content), **{file.file: file.content for file in files}}, content


def _dry_run(file: CutFile, built: Built) -> OutFile:
    """The same moves above the stock with the spindle off."""
    program, machine = dry_run(file.program), built.kit.machine
    name = file.file.removesuffix(".nc") + "-dry-run.nc"
    header = [f"{built.job.title} - dry run of {file.file}", "spindle off, all moves above the stock"]
    facts = {
        "joint": file.joint,
        "board": file.board,
        "hand": file.hand,
        "setup": program.setup,
        "output_units": machine.output_units,
        "bit": bit_facts(program.bits[0]),
        "stock": [tidy(size) for size in program.stock],
        "zero": program.zero,
        "placement": [[tidy(value) for value in row] for row in program.placement],
        "seconds": round(seconds(file.program, machine)),  # the same moves, only higher
    }
    text = write(program, machine, header=header)
    _prove_dry_run(text, name)
    return OutFile(name, "dry-run", text, facts)


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
