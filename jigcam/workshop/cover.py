"""The cover of a plan: the piece, its boards and joints, the tools it is for, what is inside, and the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam import __version__
from jigcam.drawing.flow import BODY, Flow
from jigcam.drawing.leaf import Leaf
from jigcam.drawing.paper import HOME
from jigcam.making.cautions import cautions
from jigcam.making.words import minutes

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import HomePaper
    from jigcam.making.built import Built
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.made_joint import MadeJoint
    from jigcam.making.work_order import Stage, WorkOrder

SMALL = 1.9
"""Height of the capitals of cautions, mm: read once, in the hand."""
PICTURE = 120.0
"""Height of a picture of the piece at most, mm."""
WAYS = {"template": "template and hand-held router", "direct": "on the CNC", "hand": "by hand"}


@dataclass(frozen=True)
class Chapter:
    """A part of the plan. says: what it is for."""

    name: str
    says: str
    leaves: tuple[Leaf, ...]


def cover(
    built: Built,
    paper: HomePaper,
    pictures: Sequence[Drawing],
    chapters: Sequence[Chapter],
    remake: Sequence[str],
    begins: Sequence[int],
) -> list[Leaf]:
    """Its pages.

    pictures: of the piece. begins: the page on which each chapter begins. remake: words, and commands that begin with
    "$ ".
    """
    job = built.job
    flow = Flow(HOME[paper], job.title)
    flow.mark("Cover")

    def fill(to: Flow) -> None:
        to.title(job.title)
        made = f"A plan in {'inches' if job.units == 'in' else 'millimetres'}, made with the {built.kit.name}"
        to.words(f"{made}; written by jigcam {__version__}, for {HOME[paper].name} paper, to be printed at 100 %.")
        for drawing in pictures:
            to.picture(drawing, PICTURE, across=min(len(drawing.views), 3))
        to.heading("What is inside")
        to.grid(
            ("page", "part", "what it is for"),
            [(str(page), each.name, each.says) for page, each in zip(begins, chapters, strict=True)],
            left=3,
        )
        _boards(to, built)
        _joints(to, built)
        _tools(to, built)
        to.heading("Made again, and made with your own tools")
        for line in remake:
            if line.startswith("$ "):
                to.lines([line.removeprefix("$ ")])
                to.skip(2.0)
            else:
                to.words(line)
        to.heading("Cautions: read them once, before the first cut", keep=40.0)
        plans = [joint.plan for joint in built.joints]
        to.points(
            cautions(
                machine=any(plan.setups for plan in plans),
                hand=any(plan.guided or plan.templates for plan in plans),
                units=built.job.units,
                edge_tools=any(not plan.setups for plan in plans),
                routed=any(plan.routed for plan in plans),
            ),
            size=SMALL,
        )

    flow.settle(fill)
    return flow.leaves


def _boards(flow: Flow, built: Built) -> None:
    job, says = built.job, built.job.voice.rule
    flow.heading("The boards, as measured")
    flow.grid(
        ("board", "length", "width", "thickness", "wood"),
        [
            (board.name, says(board.length), says(board.width), says(board.thickness), board.wood or "")
            for board in job.boards.values()
        ],
        left=5,
    )
    flow.words("Length runs along the grain; what is measured across starts at the lower edge.", size=2.2)


def _joints(flow: Flow, built: Built) -> None:
    """The joints in the order of work, by the numbers of their sheets in it, with their machine time: that of all files
    once, and with each run for all of its boards."""
    rows = []
    for joint in built.joints:
        stages = built.order.of(joint.name)
        for stage in stages:
            # Of a sheet that is done in several stages each tells its own files.
            files = [each for each in joint.files if _stage(each, joint, built.order) in (stage, None)]
            names = [name for name in joint.joints if stage.boards_of(name)]
            for name in names:
                entry = built.job.joint(name)
                what = (name, entry.kind.replace("-", " "), ", ".join(stage.boards_of(name)), WAYS[entry.way])
                if name == names[0]:
                    times = (built.seconds(files), built.seconds(files, every=True))
                    rows.append((str(stage.number), *what, *(minutes(each) if files else "-" for each in times)))
                else:
                    rows.append(("", *what, "-" if not files else f"with {names[0]}", ""))
    flow.heading("The joints, in the order of work")
    heads = ("sheet", "joint", "kind", "cut in", "how", "each once", "for all")
    count = len(heads) if built.gcode_files else len(heads) - 2
    flow.grid(heads[:count], [row[:count] for row in rows], left=5)
    if built.gcode_files:
        total = built.seconds(built.gcode_files, every=True)
        flow.words(
            "How long the machine runs: each file once, as for the first board of its kind, and for all boards that it "
            f"cuts; {minutes(total)} in all. Clamping and changes of bits come on top.",
            size=2.2,
        )


def _stage(file: GcodeFile, joint: MadeJoint, order: WorkOrder) -> Stage | None:
    """The stage that runs a file; None where there is only one. A template is milled in the first one."""
    stages, setup = order.of(joint.name), file.setup
    if len(stages) < 2:
        return None
    if setup.clamping == "template":
        return stages[0]
    found = (order.stage_of(name, setup.board, setup.side) for name in joint.joints)
    return next((stage for stage in found if stage is not None), stages[0])


def _tools(flow: Flow, built: Built) -> None:
    """The tools that the plan is for: those that its files and its templates use."""
    voice = built.job.voice
    bits = dict.fromkeys(bit for file in built.gcode_files for bit in file.program.bits)
    guided = dict.fromkeys(
        name for file in built.gcode_files for key in ("guide", "guides") for name in _names(file.setup.facts.get(key))
    )
    rows = [("on the machine", "; ".join(f"{bit.name}, {voice.rule(bit.diameter)}" for bit in bits))]
    rows += [("in the router", "; ".join(guided))]
    if built.kit.sheet is not None and guided:
        rows.append(("templates", f"{voice.rule(built.kit.sheet.thickness)} {built.kit.sheet.material}"))
    flow.heading(f"Tools, of the {built.kit.name}")
    told = [row for row in rows if row[1]]
    flow.rows(told or [("by hand", "saws, chisels, gauges and a bevel, as the sheets say")], size=BODY)


def _names(guide: object) -> list[str]:
    """Bit and bushing of a guide as the manifest tells it, or of several by their joints."""
    if not isinstance(guide, dict):
        return []
    if "bushing" not in guide:
        return [name for each in guide.values() for name in _names(each)]
    told = [guide.get("bit"), guide.get("bushing")]
    return [str(each["name"]) if isinstance(each, dict) else str(each) for each in told if each]
