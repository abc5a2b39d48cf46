"""A job whose joints are made and proved, before anything of it is on disk."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from jigcam.findings import Finding, by_gravity
from jigcam.making.work_order import WorkOrder
from jigcam.toolpath import seconds

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.made_joint import JointProof, MadeJoint
    from jigcam.making.told import Told


@dataclass(frozen=True)
class Built:
    """A job whose joints are planned and proved; nothing of it refuses.

    together: what there is to say of several joints in one board. boards: by joint, the real boards that it is cut in,
    where the one that it names is there more than once; not of corners, nor of what has a step of its own for the other
    hand, as their sheets say themselves whom they are for. order: of the work; the joints stand in it, as far as their
    sheets are begun in it. runs: by file, for how many boards it is run; once where it says nothing.
    """

    job: Job
    kit: Kit
    joints: tuple[MadeJoint, ...]
    proofs: tuple[JointProof, ...]
    together: tuple[Told, ...] = ()
    boards: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    order: WorkOrder = field(default_factory=WorkOrder)
    runs: Mapping[str, int] = field(default_factory=dict)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All of them, gravest first."""
        pairs = zip(self.joints, self.proofs, strict=True)
        each = [f for joint, proof in pairs for f in (*joint.findings, *proof.findings)]
        return tuple(by_gravity([*each, *(told.finding for told in self.together)]))

    def together_of(self, *names: str) -> tuple[Finding, ...]:
        """What there is to say of a joint, or of those of a sheet, and others in one board."""
        return tuple(told.finding for told in self.together if set(names) & set(told.joints))

    @property
    def gcode_files(self) -> tuple[GcodeFile, ...]:
        """The G-code files of all joints."""
        return tuple(file for joint in self.joints for file in joint.files)

    def seconds(self, files: Iterable[GcodeFile], *, every: bool = False) -> float:
        """How long the machine runs for files: each once, or every time that it is run. None needs a machine
        where there are no files."""
        return sum(
            (self.runs.get(file.file, 1) if every else 1) * seconds(file.program, self.kit.the_machine)
            for file in files
        )

    def as_dict(self) -> dict[str, Any]:
        """What `--json` prints of it beside its files."""
        return {
            "job": self.job.title,
            "kit": self.kit.name,
            "units": self.job.units,
            "findings": [finding.as_dict() for finding in self.findings],
            "proof": [each.as_dict() for proof in self.proofs for each in proof.each()],
        }
