"""Carcases: jobs of a few boards, written as tables, and where their boards stand. mm."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from support.jobs import toml

from jigcam.document import Document
from jigcam.job import Job
from jigcam.job.loading import job_from
from jigcam.joints import Entries
from jigcam.piece.space import Assembled
from jigcam.piece.to_fit import asked_to_fit, fitted


def job_of(boards: dict[str, Any], joints: list[dict[str, Any]]) -> Job:
    """A metric job, its sizes that are to fit worked out."""
    table = {"job": "Sheet-music cabinet", "units": "mm", "kit": "metric-shop", "boards": boards, "joints": joints}
    document = Document.parse(toml(table), Path("job.toml"))
    return fitted(document) if asked_to_fit(document.data) else job_from(document, Entries())


def board(length: Any, width: Any = 280, thickness: Any = 20, **more: Any) -> dict[str, Any]:
    return {"length": length, "width": width, "thickness": thickness, **more}


CORNERS = {
    "name": "corners",
    "kind": "finger-joint",
    "a": "side",
    "a_end": "both",
    "b": "top",
    "b_end": "both",
    "count": 14,
}


def shelf_groove(**more: Any) -> dict[str, Any]:
    return {
        "name": "shelf",
        "kind": "groove",
        "board": "side",
        "face": "inside",
        "from": [150, 40],
        "angle": 90,
        "length": 200,
        "depth": 8,
        "receives": "shelf",
        "clearance": 0.1,
        "opposite_hand": True,
        **more,
    }


def at(piece: Assembled, name: str, point: tuple[float, float, float]) -> list[float]:
    """A place of a copy, body frame, in the world, to a nanometre."""
    motion = next(each.motion for each in piece.placed if each.copy.name == name)
    return [round(float(v), 6) + 0.0 for v in motion(np.array(point))]
