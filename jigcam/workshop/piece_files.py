"""The files of a whole piece beside those of its joints: how it goes together, its pictures, and its cut list.

A job is a whole piece where several plans make it and at least `LEAST` boards hang together by their joints. A job of
one joint, or of one sheet that several share, is told by its own files.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from jigcam.characters import one_line
from jigcam.making.made_file import MadeFile
from jigcam.piece.cut_list_text import cut_list_csv, cut_list_lines
from jigcam.piece.scene import bodies_of, piece_cuts, piece_drawings
from jigcam.workshop.piece_account import PieceAccount

if TYPE_CHECKING:
    from jigcam.drawing.paper import HomePaper
    from jigcam.job import Job
    from jigcam.making.built import Built

LEAST: Final = 3
WIDTH: Final = 100
"""Columns of texts as they are written to files."""


def piece_files(built: Built, paper: HomePaper | None = None) -> Iterator[MadeFile]:
    """The files, in the order of the manifest; none where the job is no whole piece. paper: to print drawings on."""
    job = built.job
    if len(built.joints) < 2:
        return
    account = PieceAccount.of(job)
    if max((len(part.placed) for part in account.parts), default=0) < LEAST:
        return
    from jigcam.drawing.renderers import RENDERERS

    # Of no one joint.
    facts: dict[str, Any] = {"joint": "", "joints": [name for joint in built.joints for name in joint.joints]}
    bodies = bodies_of(taken for joint in built.joints for taken in joint.taken)
    setups = {name: joint.plan.setups for joint in built.joints for name in joint.joints}
    cuts = piece_cuts(job, bodies, account.piece, setups)
    folder = _folder(job)
    texts = {
        "assembly.txt": account.lines(WIDTH),
        "cut-list.txt": [job.title, "", *cut_list_lines(cuts, WIDTH)],
    }
    for name, lines in texts.items():
        yield MadeFile(f"{folder}/{name}", "sheet", ("\n".join(map(one_line, lines)) + "\n").encode(), facts)
    yield MadeFile(f"{folder}/cut-list.csv", "sheet", cut_list_csv(cuts).encode(), facts)
    drawings = piece_drawings(job, bodies, account.parts)
    for renderer in RENDERERS:
        for name, content in renderer.files(drawings, paper):
            yield MadeFile(f"{folder}/{name}", renderer.kind, content, facts)


def _folder(job: Job) -> str:
    """Where they are: a joint that is called so keeps its own."""
    name = "piece"
    while name in job.folders.values():
        name += "-whole"
    return name
