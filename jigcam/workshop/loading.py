"""Reading a job, its sizes that are "to fit" worked out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from jigcam.document import Document
from jigcam.joints import Entries, unknown_kind

if TYPE_CHECKING:
    from jigcam.job import Job


def load_job(path: str | Path) -> Job:
    """The job of a file. Raises InputError if it cannot be read, Faults with everything that is wrong in it.

    A board's length or width that is `"to fit"` follows from the joints; one that does not is a fault.
    """
    return _job_of(Document.read(Path(path)))


def parsed_job(text: str, path: Path) -> Job:
    """The job of the text of a file. Raises as `load_job`."""
    return _job_of(Document.parse(text, path))


def _job_of(document: Document) -> Job:
    from jigcam.job.board import TO_FIT
    from jigcam.job.loading import job_from

    boards = document.data.get("boards")
    # The piece is only put together where somebody asks for what follows from it.
    if isinstance(boards, dict) and any(TO_FIT in each.values() for each in boards.values() if isinstance(each, dict)):
        from jigcam.piece.to_fit import fitted

        return fitted(document)
    return job_from(document, Entries(), unknown_kind)
