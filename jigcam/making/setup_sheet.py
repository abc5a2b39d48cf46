"""The setup sheet: what a maker takes to the machine and to the bench, in plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam import __version__
from jigcam.findings import by_gravity
from jigcam.making.cautions import cautions
from jigcam.making.words import section

if TYPE_CHECKING:
    from jigcam.making.built import Built
    from jigcam.making.made_joint import JointProof, MadeJoint


def setup_sheet(joint: MadeJoint, proof: JointProof, built: Built) -> list[str]:
    """All lines of one joint's sheet."""
    job, kit = built.job, built.kit
    by_hand = any("guide" in file.setup.facts for file in joint.files)
    lines = [
        f"SETUP SHEET - {job.title}: {joint.name}",
        f"kit: {kit.name}   written by jigcam {__version__}",
        *joint.words(),
        *section("Proof: the files were read back and cut virtually", proof_lines(proof, job.units)),
    ]
    findings = by_gravity([*joint.findings, *proof.findings])
    said = [f"{f.level}: {f.says}" for f in findings if f.level != "note"]
    notes = [f.says for f in findings if f.level == "note"]
    lines += section("Watch", said) + section("Why so", notes)
    lines += section("Safety", cautions(machine=True, hand=by_hand))
    return lines


def proof_lines(proof: JointProof, units: str) -> list[str]:
    """What the virtual cut came to."""
    lines = [
        f"nothing is cut more than {proof.gouge:.3f} mm beyond the drawing",
        f"nothing more than {proof.left:.3f} mm is left inside it, corners for the chisel apart",
    ]
    lines += proof.outcome.fit_lines(units)
    corners = proof.as_dict()["left_for_chisel"]
    if corners:
        largest = max(corner["size_mm"] for corner in corners)
        lines.append(f"{len(corners)} corners are left for the chisel, the largest {largest:.2f} mm")
    return lines
