"""The exact offset against the second geometry's on the same outlines, and how offset, union and distance grow.

Run it: `python tests/benchmarks/bench_geometry.py`. Everything is measured side by side in one run and printed as
ratios; nothing is asserted. The second geometry gets the outline in chords and answers in chords, at the tolerance
named in the table; ours answers in lines and arcs within a nanometre or so. Its time is that of the offset alone,
without making the chords.
"""

from __future__ import annotations

import gc
import math
import sys
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path as FilePath

import numpy as np
import pyclipper

from jigcam.geometry import Path, Region, capsule, disc, offset, slot, swept, union
from jigcam.geometry.winding import winding_number

sys.path.insert(0, str(FilePath(__file__).resolve().parents[1]))

from support.regions import SCALE, clipper_paths


def seconds(work: Callable[[], object], rounds: int = 3) -> float:
    """The best of some rounds."""
    best = math.inf
    for _ in range(rounds):
        gc.collect()
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def outline(count: int) -> Region:
    """A wavy ring road of lines and arcs, its waves of the same size whatever their number."""
    radius = 4.0 * count / (2.0 * math.pi)
    angle = np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)
    reach = radius + 2.0 * (np.arange(count) % 2)
    bulge = np.where(np.arange(count) % 3 == 0, 0.4, np.where(np.arange(count) % 3 == 1, -0.4, 0.0))
    return Region((Path(np.column_stack([reach * np.cos(angle), reach * np.sin(angle), bulge]), closed=True),))


def their_offset(region: Region, d: float, tol: float) -> Callable[[], object]:
    """The second geometry's offset, its input prepared beforehand."""
    paths = clipper_paths(region, tol)

    def work() -> object:
        worker = pyclipper.PyclipperOffset(2.0, tol * SCALE)
        worker.AddPaths(paths, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
        return worker.Execute(d * SCALE)

    return work


def offsets() -> None:
    """Offsets of outlines of growing size, side by side."""
    print("offset by ±3.175 mm        ours, ms   theirs at 1 µm   at 0.1 µm   ours/theirs at 1 µm   at 0.1 µm")
    for count in (4, 50, 500, 5000):
        region = slot((0, 0), (60, 25), 12.85) if count == 4 else union(outline(count))
        for d in (3.175, -3.175):
            ours = seconds(lambda r=region, d=d: offset(r, d))
            coarse, fine = (seconds(their_offset(region, d, tol)) for tol in (1e-3, 1e-4))
            what = f"{len(region.as_segments()):6d} segments, {d:+.3f}"
            print(f"{what}   {ours * 1e3:8.2f} {coarse * 1e3:16.2f} {fine * 1e3:11.2f}", end="")
            print(f" {ours / coarse:21.2f} {ours / fine:11.2f}")


def growth(title: str, sizes: tuple[int, ...], prepare: Callable[[int], Callable[[], object]]) -> None:
    """Time per n log n from each size to the next."""
    print(title)
    before = None
    for size in sizes:
        took = seconds(prepare(size), rounds=2)
        per = took / (size * math.log(size))
        change = "" if before is None else f"   × {per / before:.2f} per n log n"
        print(f"{size:9d}   {took * 1e3:10.1f} ms{change}")
        before = per


def walk(count: int) -> np.ndarray:
    """A pocket cleared to and fro in moves of a millimetre, with the four decimals of a file."""
    rows = max(1, round(math.sqrt(count)))
    index = np.arange(count + 1)
    row, step = index // rows, index % rows
    x = np.where(row % 2 == 0, step, rows - 1 - step)
    return np.round(np.column_stack([x + 0.1 * np.sin(row), 1.5 * row + 0.2 * np.sin(x)]), 4)


def capsules(count: int) -> Callable[[], object]:
    """The union of what each move of a pocket takes away."""
    shapes = [capsule(p, q, 3.175) for p, q in pairwise(walk(count))]
    return lambda: union(*shapes)


def sweep(count: int) -> Callable[[], object]:
    """The same as one sweep."""
    path = Path.through(walk(count))
    return lambda: swept(path, 3.175)


def distances(count: int) -> Callable[[], object]:
    """Signed distance of as many points as there are segments, all within some mm of the boundary."""
    region = outline(count)
    loop = region.loops[0]
    random = np.random.default_rng(1)
    points = loop.at(random.uniform(0.0, loop.length, count))[0] + random.normal(0.0, 3.0, (count, 2))
    return lambda: region.signed_distance(points)


def discs_side_by_side(count: int) -> Callable[[], object]:
    """Winding numbers of a row of discs along x, where nearly every one is at the height of every point."""
    segments = Region(tuple(loop for k in range(count) for loop in disc(9.0 * k, 0.0, 4.0).loops)).as_segments()
    rng = np.random.default_rng(1)
    points = rng.uniform(-5.0, 9.0 * count, 4 * count) + 1j * rng.uniform(-5.0, 5.0, 4 * count)
    return lambda: winding_number(points, segments)


def offset_of_outline(count: int) -> Callable[[], object]:
    """One offset of one outline."""
    region = outline(count)
    return lambda: offset(region, 1.0)


if __name__ == "__main__":
    offsets()
    growth("union of capsules", (100, 1000, 10_000), capsules)
    growth("sweep of a path", (100, 1000, 10_000), sweep)
    growth("signed distance, as many points as segments", (100, 1000, 10_000, 100_000), distances)
    growth("winding numbers of discs side by side", (100, 1000, 10_000), discs_side_by_side)
    growth("offset of an outline", (50, 500, 5000, 50_000), offset_of_outline)
