"""A rabbet planned: its setup on the machine, or the work by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.joints.rabbet.by_hand import HandRabbet
from jigcam.joints.rabbet.fit import rabbet_fit
from jigcam.joints.rabbet.rabbet import Rabbet
from jigcam.joints.rabbet.season import season_findings
from jigcam.joints.rabbet.words import rabbet_words
from jigcam.making.blocks import section
from jigcam.making.flat import flat_setup
from jigcam.making.plan import Outcome, Plan
from jigcam.toolpath.choice import direct_bit
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.gap import Mouth
from jigcam.toolpath.ledge import Ledge, ledge_operations
from jigcam.toolpath.track import Cutter

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.job import Job
    from jigcam.joints.rabbet.entry import RabbetEntry
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile

HOLD = ("Clamps outside the path.",)


@dataclass(frozen=True)
class DirectRabbet(Plan):
    """A rabbet cut on the machine in one setup."""

    rabbet: Rabbet

    def drawings(self) -> Mapping[str, Drawing]:
        """The step on its board's face, and a section across it."""
        from jigcam.joints.rabbet.picture import scene_rabbet

        return {"rabbet": scene_rabbet(self.rabbet, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint."""
        return rabbet_words(self.rabbet, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """What is left for the chisel."""
        work = "Square the corners at the stopped ends with a chisel, from the shoulder outward."
        return [] if all(self.rabbet.open_ends) else section(f"{number}. At the bench", [work])

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Width and depth as the file cuts them."""
        (file,) = files
        return Outcome(fit=rabbet_fit(self.rabbet, file, texts[file.file], self.kit))


def plan_rabbet(it: Rabbet, entry: RabbetEntry, job: Job, kit: Kit) -> Plan:
    """The setup that cuts a rabbet; none by hand.

    Raises `Refused` where no bit can, or the path is larger than the machine.
    """
    if stops(it.findings):
        raise Refused(f"{it.name}: the rabbet cannot be cut as drawn", it.findings)
    findings = (*it.findings, *season_findings(it, entry, job, kit))
    if entry.way == "hand":
        return HandRabbet(it.name, (), findings, kit, job.voice, rabbet=it)
    board, voice, through = it.board, job.voice, all(it.open_ends)
    # A stopped end is only reached by a bit that stands on the board with half of its width.
    room = inf if through else min(2.0 * it.width, it.length)
    bit, said = direct_bit(kit, room, it.depth, entry.bit, it.name, voice, "the room at a stopped end")
    cutter = Cutter(bit, choose(bit, board.wood, kit.the_machine, it.depth, voice=voice), kit.the_machine)
    ledge = Ledge(Mouth(it.matrix), it.width, *it.stretch, *it.open_ends)
    operations = ledge_operations(ledge, it.depth, cutter, voice)
    setup, far = flat_setup(
        board,
        cutter,
        operations,
        it.solid,
        file="rabbet",
        joint=it.name,
        voice=voice,
        face=it.face,
        hold=HOLD,
        right=it.matrix[0][0] < 0.0,
    )
    what = f"The bit leaves a radius of {job.voice.rule(bit.radius)} at the shoulder of stopped ends for the chisel."
    corners = () if through else (Finding("note", "corners-left", it.name, what),)
    return DirectRabbet(it.name, (setup,), (*findings, *said, *far, *corners), kit, job.voice, rabbet=it)
