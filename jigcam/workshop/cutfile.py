"""One G-code file in the making: its moves, its drawing to be proved against, and what the manifest says of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from jigcam.gcode import Reading, read, write
from jigcam.toolpath import seconds
from jigcam.workshop.outfile import OutFile

if TYPE_CHECKING:
    from jigcam.joints import Hand
    from jigcam.kit import Bit, Machine
    from jigcam.proof import Target
    from jigcam.toolpath import Program


@dataclass(frozen=True)
class CutFile:
    """A file that cuts. file: its path in the output; board: the one it cuts, or serves as a template; text: RS-274.

    guide: for a template, the hand-held router's bit and bushing, as facts for the manifest. place: for the end of a
    board, which one it is and which face is up, likewise.
    """

    file: str
    joint: str
    board: str
    hand: Hand
    program: Program
    target: Target
    text: str
    guide: dict[str, Any] | None = None
    place: dict[str, Any] | None = None

    @property
    def tools(self) -> dict[int, Bit]:
        """Bits by tool number, as the writer numbers them; 0 is the one in the spindle at the start."""
        bits = self.program.bits
        return {0: bits[0], **dict(enumerate(bits, start=1))}

    def reading(self) -> Reading:
        """The text read back, strictly."""
        return read(self.text)

    def out(self, machine: Machine) -> OutFile:
        """As the output folder takes it."""
        program = self.program
        bits = [bit_facts(bit) for bit in program.bits]
        facts: dict[str, Any] = {
            "joint": self.joint,
            "board": self.board,
            "hand": self.hand,
            "setup": program.setup,
            "output_units": machine.output_units,
            "bit": bits[0],
            **({"bits": bits} if len(bits) > 1 else {}),
            **({"guide": self.guide} if self.guide else {}),
            **(self.place or {}),
            "stock": [tidy(size) for size in program.stock],
            "zero": program.zero,
            "placement": [[tidy(value) for value in row] for row in program.placement],
            "seconds": round(seconds(program, machine)),
        }
        return OutFile(self.file, "gcode", self.text, facts)


def cut_file(
    file: str,
    joint: str,
    board: str,
    hand: Hand,
    program: Program,
    target: Target,
    machine: Machine,
    header: list[str],
    guide: dict[str, Any] | None = None,
    place: dict[str, Any] | None = None,
) -> CutFile:
    """Writes the program's text, whose comments are what the proof holds any file to that is taken for this one."""
    text = write(program, machine, header=header)
    target = replace(target, told=tuple(comment.text for comment in read(text).comments))
    return CutFile(file, joint, board, hand, program, target, text, guide, place)


def bit_facts(bit: Bit) -> dict[str, Any]:
    """A bit as the manifest tells it: mm and degrees."""
    return {
        "name": bit.name,
        "kind": bit.kind,
        "diameter": tidy(bit.diameter),
        "angle_deg": tidy(math.degrees(bit.angle)),
    }


def tidy(value: float) -> float | int:
    """A number without float noise: 1e-6 of a millimetre, whole numbers as such, never -0."""
    rounded = round(float(value), 6)
    return int(rounded) if rounded == int(rounded) else rounded
