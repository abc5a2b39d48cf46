"""Boards as faces and edges: closed, as large as the wood that is left, mirrored for the opposite hand."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from support.every_kind import small
from support.jobs import write_job

from jigcam.geometry import union
from jigcam.joints import design, kind_names, load_job
from jigcam.piece.board_shape import BoardShape, board_shape
from jigcam.piece.body import Body, gauss


def measured(shape: BoardShape) -> tuple[np.ndarray, float]:
    """The sum of the faces as vectors, nothing for a closed surface, and what it holds (divergence theorem)."""
    whole, volume = np.zeros(3), 0.0
    for facet in shape.facets:
        # Holes run against their outline, whichever way that runs in the picture.
        area = sum(0.5 * np.cross(loop, np.roll(loop, -1, axis=0)).sum(axis=0) for loop in facet.loops)
        area = area * np.sign(float(area @ facet.outward))
        whole += area
        volume += float(area @ facet.loops[0][0]) / 3.0
    return whole, volume


def left(length: float, width: float, thickness: float, bodies: list[Body]) -> float:
    """The wood that is left, by sections alone."""
    levels = sorted({0.0, thickness, *(depth for body in bodies for depth in body.depths)})
    taken = 0.0
    for low, high in pairwise(levels):
        for depth in gauss(low, high):
            sections = [body.section(depth) for body in bodies if not body.section(depth).is_empty]
            taken += (high - low) / 2.0 * union(*sections).area if sections else 0.0
    return length * width * thickness - taken


@pytest.mark.parametrize("name", kind_names())
def test_faces_close_and_hold_what_the_joint_leaves(name: str, tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, small(name)))
    bodies: dict[str, list[Body]] = {}
    for entry in job.joints:
        for taken in design(entry, job).taken():
            if taken.hand == "as drawn":
                bodies.setdefault(taken.board.name, []).append(Body(taken))
    for board_name, some in bodies.items():
        board = job.board(board_name)
        shape = board_shape(board, some)
        whole, volume = measured(shape)
        assert np.abs(whole).max() < 1e-3
        wood = left(board.length, board.width, board.thickness, some)
        chords = 0.1 * sum(body.shadow.length * (body.depths[-1] - body.depths[0]) for body in some)
        assert volume == pytest.approx(wood, abs=max(chords, 1e-3))
        assert wood < board.length * board.width * board.thickness
        mirrored = measured(shape.mirrored(board.length))
        assert mirrored[1] == pytest.approx(volume)
        # The surface has the board's own bounds, and every edge lies on it.
        points = np.vstack([loop for facet in shape.facets for loop in facet.loops])
        assert np.allclose(np.abs(points).max(axis=0), (board.length, board.width, board.thickness))
        assert np.isin(shape.edges.reshape(-1, 3).round(4), points.round(4)).all()


def test_a_plain_board_has_six_faces_and_twelve_edges(tmp_path: Path) -> None:
    board = load_job(write_job(tmp_path, small("rabbet"))).board("side")
    shape = board_shape(board, [])
    assert (len(shape.facets), len({tuple(sorted(map(tuple, edge.round(6)))) for edge in shape.edges})) == (6, 12)
