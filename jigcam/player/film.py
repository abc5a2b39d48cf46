"""A G-code file as the page plays it, and as the proof measured it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.characters import one_line
from jigcam.player.numbers import column, plain, words_only
from jigcam.player.sections import sections_of
from jigcam.player.strokes import strokes_of
from jigcam.proof import VirtualCut
from jigcam.proof.envelope import Envelope
from jigcam.units import Voice

if TYPE_CHECKING:
    from jigcam.kit import Machine
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.proof import Corner, Proof, Stock
    from jigcam.proof.report import Place

STANDS = {
    "flat": "seen from above, as the board lies on the machine",
    "upright": "seen from above, on the end of the board that stands in the machine",
    "template": "seen from above, as the sheet lies on the machine",
}
"""How the picture looks at the work, by how it is clamped."""


def film_of(file: GcodeFile, proof: Proof, machine: Machine, voice: Voice) -> dict[str, Any]:
    """The file for the page, mm and rad. proof: of its text."""
    cut = VirtualCut.of(file.reading(), file.target, machine, file.tools)
    setup = file.setup
    heights, drawings = sections_of(file.target, cut.at)
    facts = [
        ("file", file.file),
        ("joint", ", ".join(file.joints) or file.joint),
        ("template for" if setup.clamping == "template" else "board", file.board),
        ("hand", file.hand),
        ("stock", voice.size(*setup.stock)),
        ("zero", setup.zero),
        ("view", STANDS[setup.clamping]),
    ]
    return {
        "kind": "mill",
        "name": file.file,
        "facts": words_only((name, one_line(value)) for name, value in facts),
        "stock": stock_of(file.target.stock),
        "text": file.text,
        "strokes": strokes_of(cut.travel, cut.motions),
        "tools": {str(number): tool_of(work.envelope) for number, work in sorted(cut.works.items())},
        "rapid": plain(min(machine.max_feed[:2])),
        "heights": heights,
        "drawings": drawings,
        "marks": [
            {"width": plain(mark.width), "depth": plain(mark.depth), "paths": [_open(path) for path in mark.paths]}
            for mark in file.target.marks
        ],
        "keepOuts": [
            {"box": column([each.x0, each.y0, each.x1, each.y1]), "name": one_line(each.name)}
            for each in file.target.keep_outs
        ],
        "proof": proof_of(
            proof.gouge_mm, proof.left_mm, cut.depth, proof.left_for_chisel, proof.gouges, proof.lefts, proof.motions
        ),
    }


def stock_of(stock: Stock) -> list[float | int]:
    """x0, y0, x1, y1, thickness, mm."""
    return column([stock.x0, stock.y0, stock.x1, stock.y1, stock.thickness])


def tool_of(envelope: Envelope) -> dict[str, Any]:
    """A bit: its radii over the heights above its tip, straight between them, and how high it cuts; mm."""
    bit = envelope.bit
    top = float(envelope.heights[np.isfinite(envelope.radii)].max())
    return {
        "name": one_line(bit.name),
        "heights": column(envelope.heights),
        "radii": column(envelope.radii),
        "cutting": plain(bit.cutting_length),
        "top": plain(min(top, bit.overall_length)),
    }


def proof_of(
    gouge: float,
    left: float,
    depth: float,
    corners: tuple[Corner, ...],
    gouges: tuple[Place, ...] = (),
    lefts: tuple[Place, ...] = (),
    motions: int = 0,
) -> dict[str, Any]:
    """What the proof says of a cut: sizes in mm, places as [x, y, z, size]."""
    return {
        "gouge": plain(gouge, 4),
        "left": plain(left, 4),
        "depth": plain(depth, 4),
        "corners": [column([each.x, each.y, each.z, each.size], 3) for each in corners],
        "gouges": [column([each.x, each.y, each.z, each.size], 3) for each in gouges],
        "lefts": [column([each.x, each.y, each.z, each.size], 3) for each in lefts],
        "motions": motions,
    }


def films_of(
    files: tuple[GcodeFile, ...], proofs: Mapping[str, Proof], machine: Machine, voice: Voice
) -> list[dict[str, Any]]:
    """The files of a joint in the order in which they are run. proofs: by file name."""
    return [film_of(file, proofs[file.file], machine, voice) for file in files]


def _open(path: Any) -> list[float | int]:
    """Points of the middle of an engraved line: x and y in turn."""
    return column(path.points().ravel())
