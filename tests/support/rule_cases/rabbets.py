"""Rules of rabbets that no other kind has."""

from __future__ import annotations

from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.job import Board, Job
from jigcam.joints.rabbet import RabbetEntry, rabbet


def drawn(thickness: float = 20.0, panel: float | None = None, **keys: float) -> Say:
    """What the trade says of a rabbet in a side."""

    def findings() -> Findings:
        sizes = {"width": 8.0, "depth": 7.0, **keys}
        entry = RabbetEntry(
            name="back", board="side", face="inside", along="upper", **sizes, receives="panel" if panel else None
        )
        boards = {"panel": Board(name="panel", length=160.0, width=90.0, thickness=panel)} if panel else {}
        board = Board(name="side", length=160.0, width=90.0, thickness=thickness)
        job = Job(title="Sheet-music cabinet", units="mm", boards={"side": board, **boards}, joints=(entry,))
        return rabbet(entry, job).findings

    return said(findings)


RABBETS: dict[str, Case] = {
    "stands-proud": case(drawn(panel=8.1), silent=drawn(panel=8.0)),
    "thin-left": case(drawn(8.0, depth=5.2), silent=drawn(8.0, depth=5.0)),
    "too-wide": case(drawn(width=45.1), silent=drawn(width=45.0)),
}
