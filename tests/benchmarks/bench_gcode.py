"""Our reader against pygcode's parser on the same file, and how both grow; the writer beside them.

Run it: `python tests/benchmarks/bench_gcode.py`. Everything is measured side by side in one run and printed as ratios;
nothing is asserted. pygcode only parses here (its words and blocks); carrying the words out would take it many times
longer.
"""

from __future__ import annotations

import gc
import math
import sys
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

from pygcode import Line

from jigcam.gcode import read, write
from jigcam.gcode.reader import Reader
from jigcam.toolpath import Move, Program

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.programs import CLEAR, a_machine, a_program, an_operation

SIZES = (1_000, 10_000, 100_000)
LARGEST = 300_000


def a_file(moves: int) -> Program:
    """A pocket cleared by rings of lines and arcs: three lines for one arc, a new depth now and then."""
    path = [Move("rapid", 100.0, 100.0, CLEAR), Move("line", 100.0, 100.0, -1.0, 300.0)]
    x, y, z = 100.0, 100.0, -1.0
    while len(path) < moves:
        number = len(path)
        angle, length = number * 2.399963, 1 + 20 * ((number * 0.6180339887) % 1)
        if number % 4 == 3:
            cx, cy = x + length * math.cos(angle), y + length * math.sin(angle)
            x, y = 2 * cx - x, 2 * cy - y
            path.append(Move("arc", x, y, z, 900.0, cx, cy, number % 8 == 3))
        else:
            x, y = 100 + length * math.cos(angle), 100 + length * math.sin(angle)
            z -= 0.5 if number % 100 == 0 else 0.0
            path.append(Move("line", x, y, z, 900.0 if number % 50 else 450.0))
    return a_program(an_operation(path))


def seconds(work: Callable[[], object], rounds: int = 3) -> float:
    """The best of some rounds."""
    best = math.inf
    for _ in range(rounds):
        gc.collect()
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def theirs(text: str) -> None:
    """Parse with pygcode, as its own examples do."""
    for line in text.split("\n"):
        Line(line)


def main() -> None:
    """Print the table."""
    machine = a_machine()
    print("ratio: our reader to pygcode's parser; long way: the same without the short cut; write: our writer")
    print(f"{'moves':>8} {'ours, s':>9} {'pygcode, s':>11} {'ratio':>7} {'long way':>9} {'write':>7}")
    took: dict[int, tuple[float, float]] = {}
    for size in SIZES:
        program = a_file(size)
        text = write(program, machine)
        rounds = 3 if size < 100_000 else 2
        ours, other = seconds(lambda text=text: read(text), rounds), seconds(lambda text=text: theirs(text), 1)
        long_way = seconds(lambda text=text: Reader(text, short_cut=False).reading(), 1)
        written = seconds(lambda program=program: write(program, machine), 1)
        took[size] = ours, other
        print(
            f"{size:>8} {ours:>9.4f} {other:>11.3f} "
            f"{ours / other:>7.3f} {long_way / other:>9.3f} {written / other:>7.3f}"
        )
    (small, small_other), (large, large_other) = took[SIZES[0]], took[SIZES[-1]]
    times = SIZES[-1] / SIZES[0]
    print(
        f"growth from {SIZES[0]:,} to {SIZES[-1]:,} moves ({times:.0f}×): ours {large / small:.0f}×, "
        f"pygcode {large_other / small_other:.0f}×"
    )

    text = write(a_file(LARGEST), machine)
    largest = seconds(lambda: read(text), 1)
    print(f"{LARGEST:,} moves: {largest:.2f} s, {largest / large:.1f}× those of {SIZES[-1]:,}")
    text = write(a_file(10_000), machine)
    tracemalloc.start()
    reading = read(text)
    _, peak = tracemalloc.get_traced_memory()
    print(
        f"memory: columns {reading.motions.nbytes / len(reading):.0f} B a move, "
        f"peak while reading {peak / len(reading):.0f} B a move"
    )


if __name__ == "__main__":
    main()
