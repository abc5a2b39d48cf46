"""A joint with its files in memory, and what the proof says of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from jigcam.findings import Finding
from jigcam.gcode import read, write
from jigcam.making.gcode_file import GcodeFile
from jigcam.making.header import header
from jigcam.making.programs import place_cautions, programs, slender
from jigcam.making.target import target
from jigcam.proof import Corner, Proof, prove
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.making.kind import Joint
    from jigcam.making.plan import Outcome, Plan
    from jigcam.wood import Taken

Progress = Callable[[str, float], None]
"""Called with the name of a step and the share of the whole that is done, 0 to 1."""


@dataclass(frozen=True)
class MadeJoint:
    """One joint, planned and written to text. folder: of its files in the output. findings: of plan and setups.

    taken: the wood that it takes from its boards.
    """

    plan: Plan
    folder: str
    files: tuple[GcodeFile, ...]
    findings: tuple[Finding, ...]
    taken: tuple[Taken, ...] = ()

    @property
    def name(self) -> str:
        """The joint's, or that of the sheet that several share."""
        return self.plan.name

    @property
    def joints(self) -> tuple[str, ...]:
        """The joints that it makes."""
        return self.plan.joints

    @property
    def facts(self) -> dict[str, Any]:
        """For the manifest: what its files belong to."""
        return {"joint": self.name, **({"joints": list(self.joints)} if len(self.joints) > 1 else {})}

    @property
    def texts(self) -> dict[str, str]:
        """Its files as they were written, by name."""
        return {file.file: file.text for file in self.files}

    def judged(self, texts: Mapping[str, str]) -> Outcome:
        """Its files judged together, from their texts alone."""
        return self.plan.judged(self.files, texts)

    def proved(self, texts: Mapping[str, str], progress: Progress | None = None) -> JointProof:
        """Judges the texts of its files, by file name: each against its drawing, and all together."""
        kit = self.plan.kit
        proofs = {
            file.file: prove(
                texts[file.file],
                file.target,
                kit.the_machine,
                file.tools,
                units=self.plan.voice.units,
                progress=progress,
            )
            for file in self.files
        }
        return JointProof(self.name, proofs, self.judged(texts))


def made_joint(plan: Plan, job: Job, folder: str | None = None, *, joint: Joint | None = None) -> MadeJoint:
    """Writes the files of a plan. folder: of its files in the output; None: the one that the job gives the joint.

    joint: as drawn, where its place among others on its boards is asked for. Raises `Refused` where that cannot be cut.
    """
    folder = job.folders[plan.name] if folder is None else folder
    findings = list(plan.findings)
    for setup in plan.setups:
        findings += [*slender(setup, plan.voice), *place_cautions(setup, plan.kit.the_machine, plan.voice)]
    findings = list(dict.fromkeys(findings))
    files: list[GcodeFile] = []
    for setup in plan.setups:
        machine = plan.kit.the_machine
        for program, steps in programs(setup, machine):
            number = f"{len(files) + 1:02d}-" if plan.numbered else ""
            name = f"{folder}/{number}{steps[-1].file}.nc"
            head = header(plan.kit, job.title, name, plan.joints, setup, program, findings)
            text = write(program, machine, header=head)
            # Its comments are what the proof holds any file to that is taken for this one.
            told = tuple(comment.text for comment in read(text).comments)
            drawing = replace(target(setup, steps, machine, job.keep_out), told=told)
            several = plan.joints if len(plan.joints) > 1 else ()
            files.append(GcodeFile(name, plan.name, setup, steps, program, drawing, text, several))
    taken = plan.redrawn if plan.redrawn is not None else joint.taken() if joint is not None else ()
    return MadeJoint(plan, folder, tuple(files), tuple(findings), taken)


@dataclass(frozen=True)
class JointProof:
    """The proof of one joint: of every file by itself, and of what they come to together.

    A joint without files, made by hand, has nothing that could be cut virtually: see `by_hand`.
    """

    joint: str
    files: Mapping[str, Proof]
    outcome: Outcome

    @property
    def by_hand(self) -> bool:
        """Whether no file cuts anything of it: nothing is measured, and no fit is known."""
        return not self.files

    def each(self) -> tuple[JointProof, ...]:
        """Of every joint by itself, where the files make several."""
        parts = self.outcome.parts
        return tuple(JointProof(name, self.files, part) for name, part in parts.items()) if parts else (self,)

    @property
    def gouge(self) -> float:
        """The deepest cut beyond a drawing, mm."""
        return max([proof.gouge_mm for proof in self.files.values()] + [self.outcome.gouge])

    @property
    def left(self) -> float:
        """The thickest wood left inside a drawing, corners for the chisel apart, mm."""
        return max([proof.left_mm for proof in self.files.values()] + [self.outcome.left])

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Of all files, each with its name, and of what they come to together."""
        named = [
            Finding(each.level, each.rule, f"{file}, {each.where}" if each.where else file, each.says)
            for file, proof in self.files.items()
            for each in proof.findings
        ]
        return (*named, *self.outcome.findings)

    @property
    def corners(self) -> tuple[Corner, ...]:
        """Left for the chisel, by any file, or by what they come to together."""
        return (*(corner for proof in self.files.values() for corner in proof.left_for_chisel), *self.outcome.corners)

    def as_dict(self) -> dict[str, Any]:
        """Its entry in the manifest."""
        return {
            "joint": self.joint,
            "gouge_mm": round(self.gouge, 4),
            "left_mm": round(self.left, 4),
            "left_for_chisel": [corner.as_dict() for corner in self.corners],
            "fit": self.outcome.fit_dict(),
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
