"""Which end is where is drawn and named in every picture, as faces and ends are mirrored in each other."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.every_kind import small
from support.jobs import Table, kit_table, write_job
from support.kinds.finger_joint import finger_job
from support.kinds.half_blind_dovetail import drawer_job
from support.kinds.mortise import IN_RAIL, mortise_job

from jigcam.drawing import Drawing, View
from jigcam.job import kit_for
from jigcam.joints import kind_names, load_job
from jigcam.workshop.build import plan_job

OTHERS: dict[str, Table] = {
    "mortise in a right end": mortise_job(end="right", mate={**IN_RAIL, "end": "right", "at": [40, 14]}),
    "mortise outside by template": mortise_job(face="outside", way="template", width=14, depth=8),
    "mortise in an end by template": mortise_job(end="right", way="template", width=14, depth=8),
    "drawer the other way round": drawer_job(tails_setup="upright", tails_end="left", pins_end="right"),
    "fingers the other way round": finger_job(a_end="left", b_end="right"),
}
JOBS = {**{name: small(name) for name in kind_names()}, **OTHERS}
LEFT_OF = {"outside": ("left end", "right end"), "inside": ("right end", "left end")}
"""What lies at the left and at the right, seen square at a face with the lower edge down (README, The job)."""


def pictures(folder: Path, table: Table) -> list[tuple[str, Drawing]]:
    job = load_job(write_job(folder, table, kit_table("mm")))
    return [each for joint in plan_job(job, kit_for(job)) for each in joint.plan.drawings().items()]


def of_face(view: View, drawing: Drawing, face: str) -> None:
    """Ends are named at the side at which they are."""
    left, right = LEFT_OF[face]
    x0, _, x1, _ = view.bounds
    named = [(each.text, each.x > (x0 + x1) / 2.0) for each in view.labels if re.search("(left|right) end", each.text)]
    assert named or any(f"{left} is then at the left" in note for note in drawing.notes), view.caption
    for text, at_right in named:
        assert (right if at_right else left) in text, (view.caption, text)


def of_end(view: View, drawing: Drawing, end: str) -> None:
    """The edges are named at the sides at which they are: at the right end, seen square, the lower edge is right."""
    words = [*(each.text for each in view.labels), *drawing.notes, view.caption]
    assert any(f"{end} end" in text for text in words), view.caption
    if edges := {each.text.removeprefix("to the "): each.x for each in view.labels if "edge" in each.text}:
        middle = (view.bounds[0] + view.bounds[2]) / 2.0
        if "upper edge" in edges:
            assert (edges["lower edge"] > middle) == (end == "right"), view.caption


@pytest.mark.parametrize("name", JOBS)
def test_the_ends_are_named_where_they_are(name: str, tmp_path: Path) -> None:
    seen = 0
    for _, drawing in pictures(tmp_path, JOBS[name]):
        for view in drawing.views:
            face = re.search(r"(outside|inside) face of", view.caption)
            end = re.search(r"^(?:template on the )?(left|right) end of|, (left|right) end$", view.caption)
            if face:
                of_face(view, drawing, face[1])
            if end:
                of_end(view, drawing, end[1] or end[2])
            seen += bool(face or end)
    assert seen, "a picture of a face or an end"
