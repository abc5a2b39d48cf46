"""A sliding dovetail planned: socket flat and tail standing on the machine, or the work by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.gcode import read
from jigcam.joints.sliding_dovetail.by_hand import sliding_by_hand, tail_by_hand
from jigcam.joints.sliding_dovetail.by_template import no_template
from jigcam.joints.sliding_dovetail.choice import choose_bits
from jigcam.joints.sliding_dovetail.fit import fit_findings, fit_sliding, socket_frame, tail_frame
from jigcam.joints.sliding_dovetail.glue import Glue
from jigcam.joints.sliding_dovetail.season import season_findings
from jigcam.joints.sliding_dovetail.strategy import socket_setup, tail_setup
from jigcam.joints.sliding_dovetail.table_words import table_words
from jigcam.joints.sliding_dovetail.words import sliding_words
from jigcam.making.plan import Outcome, Plan
from jigcam.proof.assembly import PlacedFile
from jigcam.wood.taken import Taken

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry, TailWay
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Bit, Kit
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


def plan_sliding(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job, kit: Kit) -> Plan:
    """The clampings that cut a sliding dovetail; none by hand.

    Raises `Refused` where it cannot be cut as drawn or with the kit; InputError for a bit that is not in the kit and a
    climate that is none.
    """
    voice = job.voice
    if stops(joint.findings):
        raise Refused(f"{joint.name} cannot be cut as drawn", joint.findings)
    if entry.way == "template":
        raise no_template(joint, entry, kit, voice)
    season, glue = season_findings(joint, job, kit), Glue.of(joint, job, kit)
    if entry.way == "hand":
        findings = (*joint.findings, *season)
        return SlidingPlan(joint.name, (), findings, kit, voice, joint=joint, by_hand=True, tail_way="hand", glue=glue)
    choice = choose_bits(joint, entry, kit, voice)
    socket, far = socket_setup(choice, kit, voice)
    setups = (socket, tail_setup(choice, kit, voice)) if entry.tail_way == "upright" else (socket,)
    findings = tuple(dict.fromkeys([*joint.findings, *season, *choice.findings, *far]))
    return SlidingPlan(
        joint.name,
        setups,
        findings,
        kit,
        voice,
        joint=choice.joint,
        by_hand=False,
        tail_way=entry.tail_way,
        glue=glue,
        bit=choice.bit,
    )
