"""Open ends of grooves: no pass that leaves the board pushes its edge outward, where nothing holds the fibres."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
from support.grooves import groove_job, made
from support.setups import direct_programs

from jigcam.kit import load_kit
from jigcam.toolpath import Program
from jigcam.toolpath.faceting import chords

STEP, PITCH = 0.1, 0.25
"""mm between the places of the bit, and between those of the edges, that are looked at."""
BENEATH = 0.3
"""mm within the board at which its edges are watched."""
OUTWARD = 0.3
"""Share of the rim's speed that may point outward: about the middle of the bit it grazes along the edge."""


def places(program: Program) -> Iterator[tuple[np.ndarray, float, float]]:
    """Where the bit goes in the face frame, its height, and how y grows on the way there."""
    (dx, dy) = (row[2] for row in program.placement)
    for operation in program.operations:
        for before, move in pairwise(operation.moves):
            pieces = chords(before.point, move, 1e-2) if move.kind == "arc" else [move]
            for a, b in pairwise([before.point, *(piece.point for piece in pieces)]):
                for t in np.linspace(0.0, 1.0, 1 + max(1, math.ceil(math.dist(a[:2], b[:2]) / STEP))):
                    x, y, z = np.array(a) + t * (np.array(b) - a)
                    yield np.array([x - dx, y - dy]), float(z), b[1] - a[1]


@pytest.mark.parametrize("angle", [90.0, 78.0, 60.0])
@pytest.mark.parametrize("width", [7.0, 12.0, 16.0, 25.0])
@pytest.mark.parametrize("finish", ["open", "stopped"])
def test_no_pass_that_leaves_the_board_pushes_its_edge_outward(angle: float, width: float, finish: str) -> None:
    # The tooth of a clockwise bit at c that meets wood at p moves along (p − c) turned a quarter to the right.
    (cut, *_) = made(
        groove_job(
            start_point=(120.0, 0.0),
            angle=math.radians(angle),
            length=150.0,
            width=width,
            receives=None,
            clearance=0.1,
            start="open",
            finish=finish,
        )
    ).cuts()
    (program,) = direct_programs(cut, load_kit("inch-shop"), "straight 1/4").programs
    radius, height = program.bits[0].radius, cut.board.width
    x = np.arange(60.0, 300.0, PITCH)
    edges = {-1.0: BENEATH} | ({1.0: height - BENEATH} if finish == "open" else {})
    stands = {side: np.zeros(len(x)) for side in edges}
    pushed = []
    for centre, z, rise in places(program):
        for side, y in edges.items():
            if z < 0.0 and abs(centre[1] - y) <= radius:
                hit = (np.hypot(x - centre[0], y - centre[1]) <= radius) & (stands[side] > z + 1e-6)
                stands[side][hit] = z
                if side * rise > 1e-9 and (side * (centre[0] - x[hit]) > OUTWARD * radius).any():
                    pushed.append((centre.tolist(), z))
    assert all(np.isclose(floor.min(), -cut.solid.depth) for floor in stands.values())
    assert not pushed
