"""Rules of mortises that no other kind has."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from support.jobs import Table, kit_table, write_job
from support.kinds.mortise import IN_RAIL, mortise_job
from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.errors import Refused
from jigcam.job import kit_for
from jigcam.joints import design, load_job
from jigcam.workshop.build import plan_job


def drawn(**keys: object) -> Say:
    """What the trade says of mortises, without tools."""

    def findings() -> Findings:
        with TemporaryDirectory() as folder:
            job = load_job(write_job(Path(folder), mortise_job(**keys)))
        return design(job.joints[0], job).findings

    return said(findings)


def planned(kit: Table | None = None, **keys: object) -> Say:
    """What is said of mortises when they are planned, or refused, with a kit."""

    def findings() -> Findings:
        with TemporaryDirectory() as folder:
            job = load_job(write_job(Path(folder), mortise_job(**keys), kit))
            kit_ = kit_for(job)
        try:
            (joint,) = plan_job(job, kit_)
        except Refused as refused:
            return refused.findings
        return joint.findings

    return said(findings)


def without_vise() -> Table:
    """The metric shop, whose machine holds no board on end."""
    kit = kit_table("mm")
    del kit["machine"]["upright"]
    return kit


ROW = {"count": 2, "pitch": 80}
TEMPLATE: Table = {"way": "template", "width": 16, "depth": 12}
IN_FACE: Table = {"board": "rail", "face": "outside", "at": [60, 40]}

MORTISES: dict[str, Case] = {
    # Common practice, no source: 2 and 4 mm of cheek; the post is 32 mm thick.
    "thin-cheek": case(
        drawn(end="left", at=[45, 6.9]), drawn(end="left", at=[45, 8.9]), silent=drawn(end="left", at=[45, 9.0])
    ),
    "tenon-share": case(drawn(end="left", width=16.2), drawn(end="left", width=6.4), silent=drawn(end="left")),
    "mortises-close": case(
        drawn(repeat={"count": 2, "pitch": 40.9}),
        drawn(repeat={"count": 2, "pitch": 45.9}),
        silent=drawn(repeat={"count": 2, "pitch": 46}),
    ),
    "mates-askew": case(drawn(angle=1, mate=IN_RAIL), silent=drawn(angle=90, mate=IN_RAIL)),
    "tenon-seizes": case(drawn(clearance=0.01), silent=drawn(clearance=0.02)),
    "mortise-reach": case(
        planned(**{**TEMPLATE, "depth": 24.5, "bit": "straight 6"}), planned(depth=28.5, width=6.5), silent=planned()
    ),
    "end-not-held": case(planned(without_vise(), end="left"), silent=planned(end="left")),
    "next-mortise": case(planned(**TEMPLATE, repeat=ROW), silent=planned(**TEMPLATE)),
    "mate-template": case(planned(**TEMPLATE, mate=IN_FACE), silent=planned(**TEMPLATE)),
}
