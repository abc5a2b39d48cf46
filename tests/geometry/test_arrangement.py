"""Nodes and edges: what falls together, what is cut, and what lies beside each edge."""

from __future__ import annotations

import numpy as np
import pytest
from support.regions import assert_regions_equal

from jigcam.geometry import GeometryError, boolean, rectangle, union
from jigcam.geometry.arrangement import arrange, cluster
from jigcam.geometry.crossing import crossings
from jigcam.geometry.segment import Segments


def test_near_points_are_one_and_the_earliest_gives_its_place() -> None:
    points = np.array([5.0 + 1j, 0.0, 5.0 + 1.0000004j, 0.9e-6 + 0j, 1.8e-6 + 0j, 3e-6 + 0j])
    places, label = cluster(points, 1e-6)
    assert label.tolist() == [0, 1, 0, 1, 1, 2]  # the chain 0, 0.9, 1.8 µm·10⁻³ is one cluster
    assert places.tolist() == [5.0 + 1j, 0.0, 3e-6 + 0j]


def test_clusters_do_not_depend_on_how_many_points_line_up() -> None:
    grid = np.array([x + 1j * y for x in range(20) for y in range(20)], dtype=complex)
    noisy = np.concatenate([grid, grid + 3e-7, grid - 3e-7j])
    places, label = cluster(noisy, 1e-6)
    assert np.array_equal(places, grid)
    assert np.array_equal(label, np.tile(np.arange(400), 3))


@pytest.mark.parametrize(
    ("one", "other", "wanted"),
    [
        ([0, 0, 10, 0, 0], [5, -5, 5, 5, 0], [5.0]),
        ([0, 0, 10, 0, 0], [5, 1, 5, 5, 0], []),
        ([0, 0, 10, 0, 0], [2, 0, 12, 0, 0], []),  # along each other: no crossing
        ([-9, 0, 9, 0, 0], [5, 0, -5, 0, 1], [-5.0, 5.0]),
        ([-9, 5, 9, 5, 0], [5, 0, -5, 0, 1], [5j, 5j]),  # touches
        ([-9, 5 + 5e-7, 9, 5 + 5e-7, 0], [5, 0, -5, 0, 1], [5j, 5j]),  # nearly touches
        ([-9, 5.001, 9, 5.001, 0], [5, 0, -5, 0, 1], []),
        ([5, 0, -5, 0, 1], [11, 0, 1, 0, 1], [3 + 4j]),  # circles of radius 5 about 0 and 6
        ([5, 0, -5, 0, 1], [9, 0, 1, 0, -1], []),  # the halves that miss each other
        ([5, 0, -5, 0, 1], [5, 0, -5, 0, 1], []),
    ],
)
def test_where_two_segments_cross(one: list[float], other: list[float], wanted: list[complex]) -> None:
    both = Segments.of_rows([one, other])
    for i, j in ((0, 1), (1, 0)):
        _, _, points = crossings(both, np.array([i]), np.array([j]), 1e-6)
        assert sorted(points.tolist(), key=lambda p: (p.real, p.imag)) == pytest.approx(wanted, abs=1e-6)


def test_arcs_that_are_nearly_lines_cross_where_they_should() -> None:
    """Their centres are kilometres away, and the crossing is still known to a nanometre."""
    both = Segments.of_rows([[0, 0, 100, 0, 1e-6], [0, -1e-3, 100, 1e-3, -2e-6]])
    _, _, points = crossings(both, np.array([0]), np.array([1]), 1e-6)
    assert len(points) == 1
    assert both.distance(points[:, None]).max() < 1e-9


def test_every_edge_knows_what_is_beside_it() -> None:
    loops = [rectangle(0, 0, 10, 10).as_segments(), rectangle(5, 0, 15, 10).as_segments()]
    edges = arrange(Segments.joined(loops), np.repeat([0, 1], 4), 2, 1e-6)
    assert len(edges.tail) == 10  # four of them shared out of 4 + 4 sides cut at 4 nodes
    for tail, head, left, right in zip(edges.tail, edges.head, edges.left.T, edges.right.T, strict=True):
        middle = 0.5 * (edges.nodes[tail] + edges.nodes[head])
        way = 1j * (edges.nodes[head] - edges.nodes[tail]) * 1e-3
        for side, winding in ((middle + way, left), (middle - way, right)):
            inside = [0 < side.real < 10 and 0 < side.imag < 10, 5 < side.real < 15 and 0 < side.imag < 10]
            assert winding.tolist() == inside


def test_another_tolerance_is_tried_where_a_boundary_does_not_close(monkeypatch: pytest.MonkeyPatch) -> None:
    refused = []

    def closed_the_third_time(*_: object) -> bool:
        refused.append(1)
        return len(refused) == 3

    monkeypatch.setattr(boolean, "is_closed", closed_the_third_time)
    assert_regions_equal(union(rectangle(0, 0, 10, 10), rectangle(10, 0, 20, 10)), rectangle(0, 0, 20, 10))
    monkeypatch.setattr(boolean, "is_closed", lambda *_: False)
    with pytest.raises(GeometryError, match="nearly coincide"):
        union(rectangle(0, 0, 10, 10))
