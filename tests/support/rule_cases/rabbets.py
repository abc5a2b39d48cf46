"""Rules of rabbets that no other kind has."""

from __future__ import annotations

from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.job import Board, Job
from jigcam.joints.rabbet import RabbetEntry, rabbet


def drawn(thickness: float = 20.0, **keys: float) -> Say:
    """What the trade says of a rabbet in a side."""

    def findings() -> Findings:
        sizes = {"width": 8.0, "depth": 7.0, **keys}
        entry = RabbetEntry(name="back", board="side", face="inside", along="upper", **sizes)
        board = Board(name="side", length=160.0, width=90.0, thickness=thickness)
        job = Job(title="Sheet-music cabinet", units="mm", boards={"side": board}, joints=(entry,))
        return rabbet(entry, job).findings

    return said(findings)


RABBETS: dict[str, Case] = {
    "thin-left": case(drawn(8.0, depth=5.2), silent=drawn(8.0, depth=5.0)),
    "too-wide": case(drawn(width=45.1), silent=drawn(width=45.0)),
}
