"""One G-code file of a joint: its moves, its drawing to be proved against, and what the manifest says of it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from jigcam.gcode import Reading, read
from jigcam.making.made_file import MadeFile
from jigcam.toolpath import seconds
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.kit import Bit, Machine
    from jigcam.making.setup import Setup, Step
    from jigcam.proof import Target
    from jigcam.toolpath import Program
    from jigcam.wood import Hand


@dataclass(frozen=True)
class GcodeFile:
    """A file that cuts. file: its path in the output; text: RS-274. setup, steps: what it was made from.

    joints: that it makes, by name, where they are several; `joint` then is the sheet that they share.
    """

    file: str
    joint: str
    setup: Setup
    steps: tuple[Step, ...]
    program: Program
    target: Target
    text: str
    joints: tuple[str, ...] = ()

    @property
    def board(self) -> str:
        """The board that it cuts, or serves as a template."""
        return self.setup.board

    @property
    def hand(self) -> Hand:
        """The hand that it is for."""
        return self.setup.hand

    @property
    def tools(self) -> dict[int, Bit]:
        """Bits by tool number, as the writer numbers them; 0 is the one in the spindle at the start."""
        bits = self.program.bits
        return {0: bits[0], **dict(enumerate(bits, start=1))}

    def takes(self, waste: str) -> bool:
        """Whether one of its steps takes the waste of that name."""
        return any(each.name == waste for step in self.steps for each in step.wastes)

    def reading(self) -> Reading:
        """The text read back, strictly."""
        return read(self.text)

    def made(self, machine: Machine) -> MadeFile:
        """As the output folder takes it."""
        program = self.program
        bits = [bit_facts(bit) for bit in program.bits]
        facts: dict[str, Any] = {
            **self.facts(machine),
            "bit": bits[0],
            **({"bits": bits} if len(bits) > 1 else {}),
            **self.setup.facts,
            **self.place(),
            "seconds": round(seconds(program, machine)),
        }
        return MadeFile(self.file, "gcode", self.text.encode("ascii"), facts)

    def facts(self, machine: Machine) -> dict[str, Any]:
        """For the manifest: what it belongs to."""
        return {
            "joint": self.joint,
            **({"joints": list(self.joints)} if self.joints else {}),
            "board": self.board,
            "hand": self.hand,
            "setup": self.setup.clamping,
            "output_units": machine.output_units,
        }

    def place(self) -> dict[str, Any]:
        """For the manifest: stock, zero and placement, mm."""
        setup = self.setup
        return {
            "stock": [tidy(size) for size in setup.stock],
            "zero": setup.zero,
            "placement": [[tidy(value) for value in row] for row in setup.placement],
        }


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
