"""A finger joint planned: a setup for each end that stands up in the machine's vise, or the work by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.gcode import read
from jigcam.job.slug import slug
from jigcam.joints.finger_joint.by_hand import HandFingers
from jigcam.joints.finger_joint.fit import FingersFit, corner_fit, fit_findings
from jigcam.joints.finger_joint.words import finger_words
from jigcam.making.counted_edges import with_widths
from jigcam.making.plan import Outcome, Plan
from jigcam.making.setup import Placement, Setup, Step, Waste, corner_of
from jigcam.making.upright import LEAD, NO_VISE, OVER, holding_faults, upright_placement, upright_words
from jigcam.proof.assembly import PlacedFile
from jigcam.toolpath.choice import direct_bit
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.frame import extent, reached, too_large
from jigcam.toolpath.gap import Line, Mouth, Wall, through_gap
from jigcam.toolpath.gap_run import along_walls, clearing_run, lane_passes
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.toolpath.track import Cutter
from jigcam.wood import PlacedSolid

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.job import Job
    from jigcam.joints.finger_joint.entry import FingerJointEntry, Part
    from jigcam.joints.finger_joint.joint import FingerJoint
    from jigcam.joints.finger_joint.layout import Slot
    from jigcam.kit import Bit, Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.toolpath.gap import Gap
    from jigcam.toolpath.program import Operation
    from jigcam.units import Voice
    from jigcam.wood.taken import End

STEP = 0.85
"""Distance of lanes in bit diameters: right through a board straight lanes leave nothing between them."""


@dataclass(frozen=True)
class FingersPlan(Plan):
    """A finger joint on the machine. clamped: board and end of each setup."""

    joint: FingerJoint
    clamped: tuple[tuple[Part, End], ...]
    gang: int

    @property
    def numbered(self) -> bool:
        """The files of `a` come before those of `b`."""
        return True

    def drawings(self) -> Mapping[str, Drawing]:
        """Both boards with their slots, and the corner put together."""
        from jigcam.joints.finger_joint.picture import scene_fingers

        return {"joint": scene_fingers(self.joint, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint, and the edges that the files count from."""
        return with_widths(finger_words(self.joint, self.voice), self.setups, self.joint.clearance, self.voice)

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Every corner put together from the texts."""
        ends = {id(setup): which for setup, which in zip(self.setups, self.clamped, strict=True)}
        machine = self.kit.the_machine
        cut = {
            ends[id(file.setup)]: PlacedFile.of(
                read(texts[file.file]), machine, file.tools, _from_corner(ends[id(file.setup)][0], file.setup.placement)
            )
            for file in files
        }
        corners = tuple(
            corner_fit(self.joint, a_end, b_end, cut[("a", a_end)], cut[("b", b_end)])
            for a_end, b_end in self.joint.ends
        )
        findings = tuple(each for corner in corners for each in fit_findings(corner, self.joint.name, self.voice))
        return Outcome(fit=FingersFit(corners), findings=findings)


def plan_fingers(joint: FingerJoint, entry: FingerJointEntry, job: Job, kit: Kit) -> Plan:
    """The clampings that cut a finger joint, in the order in which they are run; none by hand.

    Raises `Refused` where no bit goes between the fingers, or the machine cannot hold a board upright or reach over it.
    """
    if stops(joint.findings):
        raise Refused(f"{joint.name}: the fingers cannot be cut as drawn", joint.findings)
    voice = job.voice
    if entry.way == "hand":
        return HandFingers(joint.name, (), joint.findings, kit, voice, joint=joint)
    faults = [
        f"{board.name}: {fault}"
        for board, deep in ((joint.a, joint.depth("a")), (joint.b, joint.depth("b")))
        for fault in holding_faults(kit.the_machine, board, deep, voice.length, gang=entry.gang)
    ]
    if faults:
        says = NO_VISE if kit.the_machine.upright is None else "; ".join(faults)
        stop = Finding("stop", "finger-vise", joint.name, says)
        raise Refused(f"{joint.name} cannot be cut with the kit {kit.name}", [stop])
    narrowest = min(
        (slot.width for part in ("a", "b") for slot in joint.slots(part) if not (slot.open_low or slot.open_high)),
        default=float("inf"),
    )
    deepest = max(joint.depth("a"), joint.depth("b"))
    bit, said = direct_bit(kit, narrowest, deepest, entry.bit, joint.name, voice, "the narrowest slot is")
    clamped: list[tuple[Part, End]] = [("a", end) for end, _ in joint.ends] + [("b", end) for _, end in joint.ends]
    setups = tuple(_setup(joint, part, end, bit, kit, voice, entry.gang) for part, end in clamped)
    findings = tuple(dict.fromkeys((*joint.findings, *said)))
    return FingersPlan(joint.name, setups, findings, kit, voice, joint=joint, clamped=tuple(clamped), gang=entry.gang)


def _setup(joint: FingerJoint, part: Part, end: End, bit: Bit, kit: Kit, voice: Voice, gang: int) -> Setup:
    """One end of one board, or of a gang of them, standing up."""
    board, depth = joint.board(part), joint.depth(part)
    thick = gang * board.thickness
    cutter = Cutter(bit, choose(bit, board.wood, kit.the_machine, depth, voice=voice), kit.the_machine)
    placement = upright_placement(board, end)
    operations = _operations(joint.slots(part), cutter, depth, thick, placement, voice)
    need = extent([move for each in operations for move in each.moves])
    if not reached(need, kit.the_machine):
        raise too_large([need], kit.the_machine, joint.name, voice)
    solid = PlacedSolid(joint.upright(part, gang), placement)
    names = f"{board.name}, {end} end"
    return Setup(
        name=f"{joint.name}, {names}",
        board=board.name,
        clamping="upright",
        stock=(board.width, thick, board.length),
        zero="operator's left edge, outside face, end grain",
        placement=placement,
        clear_height=kit.the_machine.clear_height,
        title=f"{names}: fingers, held upright, that end up",
        hold=tuple(upright_words(board, end, depth, 2.0 * bit.radius, voice, gang=gang)),
        steps=(Step(cutter, slug(f"{board.name} {end} fingers"), operations, (Waste("slots", solid),)),),
        corner=corner_of(placement, board.width, thick),
        comments=(
            f"{board.name}: {end} end up, outside face toward you",
            *((f"{gang} boards, one behind the other, each with its outside face toward you",) if gang > 1 else ()),
            "Clamp a backer of waste wood behind the inside face, flush with the end",
        ),
        facts={"end": end, "face": "outside"},
        end=end,
        backer="behind",
    )


def _operations(
    slots: Sequence[Slot], cutter: Cutter, depth: float, thick: float, placement: Placement, voice: Voice
) -> tuple[Operation, ...]:
    """Slots cleared level by level and finished at the full depth, in from the outside face, one after the other."""
    # Places in a gap are (e, t) = (depth from the outside face, board y); the matrix takes (board y, depth).
    (a, b, c), (d, e, f) = placement
    mouth = Mouth(((b, a, c), (e, d, f)))

    def gap(slot: Slot) -> Gap:
        low, high = Wall(Line(slot.low), slot.open_low), Wall(Line(slot.high), slot.open_high)
        return through_gap(low, high, cutter.radius, thick, cover=cutter.radius, lead=LEAD, over=OVER)

    gaps = [gap(slot) for slot in slots]
    levels = even_levels(depth, cutter.feeds.depth_per_pass)
    runs = []
    for each in gaps:
        passes = lane_passes(each.inset(ALLOWANCE), cutter, mouth, levels, STEP * cutter.bit.diameter)
        runs.append(clearing_run(passes, cutter, mouth, then=partial(along_walls, gap=each, rises=True)))
    note = "In from the outside face, and back the same way; then each cheek in one pass of the full depth."
    return (operation("cut the slots", cutter, runs, note),)


def _from_corner(part: Part, placement: Placement) -> np.ndarray:
    """3×4: from the corner frame (s, u, v), see `fit`, to a file with that placement."""
    frame = np.zeros((4, 4))
    frame[0, 0] = frame[3, 3] = 1.0
    along, deep = (1, 2) if part == "a" else (2, 1)
    frame[1, deep] = 1.0
    frame[2, along] = -1.0
    plane = np.eye(3, 4)
    plane[:2, [0, 1, 3]] = np.asarray(placement, float)
    return np.asarray(plane @ frame)
