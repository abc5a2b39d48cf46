"""The files of a whole piece beside those of its joints: its pictures, and the list by which its wood is bought and cut.

A job is a whole piece where several plans make it. A job of one joint, or of one sheet that several share, is told by its
own files.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from jigcam.characters import one_line
from jigcam.making.made_file import MadeFile
from jigcam.piece.cut_list_text import cut_list_csv, cut_list_lines
from jigcam.piece.scene import bodies_of, piece_cuts

if TYPE_CHECKING:
    from jigcam.making.built import Built

SHEET_WIDTH: Final = 100
"""Columns of the list as it is printed."""
FACTS: Final = {"joint": ""}


def piece_files(built: Built) -> Iterator[MadeFile]:
    """The files, in the order of the manifest; none where the job is no whole piece."""
    if len(built.joints) < 2:
        return
    bodies = bodies_of(taken for joint in built.joints for taken in joint.taken)
    setups = [setup for joint in built.joints for setup in joint.plan.setups]
    cuts = piece_cuts(built.job, bodies, (), setups)
    text = "\n".join(map(one_line, [built.job.title, "", *cut_list_lines(cuts, SHEET_WIDTH)])) + "\n"
    yield MadeFile("cut-list.txt", "sheet", text.encode())
    yield MadeFile("cut-list.csv", "sheet", cut_list_csv(cuts).encode())
