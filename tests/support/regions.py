"""Comparing regions with each other and with a second geometry."""

from __future__ import annotations

import numpy as np
import pyclipper

from jigcam.geometry import Path, Region

SCALE = 1e6
"""The second geometry counts in whole numbers: a nanometre each."""


def boundary_points(region: Region, each: int = 7) -> np.ndarray:
    """Points along the boundary, (k, 2): the vertices and more along every segment."""
    if region.is_empty:
        return np.empty((0, 2))
    curve = region.as_segments()
    points = np.concatenate([curve.at(np.full(len(curve), t)) for t in np.linspace(0.0, 1.0, each, endpoint=False)])
    return np.column_stack([points.real, points.imag])


def assert_regions_equal(got: Region, wanted: Region, tol: float = 2e-6) -> None:
    """Both boundaries lie within `tol` mm of each other all along, and the areas agree accordingly."""
    assert got.is_empty == wanted.is_empty, f"got {len(got.loops)} loops, wanted {len(wanted.loops)}"
    if wanted.is_empty:
        return
    for name, one, other in (("got", got, wanted), ("wanted", wanted, got)):
        points = boundary_points(one)
        far = other.distance(points)
        worst = int(np.argmax(far))
        assert far[worst] <= tol, f"{name} is {far[worst]:.3g} mm off at {points[worst]}"
    slack = tol * (got.length + wanted.length)
    assert abs(got.area - wanted.area) <= slack, f"area {got.area:.9g}, wanted {wanted.area:.9g}"


def assert_at_distance(result: Region, source: Region, d: float, tol: float = 1e-5, each: int = 7) -> None:
    """The boundary of an offset lies at |d| from that of its source, outside for d > 0 and inside for d < 0."""
    points = boundary_points(result, each)
    if len(points):
        error = source.signed_distance(points) + d
        worst = int(np.argmax(np.abs(error)))
        assert abs(error[worst]) <= tol, f"{error[worst]:.3g} mm off at {points[worst]}"


def assert_valid(region: Region) -> None:
    """Outlines wind once round what is inside, holes lie in them: the winding number is 0 or 1 everywhere near."""
    if region.is_empty:
        return
    curve = region.as_segments()
    t = np.full(len(curve), 0.37)  # not the middle, where another edge is likelier to touch
    middle, left = curve.at(t), 1j * curve.tangent(t) * 1e-6
    for side, inside in ((left, True), (-left, False)):
        points = np.column_stack([(middle + side).real, (middle + side).imag])
        clear = region.distance(points) > 0.9e-6  # not where another edge is nearer
        assert (region.contains(points)[clear] == inside).all()


def clipper_paths(region: Region, tol: float = 1e-4) -> list[list[list[int]]]:
    """Loops as chords within `tol`, for the second geometry."""
    return [pyclipper.scale_to_clipper(loop.points(tol).tolist(), SCALE) for loop in region.loops]


def clipper_offset(region: Region, d: float, tol: float = 1e-4) -> list[list[list[int]]]:
    """The offset as the second geometry has it, arcs within `tol`."""
    worker = pyclipper.PyclipperOffset(2.0, tol * SCALE)
    worker.AddPaths(clipper_paths(region, tol), pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return worker.Execute(d * SCALE)


def clipper_boolean(kind: int, a: Region, b: Region, tol: float = 1e-4) -> list[list[list[int]]]:
    """A boolean operation (pyclipper.CT_…) as the second geometry has it."""
    worker = pyclipper.Pyclipper()
    for role, region in ((pyclipper.PT_SUBJECT, a), (pyclipper.PT_CLIP, b)):
        if not region.is_empty:
            worker.AddPaths(clipper_paths(region, tol), role, True)
    return worker.Execute(kind, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)


def clipper_difference_area(paths: list[list[list[int]]], region: Region, tol: float = 1e-4) -> float:
    """Area, mm², of what is in one of the two only: outlines of the second geometry, and a region of ours."""
    worker = pyclipper.Pyclipper()
    for role, some in ((pyclipper.PT_SUBJECT, paths), (pyclipper.PT_CLIP, clipper_paths(region, tol))):
        if some:
            worker.AddPaths(some, role, True)
    if not paths and region.is_empty:
        return 0.0
    odd = worker.Execute(pyclipper.CT_XOR, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return abs(sum(pyclipper.Area(path) for path in odd)) / SCALE**2


def roughened(region: Region, places: int = 4) -> Region:
    """The region with its vertices rounded as a file rounds them, so that nothing is quite tangent any more."""
    return Region(
        tuple(Path(np.column_stack([p.vertices[:, :2].round(places), p.vertices[:, 2]]), True) for p in region.loops)
    )
