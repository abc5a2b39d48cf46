"""What the command line does, for programs in Python: a job made with a kit, and a file proved against its job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigcam.job import Job, kit_for
from jigcam.kit import Kit
from jigcam.workshop.build import build_job
from jigcam.workshop.contents import Asked, folder_content
from jigcam.workshop.folder import check_folder, write_folder
from jigcam.workshop.loading import load_job
from jigcam.workshop.prove_file import FileProof, prove_file

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import HomePaper
    from jigcam.findings import Finding
    from jigcam.making.built import Built
    from jigcam.making.made_joint import Progress


@dataclass(frozen=True)
class Made:
    """A job whose files are made and proved.

    built: its joints, plans and proofs. files: by their path in the output folder, the bytes of each, `manifest.json`
    too. manifest: what that file says, lengths in mm, angles in degrees. folder: where they were written; None if they
    are in memory only.
    """

    built: Built
    files: Mapping[str, bytes]
    manifest: Mapping[str, Any]
    folder: Path | None = None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Cautions and notes, gravest first; one of level stop would have refused the job."""
        return self.built.findings

    @property
    def drawings(self) -> dict[str, Drawing]:
        """Each drawing by its path in the output folder, without suffix. A notebook shows it as a picture."""
        return {
            f"{joint.folder}/{stem}": drawing
            for joint in self.built.joints
            for stem, drawing in joint.plan.drawings().items()
        }

    def text(self, file: str) -> str:
        """A text file of it: G-code, a setup sheet, a picture for the terminal. Raises KeyError if there is none."""
        return self.files[file].decode()


def make(
    job: Job | str | Path,
    kit: Kit | str | Path | None = None,
    folder: str | Path | None = None,
    *,
    joint: str | None = None,
    replace: bool = False,
    discard_edits: bool = False,
    paper: HomePaper | None = None,
    plan: bool = False,
    page: bool = False,
    progress: Progress | None = None,
) -> Made:
    """Make and prove all files of a job, and write them, all or none, where a folder is given.

    job: a job, or the path of its file. kit: a kit, the name of a shipped one or the path of a kit file; None: the one
    that the job names. folder: a new one; an existing one only with `replace`, and with changes made to its files by
    hand only with `discard_edits`. joint: the name of the only one that is wanted. paper: "letter" or "a4", to print
    the drawings on in true size, and the setup sheets. plan: whether plan.pdf is wanted, on that paper or the kit's.
    page: whether to make the page that plays the cut. progress: called with the name of a step and the share that is
    done.

    Raises InputError or Faults for a job or kit that is wrong, `Refused` with the findings that refuse it, OutputError
    for a folder that cannot be written. In all these cases no file is written.
    """
    place = None if folder is None else Path(folder)
    seen = None if place is None else check_folder(place, replace=replace, discard_edits=discard_edits)
    loaded = _job(job)
    built = build_job(loaded, kit_for(loaded, kit), joint, progress)
    named = str(kit) if isinstance(kit, str | Path) else None
    files, manifest = folder_content(built, Asked(paper, plan, joint, page, named), progress)
    if place is not None:
        write_folder(place, files, replace=replace, discard_edits=discard_edits, seen=seen)
    return Made(built, files, manifest, place)


def prove(
    file: str | Path,
    job: Job | str | Path,
    kit: Kit | str | Path | None = None,
    *,
    joint: str | None = None,
    progress: Progress | None = None,
) -> FileProof:
    """Read a G-code file back, as made or as edited by hand, cut it virtually and compare it with its job.

    file: its path. job, kit, joint, progress: as for `make`. The answer has `findings`, and is `proved` where none of
    them stops. Raises InputError or Faults for what cannot be read, `Refused` where the job itself is refused.
    """
    loaded = _job(job)
    return prove_file(Path(file), loaded, kit_for(loaded, kit), joint, progress)


def _job(job: Job | str | Path) -> Job:
    return job if isinstance(job, Job) else load_job(Path(job))
