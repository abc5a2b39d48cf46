"""Tool paths: strategies from a solid and a bit to moves; feeds, order and time."""

from __future__ import annotations

from jigcam.toolpath.faceting import facet_arcs
from jigcam.toolpath.feeds import Feeds, choose
from jigcam.toolpath.program import Move, Operation, Program
from jigcam.toolpath.rehearsal import dry_run
from jigcam.toolpath.time import operation_seconds, seconds

__all__ = [
    "Feeds",
    "Move",
    "Operation",
    "Program",
    "choose",
    "dry_run",
    "facet_arcs",
    "operation_seconds",
    "seconds",
]
