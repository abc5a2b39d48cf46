"""The whole program against what it stands on, and how it grows with the number of grooves.

Run it: `python tests/benchmarks/bench_program.py` (about two minutes). Everything is measured side by side in one run,
the rounds of both in turn, and printed as ratios of the best rounds; nothing is asserted.
"""

from __future__ import annotations

import atexit
import math
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from pygcode import Line

from jigcam.gcode import read

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.jobs import job_table, write_job

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet" / "tilted-shelf.toml"
PROFILE = Path(__file__).resolve().parents[2] / "profiles" / "metric-shop.toml"
GROOVES = (1, 10, 100)
KITS = ((20, 10), (100, 30), (1000, 100))
"""Bits and bushings of large kits."""
COMPILED = tempfile.mkdtemp()
"""Where modules are compiled to, once, as they are where the program is installed."""
atexit.register(shutil.rmtree, COMPILED, ignore_errors=True)


def process(*arguments: str) -> Callable[[], None]:
    """A run of this Python with some arguments."""
    env = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    env["PYTHONPYCACHEPREFIX"] = COMPILED
    return lambda: subprocess.run([sys.executable, *arguments], check=True, capture_output=True, env=env) and None


def side_by_side(ours: Callable[[], object], theirs: Callable[[], object], rounds: int) -> tuple[float, float]:
    """The best of some rounds of both, in turn, s."""
    best = [math.inf, math.inf]
    for _ in range(rounds):
        for which, work in enumerate((ours, theirs)):
            start = time.perf_counter()
            work()
            best[which] = min(best[which], time.perf_counter() - start)
    return best[0], best[1]


def show(what: str, ours: float, theirs: float, bar: str = "") -> None:
    """One row."""
    print(f"{what:<62} {ours:>8.3f} s {theirs:>8.3f} s {ours / theirs:>7.2f} ×  {bar}")


def many_grooves(folder: Path, count: int) -> Path:
    """A job with `count` short grooves cut directly, each in a place of its own."""
    table = job_table("mm", length=40, boards={"side": {"length": 560, "width": 285, "thickness": 24}})
    # One shelf cannot stand in all of them at once: they only say their width.
    entry = {key: value for key, value in table["joints"][0].items() if key != "receives"} | {"width": 12.2}
    table["joints"] = [
        {**entry, "name": f"groove {n}", "from": [20 + 50 * (n % 10), 15 + 24 * (n // 10)], "angle": 30, "depth": 6}
        for n in range(count)
    ]
    return write_job(folder, table)


def large_kit(folder: Path, bits: int, bushings: int) -> Path:
    """A kit of many straight bits of 3 to 12 mm and bushings of 10 to 31 mm, no two alike."""
    text = PROFILE.read_text("utf-8")
    tables = [text[: text.index("[[bits]]")]]
    for n in range(bits):
        tables.append(
            f'[[bits]]\nname = "straight {n}"\nkind = "straight"\ndiameter = {3.0 + 9.0 * n / bits:.4f}\n'
            "cutting_length = 32\noverall_length = 100\nshank = 8\nflutes = 2\nplunges = true\n"
        )
    for n in range(bushings):
        outside = 10.0 + 21.0 * n / bushings
        tables.append(
            f'[[bushings]]\nname = "bushing {n}"\noutside = {outside:.4f}\ninside = {outside - 1.5:.4f}\ncollar = 8\n'
        )
    path = folder / f"kit-{bits}-{bushings}.toml"
    path.write_text("\n".join(tables), "utf-8")
    return path


def main() -> None:
    """Print the table."""
    print(f"{'side by side in one run':<62} {'ours':>10} {'other':>10} {'ratio':>9}")
    click, libraries = process("-c", "import click"), process("-c", "import numpy, shapely")
    show("jigcam --help : import click", *side_by_side(process("-m", "jigcam", "--help"), click, 9), bar="bar: 4")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make = process("-m", "jigcam", "make", str(EXAMPLE), "-o", str(folder / "out"), "--replace")
        show("make tilted-shelf.toml : import numpy, shapely", *side_by_side(make, libraries, 4), bar="bar: 10")
        one = (folder / "out" / "tilted-shelf" / "template.nc").read_text("ascii")
        show(
            f"reading template.nc ({one.count(chr(10))} lines) : pygcode's parser",
            *side_by_side(lambda: read(one), lambda: [Line(line) for line in one.split("\n")], 5),
        )
        first = 0.0
        for count in GROOVES:
            job = many_grooves(folder / str(count), count)
            took, base = side_by_side(process("-m", "jigcam", "check", str(job)), libraries, 2)
            show(f"check of {count} grooves : import numpy, shapely", took, base)
            first = first or took
        for bits, bushings in KITS:
            job, kit = write_job(folder / "pairs", job_table("mm")), large_kit(folder, bits, bushings)
            pairs = process("-m", "jigcam", "bushing", "pairs", str(job), "--kit", str(kit))
            rounds = 2 if bits < 1000 else 1
            show(f"pairs of {bits} × {bushings} : import numpy, shapely", *side_by_side(pairs, libraries, rounds))
        sums = process("-m", "jigcam", "bushing", "offset", "--bit", "1/4in", "--bushing", "5/16in")
        show("bushing offset : import numpy, shapely", *side_by_side(sums, libraries, 9))
        print(
            f"growth from {GROOVES[0]} to {GROOVES[-1]} grooves: {took / first:.1f}×; n log n would be "
            f"{GROOVES[-1] * math.log2(2 * GROOVES[-1]):.0f}×"
        )


if __name__ == "__main__":
    main()
