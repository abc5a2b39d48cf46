"""The work on one joint: its files in the making, its drawings and words, and how the files are judged together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from jigcam.findings import Finding

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.proof import Corner, Proof
    from jigcam.workshop.cutfile import CutFile

Progress = Callable[[str, float], None]
"""Called with the name of a step and the share of the whole that is done, 0 to 1."""


@dataclass(frozen=True)
class Chain:
    """What comes of a joint's files taken together: template, ride, cut, mate. mm.

    gouge, left, corners: of the cut in the wood against the drawing, where it is not cut by the files themselves; fit:
    as the manifest tells it.
    """

    gouge: float = 0.0
    left: float = 0.0
    corners: tuple[Corner, ...] = ()
    fit: dict[str, Any] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class JointWork:
    """One joint, planned. folder: of its files in the output. sheet: its part of the setup sheet.

    chain: judges the files together, from their texts alone (by file name). drawings: by the stem of their file's name.
    """

    name: str
    folder: str
    cut_files: tuple[CutFile, ...]
    findings: tuple[Finding, ...]
    sheet: tuple[str, ...]
    drawings: Mapping[str, Drawing]
    chain: Callable[[Mapping[str, str]], Chain]


@dataclass(frozen=True)
class JointProof:
    """The proof of one joint: of every file by itself, and of what they come to together."""

    joint: str
    files: Mapping[str, Proof]
    chain: Chain

    @property
    def gouge(self) -> float:
        """The deepest cut beyond a drawing, mm."""
        return max([proof.gouge_mm for proof in self.files.values()] + [self.chain.gouge])

    @property
    def left(self) -> float:
        """The thickest wood left inside a drawing, corners for the chisel apart, mm."""
        return max([proof.left_mm for proof in self.files.values()] + [self.chain.left])

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Of all files, each with its name, and of the chain."""
        named = [
            Finding(each.level, each.rule, f"{file}, {each.where}" if each.where else file, each.says)
            for file, proof in self.files.items()
            for each in proof.findings
        ]
        return (*named, *self.chain.findings)

    def as_dict(self) -> dict[str, Any]:
        """Its entry in the manifest."""
        corners = [corner for proof in self.files.values() for corner in proof.left_for_chisel]
        corners += self.chain.corners
        return {
            "joint": self.joint,
            "gouge_mm": round(self.gouge, 4),
            "left_mm": round(self.left, 4),
            "left_for_chisel": [corner.as_dict() for corner in corners],
            "fit": self.chain.fit,
            "files": [
                {
                    "file": file,
                    "gouge_mm": round(proof.gouge_mm, 4),
                    "left_mm": round(proof.left_mm, 4),
                    "motions": proof.motions,
                    "loads": proof.loads,
                }
                for file, proof in self.files.items()
            ],
        }
