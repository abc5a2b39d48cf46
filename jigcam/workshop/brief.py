"""A joint's proof in one line, for the screen; the sheet has it in full."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.making.made_joint import JointProof
    from jigcam.units import Voice


def brief_proof(proof: JointProof, voice: Voice) -> str:
    """How near the files as cut come to the drawing, rounded up, what is left for the chisel, and how the mate fits."""
    if proof.by_hand:
        return "by hand: no file, so nothing to prove"
    parts = [f"within {voice.at_most(max(proof.gouge, proof.left))}"]
    if proof.corners:
        largest = voice.at_most(max(corner.size for corner in proof.corners))
        parts.append(f"{len(proof.corners)} corner{'s' * (len(proof.corners) > 1)} for the chisel, up to {largest}")
    fit = proof.outcome.fit
    return "; ".join([*parts, *(fit.brief(voice) if fit is not None else [])])
