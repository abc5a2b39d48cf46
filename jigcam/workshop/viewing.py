"""What there is to see: drawings of a job's joints, and of what a G-code file does to its stock."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jigcam.job import kit_for
from jigcam.workshop.build import planned_job
from jigcam.workshop.loading import load_job
from jigcam.workshop.piece_account import PieceAccount
from jigcam.workshop.piece_files import is_whole
from jigcam.workshop.piece_shown import PieceShown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.drawing import Drawing, Role
    from jigcam.findings import Finding
    from jigcam.job import Job
    from jigcam.making.made_joint import Progress
    from jigcam.proof.report import Place
    from jigcam.units import Voice

PROVED = 0.7
"""Share of the work that is done when a file is proved, and only its picture is wanting."""


class JobView(NamedTuple):
    """What there is to see of a job, and what there is to say of several joints in one board."""

    drawings: list[Drawing]
    together: list[Finding]


def view_of_job(path: Path, kit: str | None, joint: str | None, progress: Progress | None = None) -> JobView:
    """The whole piece, where the job is one and no joint is asked for, and every drawing of its joints.

    Raises InputError and `Refused`.
    """
    job = load_job(path)
    planned = planned_job(job, kit_for(job, kit), joint, progress)
    drawings = [] if joint is not None or len(planned.joints) < 2 else _of_the_piece(job)
    drawings += [drawing for each in planned.joints for drawing in each.plan.drawings().values()]
    return JobView(drawings, [told.finding for told in planned.piece.as_drawn])


def _of_the_piece(job: Job) -> list[Drawing]:
    """Put together and pulled apart; none where too few boards hang together."""
    account = PieceAccount.of(job)
    return list(PieceShown(account).drawings) if is_whole(account) else []


def drawings_of_file(
    path: Path, job_path: Path | None, kit: str | None, joint: str | None, progress: Progress | None = None
) -> list[Drawing]:
    """The cutter's path of a G-code file; with a job also its stock, its drawing, and where it departs from it.

    Raises InputError for a file that cannot be read, and what `prove_file` raises.
    """
    from jigcam.drawing.scenes import Flaw, scene_program
    from jigcam.drawing.scenes.slice import look, with_slice
    from jigcam.gcode import read
    from jigcam.proof.changes import changed_by_hand
    from jigcam.proof.prove import works_of
    from jigcam.proof.travel import travel_of
    from jigcam.workshop.prove_file import prove_file, read_text

    tell = progress or (lambda step, share: None)
    tell("reading", 0.0)
    reading = read(read_text(path))
    if job_path is None:
        tell("picture", PROVED)
        return [scene_program(reading, units=reading.units or "mm", title=path.name)]
    job = load_job(job_path)
    shop = kit_for(job, kit)
    result = prove_file(path, job, shop, joint, lambda step, share: tell(step, PROVED * share))
    tell("picture", PROVED)
    target, clamping = result.file.target, result.file.setup.clamping
    stock = target.stock
    depth = min([-target.bottom, *(-removal.levels[-1] for removal in target.removals)])
    faults: tuple[tuple[Role, Sequence[Place]], ...] = (("gouge", result.proof.gouges), ("left", result.proof.lefts))
    places = [Flaw(place.x, place.y, _flaw(place.size, job.voice), kind) for kind, some in faults for place in some]
    size = (stock.x1 - stock.x0, stock.y1 - stock.y0, stock.thickness)
    above = scene_program(
        reading,
        stock=size,
        units=job.units,
        title=f"{path.name}: {result.file.joint}",
        targets=[("cut", target.must(-depth / 2.0))],
        places=places,
        on_sheet=clamping == "template",
        corner=(stock.x0, stock.y0),
    )
    motions = changed_by_hand(reading, shop.the_machine).motions
    works = works_of(motions, travel_of(motions), result.file.tools, shop.the_machine)
    cut = look(works, target, result.proof.gouges, result.proof.lefts)
    role: Role = "sheet" if clamping == "template" else "stock"
    return [with_slice(above, cut, target, role)]


def _flaw(size: float, voice: Voice) -> str:
    """How large a flaw is, without its unit, which the picture's sizes have."""
    return voice.exact(size).rpartition(" ")[0]
