"""The names of a job's own files in the commands that a sheet tells of: whoever reads it types them as they stand."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from shlex import quote
from typing import TYPE_CHECKING, Final

from jigcam.kit import profiles_folder
from jigcam.making.blocks import Block, Points, Rows

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit

COPY: Final = "MY-COPY-OF-THE-KIT.toml"
"""What a shipped kit is called where it would have to be written to."""
_PLACE = re.compile(r"(?<=[ `])(JOB|KIT)\b")


def own_kit(kit: Kit) -> bool:
    """Whether a kit is a file of its maker's, which can be written to, and none of the shipped ones."""
    return kit.path is not None and kit.path.parent.resolve() != profiles_folder().resolve()


def with_file_names(blocks: Iterable[Block], job: Job, kit: Kit) -> tuple[Block, ...]:
    """The blocks with the files' names in commands of jigcam where they have JOB and KIT, which stay for what was made
    without a file.

    Names are without their folders, as the sheet goes where the files are not.
    """
    named_by = (("JOB", job.path), ("KIT", kit.path))
    names = {word: quote(path.name) for word, path in named_by if path is not None}

    def named(text: str) -> str:
        if "jigcam " not in text or not _PLACE.search(text):
            return text  # as it is, be it more than a str
        return _PLACE.sub(lambda found: names.get(found[1], found[1]), text)

    made: list[Block] = []
    for block in blocks:
        if isinstance(block, Points):
            made.append(replace(block, sentences=tuple(map(named, block.sentences))))
        elif isinstance(block, Rows):
            made.append(replace(block, rows=tuple((name, named(value)) for name, value in block.rows)))
        else:
            made.append(block)
    return tuple(made)
