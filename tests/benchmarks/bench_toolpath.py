"""Tool paths against lower bounds: cutting time, time in the air, lines of G-code, rapids, and growth of planning.

Run it: `python tests/benchmarks/bench_toolpath.py`. Everything is computed or measured in one run and printed; nothing
is asserted. The lower bound of the cutting time (`support.least_time`) is removed volume ÷ the most that is before the
bit at once ÷ feed, the stop at each level, corners and tight arcs of the rim that has to be gone along at each, and the
finishing pass with all its corners. Beside it stands the same where passes are as deep as they are in equal parts of
the depth, as `÷ by levels`: what is over that is the path's and the machine's. The machine is that of the inch shop,
which accelerates at 10 in/s²; the time at full feed (without acceleration) by that bound tells the two apart.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Iterable, Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np

from jigcam.geometry import Region, bar, difference, disc, polygon, rectangle, slot, translation, union
from jigcam.kit import Bit, load_kit
from jigcam.toolpath import Move, choose
from jigcam.toolpath.engrave import letters
from jigcam.toolpath.faceting import chords
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.order import Legs, improved, nearest_neighbour, travel
from jigcam.toolpath.pocket import ALLOWANCE, pocket
from jigcam.toolpath.time import shared_seconds
from jigcam.toolpath.track import Cutter

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.cutting import a_bit
from support.least_time import pocket_seconds

DEPTH = 12.95
KIT = load_kit("inch-shop")
SHAPES: dict[str, Region] = {
    "template opening, 210 x 19": slot((0, 0), (210, 0), 19.2),
    "template opening, 420 x 26": slot((0, 0), (420, 0), 26.0),
    "dado, 285 x 19": bar((0, 0), (285, 0), 19.05),
    "mortise, 90 x 19": slot((0, 0), (90, 0), 19.0),
    "recess, 150 x 100": rectangle(0, 0, 150, 100),
    "round, 80": disc(0, 0, 40),
    "ring, 120 and 60": difference(disc(0, 0, 60), disc(0, 0, 30)),
    "ell, 120 x 30": union(rectangle(0, 0, 120, 30), rectangle(0, 0, 30, 120)),
    "recess with two bosses": difference(
        rectangle(0, 0, 160, 100), union(disc(50, 50, 15), rectangle(95, 35, 125, 65))
    ),
    "triangle, 150": polygon([(0, 0), (150, 0), (40, 110)]),
    "waist": union(disc(0, 0, 35), disc(110, 0, 35), bar((0, 0), (110, 0), 25)),
}


def cutter(bit: Bit, depth: float) -> Cutter:
    return Cutter(bit, choose(bit, "mdf", KIT.machine, depth), KIT.machine)


def at_full_feed(moves: Iterable[Move]) -> float:
    """Seconds at the feeds alone."""
    total = 0.0
    for before, move in pairwise(moves):
        if move.kind == "line":
            total += math.dist(before.point, move.point) / move.feed * 60.0
        elif move.kind == "arc":
            total += (
                sum(
                    math.dist(a, b)
                    for a, b in pairwise([before.point, *(c.point for c in chords(before.point, move, 1e-3))])
                )
                / move.feed
                * 60.0
            )
    return total


def lines(moves: Iterable[Move], tol: float) -> int:
    """Lines of G-code with arcs within `tol` mm."""
    return sum(len(list(chords(a.point, b, tol))) if b.kind == "arc" else 1 for a, b in pairwise(moves))


def clearing() -> None:
    head = f"{'shape':28s}{'time ÷ bound':>14s}{'÷ by levels':>13s}{'at full feed':>14s}"
    print(head + f"{'in the air':>12s}{'lines':>7s}{'÷ faceted':>11s}")
    ratios: list[tuple[float, float]] = []
    for name, region in SHAPES.items():
        bit = a_bit(6.35, plunges=True)
        tool = cutter(bit, DEPTH)
        levels = even_levels(DEPTH, tool.feeds.depth_per_pass)
        work = pocket(region, tool, levels)
        operations = [operation("", tool, work.rough), operation("", tool, work.finish)]
        feeding, travelling = shared_seconds(operations, KIT.machine)
        bound, by_levels = (
            pocket_seconds(
                region, bit.radius, bit.diameter * step, DEPTH, len(levels), tool.feeds.feed, KIT.the_machine, ALLOWANCE
            )
            for step in (bit.diameter * KIT.the_machine.deepest_pass, DEPTH / len(levels))
        )
        moves = [m for each in operations for m in each.moves]
        ratios.append((feeding / bound, feeding / by_levels))
        in_air, faceted = travelling / (feeding + travelling), len(moves) / lines(moves, 0.01)
        print(
            f"{name:28s}{feeding / bound:14.2f}{feeding / by_levels:13.2f}{at_full_feed(moves) / by_levels:14.2f}"
            f"{in_air:12.1%}{len(moves):7d}{faceted:11.2f}"
        )
    print("{:28s}{:14.2f}{:13.2f}\n".format("median", *np.median(ratios, axis=0)))


def tours() -> None:
    """Random places, as of holes, which run one way only, and the strokes of engraved lines, which may be turned."""
    print(f"{'runs':>28s}{'rapids ÷ nearest neighbour':>28s}{'÷ lower bound':>15s}")
    generator = np.random.default_rng(7)
    for count in (20, 50, 100, 300):
        shares, bounds = [], []
        for _ in range(5):
            places = generator.uniform(0.0, 400.0, count) + 1j * generator.uniform(0.0, 400.0, count)
            legs = Legs.of_ends(places, places)
            first = nearest_neighbour(legs)
            best = travel(legs, improved(legs, first))
            shares.append(best / travel(legs, first))
            bounds.append(best / spanning_length(legs))
        print(f"{count:22d} holes{np.mean(shares):28.3f}{np.mean(bounds):15.3f}")
    for text in ("Sheet-music cabinet", "Tilted shelf, side, face up for the hand as drawn"):
        strokes = letters(text, 20.0, 20.0, 6.0)
        starts, finishes = ([complex(*stroke[k]) for stroke in strokes] for k in (0, -1))
        plain, legs = (Legs.of_ends(starts, finishes, turnable=turnable) for turnable in (False, True))
        best = travel(legs, improved(legs, nearest_neighbour(legs)))
        share = best / travel(plain, nearest_neighbour(plain))
        print(f"{len(strokes):20d} strokes{share:28.3f}{best / spanning_length(legs):15.3f}")
    print()


def spanning_length(legs: Legs) -> float:
    """Length of the shortest tree over the runs and the start: no tour is shorter."""
    ends = np.column_stack([legs.starts[: legs.count], legs.finishes[: legs.count]])
    ends = np.vstack([[0.0, 0.0], ends])
    between = np.abs(ends[:, None, :, None] - ends[None, :, None, :]).min(axis=(2, 3))
    gap, total = between[0].copy(), 0.0
    reached = np.arange(len(ends)) == 0
    while not reached.all():
        nearest = int(np.argmin(np.where(reached, np.inf, gap)))
        total += float(gap[nearest])
        reached[nearest] = True
        gap = np.minimum(gap, between[nearest])
    return total


def many_pockets(count: int) -> Iterator[Region]:
    wide = math.ceil(math.sqrt(count))
    for number in range(count):
        y, x = divmod(number, wide)
        yield slot((0, 0), (24, 6), 9.5).transformed(translation(40.0 * x, 30.0 * y))


def growth() -> None:
    print(f"{'pockets':>28s}{'seconds':>10s}{'ms a pocket':>13s}")
    for count in (10, 100, 1000):
        regions = list(many_pockets(count))
        region = Region(tuple(loop for each in regions for loop in each.loops))
        tool = cutter(a_bit(6.35, plunges=True), 5.0)
        start = time.perf_counter()
        work = pocket(region, tool, even_levels(5.0, tool.feeds.depth_per_pass))
        operation("", tool, work.rough)
        operation("", tool, work.finish)
        spent = time.perf_counter() - start
        print(f"{count:28d}{spent:10.2f}{1000.0 * spent / count:13.1f}")


def main() -> None:
    clearing()
    tours()
    growth()


if __name__ == "__main__":
    main()
