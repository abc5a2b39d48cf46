"""The job file: what is to be cut, on which boards; models, loading, errors with file, line and key."""

from __future__ import annotations

from jigcam.job.board import Board, Face
from jigcam.job.entry import Entry
from jigcam.job.groove import GrooveEntry
from jigcam.job.job import Job
from jigcam.job.key import KeyEntry
from jigcam.job.kinds import KINDS
from jigcam.job.loading import kit_for, load_job
from jigcam.job.slug import slug

__all__ = [
    "KINDS",
    "Board",
    "Entry",
    "Face",
    "GrooveEntry",
    "Job",
    "KeyEntry",
    "kit_for",
    "load_job",
    "slug",
]
