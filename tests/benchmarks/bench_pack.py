"""The plan of a piece against its job: how long the pages take, over planning and proof of all joints.

Run it: `python tests/benchmarks/bench_pack.py` (about two minutes; `--kit`, `--rounds`). Both are measured by turns in
one run, in CPU seconds of this process, as other work on the machine counts for neither; nothing is asserted.
"""

from __future__ import annotations

import argparse
import math
import time
from pathlib import Path

from jigcam.job import kit_for
from jigcam.making.built import Built
from jigcam.workshop.board_drawings import drawings_of_boards
from jigcam.workshop.build import build_job
from jigcam.workshop.loading import load_job
from jigcam.workshop.piece_files import piece_told
from jigcam.workshop.plan_pack import Pack, plan_pack

CABINET = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet" / "cabinet.toml"
GOAL = 3.0
"""The whole pack in less than so many times the time of the job without drawings."""


def pack_of(built: Built) -> bytes:
    """The plan with all that is drawn for it, as `jigcam make --plan` makes it."""
    drawn = {joint.name: joint.plan.drawings() for joint in built.joints}
    pack = Pack(built, built.kit.the_paper, drawings_of_boards(built), None, piece_told(built))
    return plan_pack(pack, drawn)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--kit", default=None, help="name or path of a kit; left out: each of the shipped shops")
    parser.add_argument("--rounds", type=int, default=2)
    asked = parser.parse_args()
    for name in [asked.kit] if asked.kit else ["inch-shop", "metric-shop"]:
        best_job = best_pack = math.inf
        for _ in range(asked.rounds):
            start = time.process_time()
            job = load_job(CABINET)
            built = build_job(job, kit_for(job, name))
            middle = time.process_time()
            content = pack_of(built)
            best_job = min(best_job, middle - start)
            best_pack = min(best_pack, time.process_time() - middle)
        print(
            f"{name}: job {best_job:.1f} s, plan {best_pack:.1f} s ({len(content) / 1e6:.1f} MB): "
            f"{best_pack / best_job:.2f} ×  (goal: less than {GOAL:g})"
        )


if __name__ == "__main__":
    main()
