"""The job file: what is to be cut, on which boards; models, loading, errors with file, line and key."""

from __future__ import annotations

from jigcam.job.board import Board, Face
from jigcam.job.entry import Entry
from jigcam.job.job import Job
from jigcam.job.loading import kit_for, read_job
from jigcam.job.slug import slug

__all__ = [
    "Board",
    "Entry",
    "Face",
    "Job",
    "kit_for",
    "read_job",
    "slug",
]
