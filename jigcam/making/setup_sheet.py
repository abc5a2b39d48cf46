"""The setup sheet: what a maker takes to the machine and to the bench; text, pages and HTML are renderings of it.

One clamping after the other, each with its own files and with everything that belongs to it; nothing is merged across
files, and each thing is said once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from jigcam import __version__
from jigcam.findings import by_gravity
from jigcam.making.block_text import text_lines
from jigcam.making.blocks import Block, Heading, Rows, Sentence, section
from jigcam.making.cautions import cautions
from jigcam.making.file_names import with_file_names
from jigcam.making.trial import TRIAL, board_trial, hand_trial
from jigcam.making.words import setup_words
from jigcam.making.work_words import order_words, time_words
from jigcam.units import counted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.findings import Finding
    from jigcam.making.built import Built
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.made_joint import JointProof, MadeJoint
    from jigcam.making.plan import Plan
    from jigcam.making.setup import Setup
    from jigcam.units import Voice

UNPROVED = "made by hand, without a file: nothing was cut virtually, and its fit was not measured"
"""Of a joint that has no files."""


CORNER_STEPS = ("Left for the chisel", "Round the tails")
"""Titles of the steps at the bench in which corners are seen to."""
Topic = Literal["joint", "trial", "clamping", "time", "bench", "proof", "watch", "why", "safety"]


@dataclass(frozen=True)
class Part:
    """What belongs together on a sheet. setup: of a clamping, with its files."""

    topic: Topic
    blocks: tuple[Block, ...]
    setup: Setup | None = None
    files: tuple[GcodeFile, ...] = ()


@dataclass(frozen=True)
class SetupSheet:
    """All that is said about the making of one joint, or of one sheet for several, in the order of the work.

    name: of what is made; title: of the sheet; made: with which kit, and by what.
    """

    name: str
    title: str
    made: str
    parts: tuple[Part, ...]

    def lines(self) -> list[str]:
        """As plain text."""
        return [self.title, self.made, *(line for part in self.parts for line in text_lines(part.blocks))]


def setup_sheet(joint: MadeJoint, proof: JointProof, built: Built) -> list[str]:
    """All lines of one joint's sheet."""
    return sheet_of(joint, proof, built).lines()


def sheet_of(joint: MadeJoint, proof: JointProof, built: Built) -> SetupSheet:
    """One joint's sheet."""
    job, kit, plan = built.job, built.kit, joint.plan
    parts = [Part("joint", (*order_words(joint.name, built), *_joint_words(joint, built)))]
    findings = by_gravity([*joint.findings, *proof.findings, *built.together_of(joint.name, *joint.joints)])
    said = [f"{f.level}: {f.says}" for f in findings if f.level != "note"]
    boards = [setup for setup in plan.setups if setup.clamping != "template"]
    if said:  # before the cut that it is about
        parts.append(Part("watch", tuple(section("Watch", said))))
    left = any(finding.rule == "corners-left" for finding in joint.findings)
    corners = _corner_steps(plan.bench_words(len(plan.setups) + 1)) if left else ""
    if not plan.setups and not plan.templates:
        parts.append(Part("trial", tuple(section(TRIAL, hand_trial()))))
    for number, setup in enumerate(plan.setups, start=1):
        if boards and setup is boards[0]:
            parts.append(Part("trial", tuple(section(TRIAL, board_trial(boards, corners=corners)))))
        files = tuple(file for file in joint.files if file.setup is setup)
        parts.append(Part("clamping", tuple(setup_words(number, setup, files, kit, job.voice)), setup, files))
    if says := time_words(joint.files, built):
        parts.append(Part("time", (Sentence(says),)))
    notes = _notes(plan, [f for f in findings if f.level == "note" and f.rule not in plan.said])
    proved = "Proof" if proof.by_hand else "Proof: the files were read back and cut virtually"
    safety = cautions(
        machine=bool(plan.setups),
        hand=plan.guided or bool(plan.templates),
        units=job.units,
        edge_tools=not plan.setups,
        routed=plan.routed,
    )
    ending: tuple[tuple[Topic, Sequence[Block]], ...] = (
        ("bench", plan.bench_words(len(plan.setups) + 1)),
        ("proof", section(proved, proof_lines(proof, job.voice))),
        ("why", section("Why so", [*notes, *_feeds(joint)])),
        ("safety", section("Safety", safety)),
    )
    parts += [Part(topic, tuple(blocks)) for topic, blocks in ending if blocks]
    parts = [replace(part, blocks=with_file_names(part.blocks, job, kit)) for part in parts]
    return SetupSheet(
        joint.name,
        f"SETUP SHEET - {job.title}: {joint.name}",
        f"kit: {kit.name}; written by jigcam {__version__}",
        tuple(parts),
    )


def _corner_steps(blocks: Sequence[Block]) -> str:
    """The steps at the bench that corners left by bits are seen to in, by number and title."""
    titles = [each.text for each in blocks if isinstance(each, Heading) and each.text.endswith(CORNER_STEPS)]
    return " and ".join(f"step {title.replace('. ', ', ', 1)}" for title in titles) or "the steps at the bench"


def _joint_words(joint: MadeJoint, built: Built) -> tuple[Block, ...]:
    """The joint, with the boards that it is cut in where they are several."""
    *blocks, last = joint.plan.joint_words()
    boards = next((built.boards[name] for name in joint.joints if name in built.boards), ())
    if boards and isinstance(last, Rows):
        each = "every file is run" if joint.files else "every step is done"
        mirrored = ", and is the same in the mirrored one" if any("opposite hand" in name for name in boards) else ""
        last = Rows((*last.rows, ("boards", f"{' and '.join(boards)}: {each} for each of them{mirrored}")))
    return *blocks, last


def _notes(plan: Plan, notes: Sequence[Finding]) -> list[str]:
    """What notes say; where the plan makes several joints, with the names of those that each is about."""
    if len(plan.joints) == 1:
        return [each.says for each in notes]
    about: dict[str, list[str]] = {}
    for each in notes:
        about.setdefault(each.says, []).append(each.where)
    return [f"{', '.join(dict.fromkeys(where))}: {says}" for says, where in about.items()]


def _feeds(joint: MadeJoint) -> list[str]:
    """Why each bit is run as it is, once for each way in which it is run."""
    why: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for setup in joint.plan.setups:
        for cutter in setup.cutters:
            why.setdefault((cutter.bit.name, cutter.feeds.reasons), []).append(
                "the template" if setup.clamping == "template" else setup.board
            )
    return [
        line
        for (bit, reasons), boards in why.items()
        for line in (f"{bit} in {' and '.join(dict.fromkeys(boards))}:", *(f"  {reason}" for reason in reasons))
    ]


def proof_lines(proof: JointProof, voice: Voice) -> list[str]:
    """What the virtual cut came to."""
    if proof.by_hand:
        return [UNPROVED]
    lines = [
        f"nothing is cut more than {voice.at_most(proof.gouge)} beyond the drawing",
        f"nothing more than {voice.at_most(proof.left)} is left inside it, corners for the chisel apart",
        *proof.outcome.fit_lines(voice),
    ]
    if proof.corners:
        largest = voice.length(max(corner.size for corner in proof.corners))
        size = f", the largest {largest}" if len(proof.corners) > 1 else f", {largest}"
        lines.append(f"{counted(len(proof.corners), 'corner is', 'corners are')} left for the chisel{size}")
    return lines
