"""A whole job made in memory: every joint planned, every file written to text, read back and proved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigcam.errors import Refused
from jigcam.findings import Finding, by_gravity, stops
from jigcam.joints import Groove, Key, build
from jigcam.joints.through_dovetail import ThroughDovetail
from jigcam.proof import prove
from jigcam.workshop.work import JointProof, JointWork, Progress

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.units import Unit
    from jigcam.workshop.cutfile import CutFile


@dataclass(frozen=True)
class Built:
    """A job whose joints are planned and proved; nothing of it refuses."""

    job: Job
    kit: Kit
    works: tuple[JointWork, ...]
    proofs: tuple[JointProof, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All of them, gravest first."""
        return tuple(
            by_gravity(
                f for pair in zip(self.works, self.proofs, strict=True) for f in (*pair[0].findings, *pair[1].findings)
            )
        )

    @property
    def cut_files(self) -> tuple[CutFile, ...]:
        """The G-code files of all joints."""
        return tuple(file for work in self.works for file in work.cut_files)


def plan_joint(entry: Entry, job: Job, kit: Kit) -> JointWork:
    """The work on one joint, planned and written to text but not proved. Raises `Refused`."""
    joint = build(entry, job)
    if stops(joint.findings):
        raise Refused(f"{entry.name} cannot be cut as drawn", joint.findings)
    if isinstance(joint, ThroughDovetail):
        from jigcam.workshop.dovetail_work import dovetail_work

        return dovetail_work(joint, job, kit)
    if isinstance(joint, Key):
        from jigcam.workshop.bench_key import key_work

        return key_work(joint, entry, job, kit)
    assert isinstance(joint, Groove)
    if entry.way == "template":
        from jigcam.workshop.template_work import template_work

        return template_work(joint, entry, job, kit)
    from jigcam.workshop.direct_work import direct_work

    return direct_work(joint, entry, job, kit)


def plan_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> tuple[JointWork, ...]:
    """All joints, or the one named, planned. Raises `Refused` with the findings of all that are refused; InputError."""
    tell = progress or (lambda step, share: None)
    entries = job.joints if joint is None else (job.joint(joint),)
    works: list[JointWork] = []
    refusals: list[Refused] = []
    for number, entry in enumerate(entries):
        tell(f"plan of joint {number + 1} of {len(entries)}", number / len(entries))
        try:
            works.append(plan_joint(entry, job, kit))
        except Refused as refused:
            refusals.append(refused)
    if refusals:
        findings = [f for each in refusals for f in each.findings] + [f for work in works for f in work.findings]
        raise Refused("; ".join(dict.fromkeys(each.what for each in refusals)), by_gravity(findings))
    return tuple(works)


def prove_joint(
    work: JointWork, kit: Kit, texts: Mapping[str, str], progress: Progress | None = None, *, units: Unit = "mm"
) -> JointProof:
    """Judges the texts of a joint's files, by file name: each against its drawing, and all together.

    units: of the job, in which findings speak.
    """
    proofs = {
        file.file: prove(texts[file.file], file.target, kit.machine, file.tools, units=units, progress=progress)
        for file in work.cut_files
    }
    return JointProof(work.name, proofs, work.chain(texts))


def build_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> Built:
    """Plans and proves a job. Raises `Refused` where a finding of a rule or of the proof stops it; InputError."""
    works = plan_job(job, kit, joint, progress)
    proofs = tuple(
        prove_joint(work, kit, {file.file: file.text for file in work.cut_files}, progress, units=job.units)
        for work in works
    )
    built = Built(job, kit, works, proofs)
    if stops(built.findings):
        raise Refused("the proof found faults; nothing was written", built.findings)
    return built


def summary(built: Built) -> dict[str, Any]:
    """What `--json` prints of a built job beside its files."""
    return {
        "job": built.job.title,
        "kit": built.kit.name,
        "units": built.job.units,
        "findings": [finding.as_dict() for finding in built.findings],
        "proof": [proof.as_dict() for proof in built.proofs],
    }
