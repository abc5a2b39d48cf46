"""The plan of a piece as one PDF: cover, boards, templates in true size, setup sheets in the order of work.

It is made of *chapters*, each of which gives its pages; the cover comes first, with the piece put together and pulled
apart where the job is a whole piece, and says on which page each chapter begins. The job file goes with the PDF, so
that whoever has the plan can cut with their own tools; and so does the kit, a pattern for theirs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import TYPE_CHECKING

from jigcam.drawing.flow import Flow
from jigcam.drawing.leaf import Leaf, bound
from jigcam.drawing.paper import HOME
from jigcam.drawing.pdf import SheetFoot, leaves
from jigcam.errors import JigcamError
from jigcam.making.setup_sheet import sheet_of
from jigcam.making.sheet_pages import is_template, reason_pages, sheet_pages
from jigcam.workshop.assembly_pages import assembly_pages
from jigcam.workshop.board_pages import board_pages
from jigcam.workshop.cover import Chapter, cover
from jigcam.workshop.loading import parsed_job

if TYPE_CHECKING:
    from collections.abc import Mapping

    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import HomePaper
    from jigcam.making.built import Built
    from jigcam.making.made_joint import Progress
    from jigcam.workshop.piece_files import PieceTold

PLAN = "plan.pdf"


@dataclass(frozen=True)
class Pack:
    """What the chapters are made from.

    boards: their drawings, by name. joint: the only one that was asked for. piece: pictures, cut list and assembly of
    the whole; None where the job is no whole piece.
    """

    built: Built
    paper: HomePaper
    boards: Mapping[str, Drawing]
    joint: str | None = None
    piece: PieceTold | None = None

    @property
    def source(self) -> tuple[str, bytes] | None:
        """The job's file as it was read, by its name; None if the job was made, or changed, in Python."""
        job = self.built.job
        if job.path is None or job.source is None or parsed_job(job.source, job.path) != job:
            return None
        return job.path.name, job.source.encode()

    @property
    def kit_source(self) -> tuple[str, bytes] | None:
        """The kit's file, by its name or, where the job has that, another; None if the kit has none, or the file no
        longer says the same."""
        from jigcam.kit import load_kit

        path = self.built.kit.path
        if path is None:
            return None
        try:
            content = path.read_bytes()
            same = load_kit(path) == self.built.kit
        except (OSError, JigcamError):
            return None
        taken = self.source is not None and self.source[0] == path.name
        return (f"kit-{path.name}" if taken else path.name, content) if same else None


def plan_pack(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]], progress: Progress | None = None) -> bytes:
    """The whole plan as a PDF; the same job and kit give the same bytes.

    drawings: of each joint, by its name and their stems. progress: called with a step and the share that is done.
    """
    tell = progress or (lambda step, share: None)
    chapters: list[Chapter] = []
    for place, (name, says, make) in enumerate(CHAPTERS):
        tell(f"plan: {name}", place / len(CHAPTERS))
        pages = make(pack, drawings)
        if pages:
            by_hand = "" if pack.built.gcode_files else BY_HAND.get(name, "")
            chapters.append(Chapter(name, by_hand or says, tuple(pages)))
    pictures = tuple(pack.piece.drawings.values()) if pack.piece else ()
    first = cover(pack.built, pack.paper, pictures, chapters, remake(pack), [0] * len(chapters))
    begins = [len(first) + 1 + before for before in accumulate([0, *(len(each.leaves) for each in chapters)])]
    first = cover(pack.built, pack.paper, pictures, chapters, remake(pack), begins[:-1])
    every = [*first, *(leaf for chapter in chapters for leaf in chapter.leaves)]
    tell("plan: writing", 1.0)
    attached = dict(each for each in (pack.source, pack.kit_source) if each and pack.source)
    return bound(every, pack.built.job.title, numbered=True, attached=attached)


def remake(pack: Pack) -> tuple[str, ...]:
    """How the plan is made again, and made with other tools: words and commands in turn."""
    import shlex

    source, kit = pack.source, pack.kit_source
    if source is None:
        return ("The job was made in Python, without a file: no command makes this plan again, and none is attached.",)
    asked = ["--plan", "--paper", pack.paper, *(["--joint", pack.joint] if pack.joint else [])]
    own = shlex.join(["jigcam", "make", source[0], *asked, "--kit", "my-shop.toml"])
    if kit is None:
        return (
            f"{source[0]}, the job, is attached to this PDF: save it from there. The kit is not, as it was made in "
            "Python: write yours into a file (jigcam start kit -o my-shop.toml begins one), and make the plan by",
            f"$ {own}",
        )
    return (
        f"{source[0]}, the job, and {kit[0]}, the kit, are attached to this PDF: save both into one folder. This plan "
        "is made again by",
        f"$ {shlex.join(['jigcam', 'make', source[0], *asked, '--kit', kit[0]])}",
        "For your own tools, change a copy of that kit, or begin one by jigcam start kit -o my-shop.toml; say in it "
        "what is in your shop, and make the plan by",
        f"$ {own}",
    )


