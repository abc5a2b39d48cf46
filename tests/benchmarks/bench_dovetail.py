"""The carcase with both kits and in every setup that they allow: files, lines of G-code, time on the machine, the fit.

Run it: `python tests/benchmarks/bench_dovetail.py [--prove]`. Times on the machine come from its feeds and its
accelerations; beside them the time that planning takes here, as a multiple of `import numpy, shapely` in the same run,
and, for sockets cut upright, their time by the least in which they can be cut (`support.least_time`: full cuts, turns
at the end of the longest lines, walls cut inward, the ways to the next, the machine's acceleration). Nothing is
asserted.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import time
from itertools import product
from pathlib import Path

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.job import Job, kit_for
from jigcam.joints import load_job
from jigcam.toolpath import seconds
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.workshop.build import plan_job

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.least_time import sockets_of_file

CARCASE = Path(__file__).parents[2] / "examples" / "music-cabinet" / "carcase.toml"
SETUPS = ("upright", "flat")


def one_corner(job: Job, tails: str, pins: str) -> Job:
    """The job with its joint at one end only, in those setups."""
    entry = job.joints[0].model_copy(
        update={"tails_end": "right", "pins_end": "left", "tails_setup": tails, "pins_setup": pins}
    )
    return job.model_copy(update={"joints": (entry,)})


def importing() -> float:
    """Seconds that a new interpreter takes to import numpy and shapely."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", "import numpy, shapely"], check=True)
    return time.perf_counter() - start


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--prove", action="store_true", help="prove the files and measure the fit, which takes longer")
    prove = parser.parse_args().prove
    unit = min(importing() for _ in range(3))
    head = (
        f"{'kit':13}{'tails':9}{'pins':9}{'files':>6}{'lines':>8}{'machine':>10}{'pins':>10}{'planning':>10}"
        f"{'sockets ÷ least':>17}"
    )
    print(head + ("   gouge µm  left µm  least and most between the flanks, mm" if prove else ""))
    job = load_job(CARCASE)
    for name, tails, pins in product(("inch-shop", "metric-shop"), SETUPS, SETUPS):
        kit, row = kit_for(job, name), f"{name:13}{tails:9}{pins:9}"
        start = time.perf_counter()
        try:
            (work,) = plan_job(one_corner(job, tails, pins), kit)
        except Refused as refused:
            print(f"{row}refused: {stops(refused.findings)[0].says[:90]}")
            continue
        planning = (time.perf_counter() - start) / unit
        lines = sum(file.text.count("\n") for file in work.files)
        each = [(file.file, seconds(file.program, kit.the_machine) / 60.0) for file in work.files]
        minutes, of_pins = sum(m for _, m in each), sum(m for name, m in each if "pins" in name)
        row += f"{len(work.files):6}{lines:8}{minutes:6.1f} min{of_pins:6.1f} min{planning:8.1f} ×"
        last = work.files[-1]
        if pins == "upright":
            least = sockets_of_file(last, kit.the_machine, ALLOWANCE)
            row += f"{seconds(last.program, kit.the_machine) / least:17.2f}"
        else:
            row += 17 * " "
        if prove:
            proof = work.proved({file.file: file.text for file in work.files})
            fit = proof.outcome.fit_dict()
            row += f"{1000 * proof.gouge:11.1f}{1000 * proof.left:9.1f}  {fit['least_mm']:.3f} to {fit['most_mm']:.3f}"
        print(row, flush=True)


if __name__ == "__main__":
    main()
