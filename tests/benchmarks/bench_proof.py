"""Reading and proving against pygcode's parser on the same files, how the time grows, where it goes, and what it holds.

Run it: `python tests/benchmarks/bench_proof.py [--profile]`. Everything is measured side by side in one run and printed
as ratios; nothing is asserted. pygcode only parses; reading and proving are ours.
"""

from __future__ import annotations

import argparse
import cProfile
import gc
import math
import pstats
import time
import tracemalloc
from collections.abc import Callable

import numpy as np
from pygcode import Line

from jigcam.gcode import read
from jigcam.geometry import Path, Region, disc, rectangle, slot
from jigcam.kit import load_kit
from jigcam.proof import Mark, Proof, Removal, Stock, Target, prove, prove_reading
from jigcam.toolpath.engrave import DEPTH, stroke_width
from jigcam.toolpath.engrave import letters as strokes_of

SIZES = (1_000, 3_000, 10_000, 30_000, 100_000, 300_000)
SIDE_BY_SIDE = 100_000
HEAD = ["G17 G21 G40 G49 G80 G90 G94 G54 G61", "G0 Z5", "S16000 M3"]
TAIL = ["G0 Z5", "M5", "M30", ""]
RADIUS = 3.175

Job = tuple[str, Target]


def raster(moves: int) -> Job:
    """One pocket in three depths, back and forth in short straight moves, and a round along its walls each time."""
    width, height, r = 300.0, 200.0, RADIUS
    rows = int((height - 2 * r) / (0.8 * r)) + 1
    columns = max(2, moves // 3 // rows)
    xs, ys = np.linspace(20 + r, 20 + width - r, columns), np.linspace(20 + r, 20 + height - r, rows)
    lines = [*HEAD, f"G0 X{xs[0]:.4f} Y{ys[0]:.4f}", "G1 Z0 F500"]
    for z in (-2.0, -4.0, -6.0):
        lines += [f"G1 X{xs[-1]:.4f} Z{z} F1500", f"G1 X{xs[0]:.4f}"]
        for row, y in enumerate(ys):
            lines += [f"G1 X{x:.4f} Y{y:.4f}" for x in (xs if row % 2 == 0 else xs[::-1])]
        corners = [(0, -1), (0, 0), (-1, 0), (-1, -1), (0, -1), (0, 0)]
        lines += [f"G1 X{xs[i]:.4f} Y{ys[j]:.4f}" for i, j in corners]
    stock = Stock.of_size(340.0, 240.0, 12.7)
    return "\n".join(lines + TAIL), Target(stock, (Removal.prism("pocket", rectangle(20, 20, 320, 220), 6.0),))


def rings(moves: int) -> Job:
    """A round pocket in arcs: rings from the middle outward, each of many arcs, in as many depths as it takes."""
    outer, step = 90.0, 2.0
    radii = [*np.arange(step, outer - RADIUS, step), outer - RADIUS]
    depths = max(2, round(moves / (len(radii) * 40)))
    pieces = max(3, round(moves / (len(radii) * depths)))
    lines = [*HEAD, "G0 X100 Y100", "G1 Z0 F500"]
    for depth in range(1, depths + 1):
        lines.append(f"G1 X100 Y100 Z{-6.0 * depth / depths:.4f} F300")
        for radius in radii:
            turn = 2.0 * math.pi / pieces
            x, y = round(100.0 + radius, 4), 100.0
            lines.append(f"G1 X{x} Y{y} F1500")
            for k in range(1, pieces + 1):
                to_x = round(100.0 + radius * math.cos(k * turn), 4)
                to_y = round(100.0 + radius * math.sin(k * turn), 4)
                lines.append(f"G3 X{to_x} Y{to_y} I{100.0 - x:.4f} J{100.0 - y:.4f}")
                x, y = to_x, to_y
    disc = Region((Path(np.array([(190.0, 100.0, 1.0), (10.0, 100.0, 1.0)]), closed=True),))
    return "\n".join(lines + TAIL), Target(Stock.of_size(200.0, 200.0, 12.7), (Removal.prism("disc", disc, 6.0),))


def slots(moves: int) -> Job:
    """Many short slots one bit wide in two ramped passes, with a lift between them: drawing and file grow together."""
    count = max(1, moves // 9)
    across = math.ceil(math.sqrt(count * 0.6))
    lines, loops = list(HEAD), []
    for k in range(count):
        x, y = 10.0 + 22.0 * (k % across), 10.0 + 9.0 * (k // across)
        lines += [
            f"G0 X{x} Y{y}",
            "G0 Z1",
            "G1 Z0 F500",
            f"G1 X{x + 12.0} Z-1.5 F900",
            f"G1 X{x}",
            f"G1 X{x + 12.0} Z-3",
            f"G1 X{x}",
            "G0 Z5",
        ]
        loops += slot((x - RADIUS, y), (x + 12.0 + RADIUS, y), 2 * RADIUS).loops
    stock = Stock.of_size(22.0 * across + 10.0, 9.0 * math.ceil(count / across) + 10.0, 12.7)
    return "\n".join(lines + TAIL), Target(stock, (Removal.prism("slots", Region(tuple(loops)), 3.0),))


def holes(moves: int) -> Job:
    """Round holes in a grid, each bored by a helix of half turns and finished by a round, with a lift between them."""
    radius, path = 5.0, 5.0 - RADIUS
    count = max(1, moves // 19)
    across = math.ceil(math.sqrt(count))
    lines, loops = list(HEAD), []
    for k in range(count):
        x, y = 12.0 + 14.0 * (k % across), 12.0 + 14.0 * (k // across)
        right, left = round(x + path, 4), round(x - path, 4)
        ahead, back = f"I{x - right:.4f} J0", f"I{x - left:.4f} J0"
        lines += [f"G0 X{right} Y{y}", "G0 Z1", "G1 Z0 F500"]
        for z in range(6):
            lines += [f"G3 X{left} Y{y} Z{-z - 0.5} {ahead} F900", f"G3 X{right} Y{y} Z{-z - 1.0} {back}"]
        lines += [f"G3 X{left} Y{y} {ahead}", f"G3 X{right} Y{y} {back}", f"G1 X{x}", "G0 Z5"]
        loops += disc(x, y, radius).loops
    size = 14.0 * across + 10.0
    return "\n".join(lines + TAIL), Target(
        Stock.of_size(size, size, 12.7), (Removal.prism("holes", Region(tuple(loops)), 6.0),)
    )


def deep(moves: int) -> Job:
    """A pocket deeper than the cutting edges are long, back and forth in fifteen passes."""
    width, height, r, passes = 100.0, 60.0, RADIUS, 15
    rows = int((height - 2 * r) / (0.8 * r)) + 2
    columns = max(2, moves // passes // rows)
    xs, ys = np.linspace(20 + r, 20 + width - r, columns), np.linspace(20 + r, 20 + height - r, rows)
    lines = [*HEAD, f"G0 X{xs[0]:.4f} Y{ys[0]:.4f}", "G1 Z0 F500"]
    for z in np.arange(1, passes + 1) * -2.0:
        lines += [f"G1 X{xs[-1]:.4f} Z{z} F1500", f"G1 X{xs[0]:.4f}"]
        for row, y in enumerate(ys):
            lines += [f"G1 X{x:.4f} Y{y:.4f}" for x in (xs if row % 2 == 0 else xs[::-1])]
        corners = [(0, -1), (0, 0), (-1, 0), (-1, -1), (0, -1), (0, 0)]
        lines += [f"G1 X{xs[i]:.4f} Y{ys[j]:.4f}" for i, j in corners]
    stock = Stock.of_size(140.0, 100.0, 40.0)
    return "\n".join(lines + TAIL), Target(stock, (Removal.prism("pocket", rectangle(20, 20, 120, 80), 30.0),))


def letters(moves: int) -> Job:
    """Rows of letters engraved with a vee bit."""
    lines, paths, rows = list(HEAD), [], 0
    while len(lines) < moves + len(HEAD):
        for stroke in strokes_of("Jig 0123456789 cherry", 5.0, 5.0 + 9.0 * rows, 6.0):
            (x, y), *onward = places = np.round(stroke, 4)
            lines += [f"G0 X{x} Y{y}", "G0 Z1", f"G1 Z{-DEPTH} F500"]
            lines += [f"G1 X{x} Y{y} F900" for x, y in onward]
            lines.append("G0 Z5")
            paths.append(Path.through(places))
        rows += 1
    stock = Stock.of_size(max(path.bounds[2] for path in paths) + 10.0, 9.0 * rows + 10.0, 12.7)
    return "\n".join(lines + TAIL), Target(stock, marks=(Mark(tuple(paths), stroke_width(VEE), DEPTH),))


def slanted(moves: int) -> Job:
    """Slots aslant, side by side, to and fro in two passes: the bounds of each reach over many of its neighbours."""
    count, leg = max(1, moves // 9), 40.0
    lines, loops = list(HEAD), []
    for k in range(count):
        x, y = 10.0 + 12.0 * (k % 100), 10.0 + 52.0 * (k // 100)
        there, back = f"X{x + leg} Y{y + leg}", f"X{x} Y{y}"
        lines += [f"G0 {back}", "G0 Z1", "G1 Z0 F500", f"G1 {there} Z-1.5 F900", f"G1 {back}"]
        lines += [f"G1 {there} Z-3", f"G1 {back}", "G0 Z5"]
        along = RADIUS / math.sqrt(2.0)
        loops += slot((x - along, y - along), (x + leg + along, y + leg + along), 2 * RADIUS).loops
    stock = Stock.of_size(1300.0, 52.0 * math.ceil(count / 100) + 20.0, 12.7)
    return "\n".join(lines + TAIL), Target(stock, (Removal.prism("slots", Region(tuple(loops)), 3.0),))


def pecks(moves: int) -> Job:
    """One hole, drilled a little deeper with every peck."""
    count = max(1, moves // 2)
    lines = [*HEAD, "G0 X20 Y20", "G0 Z1"]
    for k in range(1, count + 1):
        lines += [f"G1 Z{-10.0 * k / count:.4f} F500", "G0 Z1"]
    stock = Stock.of_size(40.0, 40.0, 12.7)
    return "\n".join(lines + TAIL), Target(stock, (Removal.prism("hole", disc(20, 20, RADIUS), 10.0),))


def depths(moves: int) -> Job:
    """Slots one bit wide, each at a depth of its own."""
    count = max(1, moves // 7)
    across = math.ceil(math.sqrt(count * 0.6))
    lines, removals = list(HEAD), []
    for k in range(count):
        x, y, z = 10.0 + 22.0 * (k % across), 10.0 + 9.0 * (k // across), round(-1.0 - 2.0 * (k + 1) / count, 4)
        lines += [f"G0 X{x} Y{y}", "G0 Z1", "G1 Z0 F500", f"G1 X{x + 12.0} Z{z} F900", f"G1 X{x}", "G0 Z5"]
        where = slot((x - RADIUS, y), (x + 12.0 + RADIUS, y), 2 * RADIUS)
        removals.append(Removal.prism(f"slot {k}", where, -z))
    stock = Stock.of_size(22.0 * across + 10.0, 9.0 * math.ceil(count / across) + 10.0, 12.7)
    return "\n".join(lines + TAIL), Target(stock, tuple(removals))


def seconds(work: Callable[[], object]) -> float:
    """Of one round: files are large and the first round is what a maker waits for."""
    gc.collect()
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def theirs(text: str) -> None:
    """Parse with pygcode, as its own examples do."""
    for line in text.split("\n"):
        Line(line)


def judged(text: str, target: Target) -> Proof:
    """Our whole way, on a machine large enough for any of the files."""
    return prove(text, target, MACHINE, VEE if target.marks else BIT)


KIT = load_kit("inch-shop")
MACHINE = KIT.machine.model_copy(update={"travel": (1e5, 1e5, 100.0)})
BIT = KIT.bit("straight 1/4")
VEE = KIT.bit("vee 60")


def memory(text: str, target: Target) -> tuple[float, float]:
    """Bytes a move: those of the reading, and the most that is held while it is proved."""
    gc.collect()
    tracemalloc.start()
    reading = read(text)
    held = tracemalloc.get_traced_memory()[0]
    tracemalloc.reset_peak()
    prove_reading(reading, target, MACHINE, VEE if target.marks else BIT)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return held / len(reading), most / len(reading)


CASES = (raster, rings, slots, holes, deep, letters, slanted, pecks, depths)
MOST = {depths: 10_000}
"""Moves of cases that grow faster than the rest: no program writes so many at a depth of its own."""


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--profile", action="store_true", help="where the time goes at the side-by-side size")
    chosen = parser.parse_args()
    for make in CASES:
        print(f"\n{make.__name__}: {(make.__doc__ or '').splitlines()[0]}")
        print(f"{'moves':>8} {'read, s':>9} {'prove, s':>9} {'per n log n':>12} {'bytes a move':>13} {'stops':>6}")
        judged(*make(SIZES[0]))  # what is imported late is paid for here
        first = 0.0
        most = MOST.get(make, SIZES[-1])
        for size in (size for size in SIZES if size <= most):
            text, target = make(size)
            reading = read(text)
            took_read = seconds(lambda text=text: read(text))
            took = seconds(lambda text=text, target=target: judged(text, target)) - took_read
            cost = took / (len(reading) * math.log(len(reading)))
            first = first or cost
            held = f"{memory(text, target)[1]:13.0f}" if size <= SIDE_BY_SIDE else " " * 13
            bad = sum(f.level == "stop" for f in judged(text, target).findings) if size <= 10_000 else 0
            print(f"{len(reading):8} {took_read:9.3f} {took:9.3f} {cost / first:12.2f} {held} {bad:6}")
            if size == min(SIDE_BY_SIDE, most):
                other = seconds(lambda text=text: theirs(text))
                ratio = (took + took_read) / (2 * other)
                print(f"         pygcode parses once in {other:.2f} s: ours / (2 × theirs) = {ratio:.2f}")
                if chosen.profile:
                    profile = cProfile.Profile()
                    profile.runcall(judged, text, target)
                    pstats.Stats(profile).sort_stats("tottime").print_stats(15)


if __name__ == "__main__":
    main()
