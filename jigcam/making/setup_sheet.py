"""The setup sheet: what a maker takes to the machine and to the bench, in plain text.

One clamping after the other, each with its own files and with everything that belongs to it; nothing is merged across
files, and each thing is said once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam import __version__
from jigcam.findings import by_gravity
from jigcam.making.cautions import cautions
from jigcam.making.words import minutes, section, setup_words
from jigcam.toolpath import seconds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.findings import Finding
    from jigcam.making.built import Built
    from jigcam.making.made_joint import JointProof, MadeJoint
    from jigcam.making.plan import Plan
    from jigcam.units import Voice

UNPROVED = "made by hand, without a file: nothing was cut virtually, and its fit was not measured"
"""Of a joint that has no files."""


def setup_sheet(joint: MadeJoint, proof: JointProof, built: Built) -> list[str]:
    """All lines of one joint's sheet."""
    job, kit, plan = built.job, built.kit, joint.plan
    lines = [
        f"SETUP SHEET - {job.title}: {joint.name}",
        f"kit: {kit.name}   written by jigcam {__version__}",
        *plan.joint_words(),
    ]
    for number, setup in enumerate(plan.setups, start=1):
        lines += setup_words(number, setup, [file for file in joint.files if file.setup is setup], kit, job.voice)
    if len(joint.files) > 1:
        total = sum(seconds(file.program, kit.the_machine) for file in joint.files)
        lines += ["", f"All files together run for about {minutes(total)}; clamping and changes of bits come on top."]
    lines += plan.bench_words(len(plan.setups) + 1)
    title = "Proof" if proof.by_hand else "Proof: the files were read back and cut virtually"
    lines += section(title, proof_lines(proof, job.voice))
    findings = by_gravity([*joint.findings, *proof.findings, *built.together_of(joint.name, *joint.joints)])
    said = [f"{f.level}: {f.says}" for f in findings if f.level != "note"]
    notes = _notes(plan, [f for f in findings if f.level == "note" and f.rule not in plan.said])
    lines += section("Watch", said) + section("Why so", [*notes, *_feeds(joint)])
    lines += section("Safety", cautions(machine=bool(plan.setups), hand=plan.guided, edge_tools=not plan.setups))
    return lines


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
        lines.append(f"{len(proof.corners)} corners are left for the chisel, the largest {largest}")
    return lines