def _boards(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """Each board on pages of its own."""
    job, paper = pack.built.job, HOME[pack.paper]
    return [leaf for name, drawing in pack.boards.items() for leaf in board_pages(job, name, drawing, paper)]


def _templates(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """What is to be glued to a sheet or checked against it, in true size."""
    found: list[Leaf] = []
    for name, some in drawings.items():
        for drawing in some.values():
            if is_template(drawing):
                first, *others = leaves(drawing.titled(f"{name}: template in true size"), pack.paper)
                found += [Leaf(first.paper, first.draw, f"Template: {name}"), *others]
    return found


def _patterns(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """Layouts of hand work in true size."""
    found: list[Leaf] = []
    for joint in pack.built.joints:
        for pattern in joint.plan.patterns:
            drawing = drawings[joint.name][pattern.stem]
            view = drawing.views[pattern.view]
            # By itself, so that it goes onto one sheet of paper where it can.
            title = f"{joint.name}: layout in true size"
            facts = (("this layout", view.caption), *drawing.facts)
            shown = replace(drawing, title=title, rows=((view,),), facts=facts, notes=pattern.says)
            told = SheetFoot(pattern.board, view.caption, " ".join(pattern.says))
            first, *others = leaves(shown, pack.paper, told)
            found += [Leaf(first.paper, first.draw, f"Layout: {joint.name}, {view.caption}"), *others]
    return found


def _sheets(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """The setup sheets, without the cautions, which the cover has, and without the reasons, which stand at the end."""
    built = pack.built
    return [
        leaf
        for joint, proof in zip(built.joints, built.proofs, strict=True)
        for leaf in sheet_pages(
            sheet_of(joint, proof, built),
            drawings[joint.name],
            HOME[pack.paper],
            built.job.voice,
            cautions=False,
            reasons=False,
        )
    ]


def _reasons(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """What the setup sheets say of proof and reasons, for all joints together."""
    built = pack.built
    sheets = [sheet_of(joint, proof, built) for joint, proof in zip(built.joints, built.proofs, strict=True)]
    return reason_pages(sheets, built.job.title, HOME[pack.paper])


def _cut_list(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """The boards to be sawn out."""
    if pack.piece is None:
        return []
    lines = pack.piece.cut_list

    def fill(to: Flow) -> None:
        to.title("Cut list")
        to.lines(lines)

    flow = Flow(HOME[pack.paper], pack.built.job.title)
    flow.mark("Cut list")
    flow.settle(fill)
    return flow.leaves


def _assembly(pack: Pack, drawings: Mapping[str, Mapping[str, Drawing]]) -> list[Leaf]:
    """How the boards go together."""
    return assembly_pages(pack.piece, HOME[pack.paper]) if pack.piece else []


CHAPTERS: Sequence[tuple[str, str, Callable[[Pack, Mapping[str, Mapping[str, Drawing]]], list[Leaf]]]] = (
    ("cut list", "the boards to be sawn out and planed, and what is done to each", _cut_list),
    ("drawings of the boards", "each board with all its joints; measure and mark by these", _boards),
    (
        "templates in true size",
        "to glue to a sheet and cut by hand, or to lay on what the machine has milled",
        _templates,
    ),
    (
        "layouts in true size",
        "measure the bar by a rule; cut it along the end and the lower edge, lay it flush with both, prick the lines",
        _patterns,
    ),
    ("setup sheets in the order of work", "take the page of a clamping to the machine, and tick what is done", _sheets),
    ("putting it together", "which board goes in when, and which way", _assembly),
    ("what was proved, and why so", "read it at home; nothing of it has to be set or done", _reasons),
)
"""Name, what it is for, and its pages; one without pages is left out."""
BY_HAND = {
    "drawings of the boards": "each board with all its joints, to read; mark by the figures of the sheets",
    "templates in true size": "to glue to a sheet and cut by hand",
    "setup sheets in the order of work": "take a joint's sheet to the bench, and tick what is done",
}
"""What chapters are for where no machine cuts anything."""
