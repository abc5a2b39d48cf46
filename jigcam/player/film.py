"""A G-code file as the page plays it, and as the proof measured it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from jigcam.characters import one_line
from jigcam.gcode import read
from jigcam.player.numbers import column, plain
from jigcam.player.sections import sections_of
from jigcam.player.strokes import strokes_of
from jigcam.player.timing import Timing
from jigcam.proof import VirtualCut
from jigcam.proof.envelope import Envelope
from jigcam.units import Voice

if TYPE_CHECKING:
    from jigcam.kit import Machine
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.proof import Corner, Proof, Stock, Target
    from jigcam.proof.report import Place
    from jigcam.proof.tools import Tools
    from jigcam.toolpath import Program

STANDS = {
    "flat": "seen from above, as the board lies on the machine",
    "upright": "seen from above, on the end of the board that stands in the machine",
    "template": "seen from above, as the sheet lies on the machine",
}
"""How the picture looks at the work, by how it is clamped."""


def film_of(file: GcodeFile, proof: Proof, machine: Machine, voice: Voice) -> dict[str, Any]:
    """A file of a job for the page, mm and rad. proof: of its text."""
    setup = file.setup
    facts = [
        ("file", file.file),
        ("joint", ", ".join(file.joints) or file.joint),
        ("template for" if setup.clamping == "template" else "board", file.board),
        ("hand", file.hand),
        ("stock", voice.size(*setup.stock)),
        ("zero", setup.zero),
        ("view", STANDS[setup.clamping]),
    ]
    made = film(file.file, facts, file.text, file.target, machine, file.tools, proof, file.program)
    return {**made, "group": one_line(", ".join(file.joints) or file.joint)}


def film(
    name: str,
    facts: Iterable[tuple[str, str]],
    text: str,
    target: Target,
    machine: Machine,
    tools: Tools,
    proof: Proof,
    program: Program | None = None,
) -> dict[str, Any]:
    """A text for the page, mm and rad. facts: for the title block; proof: of the text against the target; program: as
    it was planned, whose time then counts, as on the setup sheet."""
    reading = read(text)
    cut = VirtualCut.of(reading, target, machine, tools)
    timing = Timing(reading, cut.motions, cut.travel, machine, program)
    heights, drawings = sections_of(target, cut.at)
    return {
        "kind": "mill",
        "name": name,
        "facts": title_block(facts),
        "stock": stock_of(target.stock),
        "text": text,
        "strokes": strokes_of(timing),
        "tools": {str(number): tool_of(work.envelope) for number, work in sorted(cut.works.items())},
        "seconds": round(timing.seconds),
        "heights": heights,
        "drawings": drawings,
        "marks": [
            {
                "width": plain(mark.width),
                "depth": plain(mark.depth),
                "paths": [column(path.points().ravel()) for path in mark.paths],
            }
            for mark in target.marks
        ],
        "keepOuts": [
            {"box": column([each.x0, each.y0, each.x1, each.y1]), "name": one_line(each.name)}
            for each in target.keep_outs
        ],
        "proof": {
            **proof_of(proof.gouge_mm, proof.left_mm, cut.depth, proof.left_for_chisel, proof.gouges, proof.lefts),
            **engraved_of(target, proof),
        },
    }


def engraved_of(target: Target, proof: Proof) -> dict[str, Any]:
    """What the proof says of engraved lines: how many there are, how long in all, mm, and whether it found them all."""
    if not target.marks:
        return {}
    lines = [path for mark in target.marks for path in mark.paths]
    return {
        "engraved": {
            "lines": len(lines),
            "length": plain(sum(path.length for path in lines), 1),
            "depth": plain(max(mark.depth for mark in target.marks)),
            "whole": not any(each.rule == "mark-missing" for each in proof.findings),
        }
    }


def title_block(facts: Iterable[tuple[str, str]]) -> list[list[str]]:
    """Named values as the page shows them; those without a value are left out."""
    return [[name, one_line(value)] for name, value in facts if value]


def stock_of(stock: Stock) -> list[float | int]:
    """x0, y0, x1, y1, thickness, mm."""
    return column([stock.x0, stock.y0, stock.x1, stock.y1, stock.thickness])


def tool_of(envelope: Envelope) -> dict[str, Any]:
    """A bit, and the nut above it: radii over heights above its tip, straight between them; how high it cuts; mm."""
    bit = envelope.bit
    return {
        "name": one_line(bit.name),
        "heights": column(envelope.heights),
        "radii": column(envelope.radii),
        "cutting": plain(bit.cutting_length),
        "undercuts": bit.undercuts,
    }


def proof_of(
    gouge: float,
    left: float,
    depth: float,
    corners: tuple[Corner, ...],
    gouges: tuple[Place, ...] = (),
    lefts: tuple[Place, ...] = (),
) -> dict[str, Any]:
    """What the proof says of a cut: sizes in mm, places as [x, y, z, size]."""
    return {
        "gouge": plain(gouge, 4),
        "left": plain(left, 4),
        "depth": plain(depth, 4),
        "corners": [column([each.x, each.y, each.z, each.size], 3) for each in corners],
        "gouges": [column([each.x, each.y, each.z, each.size], 3) for each in gouges],
        "lefts": [column([each.x, each.y, each.z, each.size], 3) for each in lefts],
    }
