"""A file on disk, as made or as edited by hand, compared with its job."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any

from jigcam.document.source import read_bounded
from jigcam.errors import InputError
from jigcam.findings import Finding, Level, by_gravity, stops
from jigcam.making.dry_run import is_dry_run, rehearsed
from jigcam.making.header import file_named_in
from jigcam.making.made_joint import MadeJoint, Progress
from jigcam.making.plan import Outcome
from jigcam.piece import MadeTexts, as_cut
from jigcam.proof import Proof, prove
from jigcam.toolpath.rehearsal import DRY_RUN
from jigcam.values import dataclass
from jigcam.workshop.build import PlannedJob, planned_job

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile

MOST = 64 * 1024 * 1024
"""Bytes of the largest file that is read."""


@dataclass(frozen=True)
class FileProof:
    """What a file on disk comes to. file: the output file that it was taken for; taken: what is to be said of that.
    together: of several joints in one board.
    """

    file: GcodeFile
    proof: Proof
    outcome: Outcome
    taken: tuple[Finding, ...] = ()
    together: tuple[Finding, ...] = ()

    @property
    def proved(self) -> bool:
        """Whether nothing refuses it."""
        return not stops(self.findings)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Of the file, of what comes of it, and of its joint among others in one board, gravest first."""
        return tuple(by_gravity([*self.taken, *self.proof.findings, *self.outcome.findings, *self.together]))

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {
            "file": self.file.file,
            "joint": self.file.joint,
            **({"joints": list(self.outcome.parts)} if self.outcome.parts else {}),
            "hand": self.file.hand,
            "setup": self.file.setup.clamping,
            **self.proof.as_dict(),
            "gouge_mm": round(max(self.proof.gouge_mm, self.outcome.gouge), 4),
            "left_mm": round(max(self.proof.left_mm, self.outcome.left), 4),
            "fit": self.outcome.fit_dict(),
            "findings": [finding.as_dict() for finding in self.findings],
        }


def read_text(path: Path) -> str:
    """The text of a G-code file; bytes outside ASCII come through as they are, for the reader to judge.

    Raises InputError for a file that is not there, is no regular file, cannot be read or is too large.
    """
    return read_bounded(path, MOST, "a G-code file").decode("latin-1")


def prove_file(path: Path, job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> FileProof:
    """Reads a file and proves it against the drawing of the output file that it says it is, or is named like.

    joint: only its files are meant; a file that says it is another is then cautioned about and not refused. Raises
    InputError where it cannot be told which file is meant, and `Refused` where the job itself is refused.
    """
    text = read_text(path)
    planned = planned_job(job, kit, joint, progress)
    made, file, taken = _file_meant(path, text, planned.joints, asked=joint is not None)
    target = replace(file.target, asked=joint is not None)
    proof = prove(text, target, kit.the_machine, file.tools, units=job.units, progress=progress)
    texts = {each.file: text if each is file else each.text for each in made.files}
    outcome = made.judged(texts)
    together = _together(planned, MadeTexts(made, texts, outcome), file)
    return FileProof(file, proof, outcome, taken, together)


def _together(planned: PlannedJob, edited: MadeTexts, file: GcodeFile) -> tuple[Finding, ...]:
    """What there is to say of the file's joint and others in its board; the others as their own files cut them."""
    name = edited.made.name
    piece = replace(planned.piece, only=frozenset(edited.made.joints))
    near = {other for pair in piece.pairs for other in (pair.a.taken.joint, pair.b.taken.joint)}
    others = [each for each in planned.joints if near & set(each.joints) and each.name != name]
    texts = [MadeTexts(each, each.texts, _ridden(each)) for each in others]
    cut = as_cut(piece, [edited, *texts])
    told = [*piece.as_drawn, *(each for each in cut if each.hand == file.hand or file.setup.clamping == "template")]
    return tuple(each.finding for each in told)


def _ridden(made: MadeJoint) -> Outcome:
    """What comes of a joint's own files, as far as templates stand for them; nothing where all cut the board itself."""
    by_template = any(setup.clamping == "template" for setup in made.plan.setups)
    return made.judged(made.texts) if by_template else Outcome()


def _file_meant(
    path: Path, text: str, joints: tuple[MadeJoint, ...], *, asked: bool
) -> tuple[MadeJoint, GcodeFile, tuple[Finding, ...]]:
    """The planned file that a text stands for: by what its comments say, else by its path, else the only one.

    With a finding where its comments and its name disagree: asked: a caution then, as the joint was named.
    """
    if is_dry_run(text):
        raise InputError(
            "a dry run cuts nothing, so there is nothing to compare with the job",
            where=str(path),
            found=f"its comment ({DRY_RUN} ...)",
            wanted="the file that it rehearses",
            mend=f"prove {rehearsed(path.name)}: the dry run has its moves, lifted above the stock",
        )
    planned = [(joint, file) for joint in joints for file in joint.files]
    named = file_named_in(text)
    by_words = next((pair for pair in planned if pair[1].file == named), None)
    by_path = next((pair for pair in planned if pair[1].file == PurePosixPath(*path.parts[-2:]).as_posix()), None)
    same_name = [pair for pair in planned if PurePosixPath(pair[1].file).name == path.name]
    by_name = by_path or (same_name[0] if len(same_name) == 1 else None)
    if named and by_words is None and not asked:
        raise InputError(
            "the file says that it is none of this job's files",
            where=str(path),
            found=f"(file: {named})",
            wanted="one of " + ", ".join(file.file for _, file in planned),
            mend="give the job that it was made from; --joint NAME judges it as that joint's all the same",
        )
    if by_words is not None and by_name is not None and by_name[1] is not by_words[1]:
        says = f"its comments say that it is {named}; its name is that of {by_name[1].file}"
        level: Level = "caution" if asked else "stop"
        return *by_words, (Finding(level, "another-name", str(path), says),)
    for pair in (by_words, by_name):
        if pair is not None:
            return *pair, ()
    if len(planned) == 1:
        return *planned[0], ()
    raise InputError(
        "it is not clear which of the job's files this is",
        where=str(path),
        found=repr(named) if named else "no (file: ...) comment",
        wanted="one of " + ", ".join(file.file for _, file in planned),
        mend="name it like one of these, folder included, or put a comment such as "
        f"(file: {planned[0][1].file}) into its first lines"
        if planned
        else "",
    )
