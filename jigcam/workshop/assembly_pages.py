"""Pages that say how a piece goes together: steps with pictures, then how it is glued up, then what meets what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.drawing.flow import Flow
from jigcam.drawing.model import Drawing
from jigcam.piece.glue_up import glue_facts, glue_steps
from jigcam.piece.order_words import ready_line
from jigcam.piece.scene import step_views
from jigcam.workshop.piece_order import seasons_of

if TYPE_CHECKING:
    from jigcam.drawing.leaf import Leaf
    from jigcam.drawing.paper import Paper
    from jigcam.workshop.piece_files import PieceTold

TITLE = "Putting it together"
STEP = 62.0
"""Height of the picture of a step at most, mm."""
ACROSS = 3
"""So many of them beside each other."""
SMALL = 2.2


def assembly_pages(told: PieceTold, paper: Paper) -> list[Leaf]:
    """The pages. Where boards lock each other there are no steps, and the pages say so."""
    account = told.account
    job, parts = account.job, [part for part in account.parts if part.contacts]
    seasons = seasons_of(job)
    pictures = {number: step_views(job, told.bodies, part) for number, part in enumerate(parts) if not part.locked}

    def fill(flow: Flow) -> None:
        flow.title(TITLE)
        flow.words(account.closes())
        for number, part in enumerate(parts):
            of = f" of part {number + 1}, {part.placed[0].copy.name} and {len(part.placed) - 1} more"
            of = of if len(parts) > 1 else ""
            flow.heading(f"The order{of}", keep=STEP)
            if part.locked:
                flow.words("There is none, as boards lock each other.")
                continue
            flow.points([f"1. {ready_line(part)}"], boxes=True, size=SMALL + 0.2)
            views = tuple((view,) for view in pictures[number])
            flow.picture(Drawing(TITLE, views, job.units), STEP, across=ACROSS, ticked=True)
            flow.heading(f"Gluing up{of}")
            flow.points(glue_steps(part, job, seasons), boxes=True, size=SMALL + 0.2)
            flow.points(glue_facts(part, job, seasons), size=SMALL + 0.2)
        flow.heading("Which board meets which")
        flow.points([line for part in parts for line in account.meeting(part)], size=SMALL)

    pages = Flow(paper, job.title)
    pages.mark(TITLE)
    pages.settle(fill)
    return pages.leaves
