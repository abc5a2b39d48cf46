"""Bow-tie keys across a crack in the top of the cabinet, for tests."""

from __future__ import annotations

from typing import Any

from jigcam.job import Board, Job
from jigcam.joints import design
from jigcam.joints.key.entry import KeyEntry
from jigcam.joints.key.key import Key


def keys(**changes: Any) -> Key:
    """One key, 60 mm long and 8 mm deep; changes go to its entry."""
    entry: dict[str, Any] = {
        "name": "bow ties",
        "kind": "key",
        "board": "top",
        "face": "outside",
        "at": (250.0, 150.0),
        "length": 60.0,
        "ends": 32.0,
        "waist": 16.0,
        "depth": 8.0,
        **changes,
    }
    job = Job(
        title="Sheet-music cabinet",
        units="mm",
        boards={"top": Board(name="top", length=710.0, width=300.0, thickness=22.0)},
        joints=(KeyEntry(**entry),),
    )
    made = design(job.joints[0], job)
    assert isinstance(made, Key)
    return made
