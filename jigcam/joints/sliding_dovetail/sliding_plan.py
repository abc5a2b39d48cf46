"""A sliding dovetail with a kit: its clampings, its words, and how its files are judged together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from jigcam.gcode import read
from jigcam.joints.sliding_dovetail.by_hand import sliding_by_hand, tail_by_hand
from jigcam.joints.sliding_dovetail.fit import fit_findings, fit_sliding, socket_frame, tail_frame
from jigcam.joints.sliding_dovetail.glue import Glue
from jigcam.joints.sliding_dovetail.table_words import table_words
from jigcam.joints.sliding_dovetail.words import sliding_words
from jigcam.making.plan import Outcome, Plan
from jigcam.proof.assembly import PlacedFile
from jigcam.values import dataclass
from jigcam.wood.taken import Taken

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.joints.sliding_dovetail.entry import TailWay
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Bit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile


@dataclass(frozen=True)
class SlidingPlan(Plan):
    """A sliding dovetail with a kit, or without one where nothing is cut by files.

    joint: with the angle that its flanks get. by_hand: whether the socket is cut by hand too. tail_way: of the tail.
    glue: where it is glued. bit: that cuts the flanks; None where it is all by hand.
    """

    joint: SlidingDovetail
    by_hand: bool
    tail_way: TailWay
    glue: Glue
    bit: Bit | None = None

    @property
    def redrawn(self) -> tuple[Taken, ...]:
        """With the flanks that the bit gives."""
        return self.joint.taken()

    @property
    def numbered(self) -> bool:
        """The socket comes first: the tail is fitted to it."""
        return True

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return frozenset({"sliding-notch"})

    def drawings(self) -> Mapping[str, Drawing]:
        """The socket on its face, a section across it with the tail, and the tail along its board's end."""
        from jigcam.joints.sliding_dovetail.picture import scene_sliding

        return {"joint": scene_sliding(self.joint, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint as it is cut."""
        return sliding_words(self.joint, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """All of the work by hand, or what of the tail is left for it, and how it goes together."""
        if self.by_hand:
            return sliding_by_hand(self.joint, self.glue, self.voice, number)
        return self.tail_words(number)

    def tail_words(self, number: int) -> list[Block]:
        """What is left for the bench when the socket is cut: the tail, as far as no file cuts it, and the glue."""
        if self.tail_way == "router-table" and self.bit is not None:
            table = table_words(self.joint, self.bit, self.voice, number)
            return [*table, *tail_by_hand(self.joint, self.glue, self.voice, number + 1, shaped=True)]
        return tail_by_hand(self.joint, self.glue, self.voice, number, shaped=self.tail_way == "upright")

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Socket and tail put together from the texts; nothing where no file cuts anything."""
        if not files:
            return Outcome()
        socket: list[PlacedFile] = []
        tail: list[PlacedFile] = []
        for file in files:
            stands = file.setup.clamping == "upright"
            matrix = (tail_frame if stands else socket_frame)(self.joint, file.setup.placement)
            part = PlacedFile.of(read(texts[file.file]), self.kit.the_machine, file.tools, matrix)
            (tail if stands else socket).append(part)
        fit = fit_sliding(self.joint, socket, tail)
        return Outcome(fit=fit, findings=tuple(fit_findings(fit, self.joint.name, self.voice)))
