"""The files of a whole piece beside those of its joints: how it goes together, its pictures, and its cut list.

A job is a whole piece where several plans make it and at least `LEAST` boards hang together by their joints. A job of
one joint, or of one sheet that several share, is told by its own files.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from jigcam.characters import one_line
from jigcam.making.made_file import MadeFile
from jigcam.wood.seasons import Seasons
from jigcam.workshop.piece_account import PieceAccount

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import HomePaper
    from jigcam.job import Job
    from jigcam.making.built import Built
    from jigcam.piece.scene import Bodies

LEAST: Final = 3
WIDTH: Final = 100
"""Columns of texts as they are written to files."""


@dataclass(frozen=True)
class PieceTold:
    """What there is to tell of a whole piece. assembly, cut_list: lines; csv: the cut list; drawings: by stem.
    account, bodies: what it is all told from."""

    assembly: tuple[str, ...]
    cut_list: tuple[str, ...]
    csv: str
    drawings: Mapping[str, Drawing]
    account: PieceAccount
    bodies: Bodies


def piece_told(built: Built) -> PieceTold | None:
    """The whole piece; None where the job is none."""
    job = built.job
    account = PieceAccount.of(job) if len(built.joints) > 1 else None
    if account is None or not is_whole(account):
        return None
    from jigcam.piece.cut_list_text import cut_list_csv, cut_list_lines
    from jigcam.piece.scene import bodies_of, piece_cuts, piece_drawings

    bodies = bodies_of(taken for joint in built.joints for taken in joint.taken)
    by_hand = not any(joint.plan.setups for joint in built.joints)
    cuts = piece_cuts(job, account.piece, built.order, Seasons.of(job, built.kit))
    return PieceTold(
        tuple(account.lines(WIDTH, sound=True)),  # what is built goes together: see `build_job`
        tuple(cut_list_lines(cuts, WIDTH, kit=built.kit.name, by_hand=by_hand)),
        cut_list_csv(cuts),
        piece_drawings(job, bodies, account.parts),
        account,
        bodies,
    )


def is_whole(account: PieceAccount) -> bool:
    """Whether enough boards hang together to be a piece, and not only a joint of two."""
    return max((len(part.placed) for part in account.parts), default=0) >= LEAST


def of_no_joint(built: Built) -> dict[str, Any]:
    """For the manifest: what belongs to no one joint."""
    return {"joint": "", "joints": [name for joint in built.joints for name in joint.joints]}


def piece_files(built: Built, told: PieceTold | None, paper: HomePaper | None = None) -> Iterator[MadeFile]:
    """The files, in the order of the manifest; none where the job is no whole piece. paper: to print drawings on."""
    if told is None:
        return
    from jigcam.drawing.renderers import RENDERERS

    facts, folder = of_no_joint(built), _folder(built.job)
    texts = {"assembly.txt": told.assembly, "cut-list.txt": (built.job.title, "", *told.cut_list)}
    for name, lines in texts.items():
        yield MadeFile(f"{folder}/{name}", "sheet", ("\n".join(map(one_line, lines)) + "\n").encode(), facts)
    yield MadeFile(f"{folder}/cut-list.csv", "sheet", told.csv.encode(), facts)
    for renderer in RENDERERS:
        for name, content in renderer.files(told.drawings, paper):
            yield MadeFile(f"{folder}/{name}", renderer.kind, content, facts)


def _folder(job: Job) -> str:
    """Where they are: a joint that is called so keeps its own."""
    name = "piece"
    while name in job.folders.values():
        name += "-whole"
    return name
