"""How many pictures a second the page that plays the cut draws, with about 100,000 moves, where a browser is installed.

Run it: `python tests/benchmarks/bench_page.py [--moves N]`. Each file is played in the time given, on the browser's
software renderer at 1280 × 800, once from above and once as a section; then the slider jumps to the end, and back to
the middle. Printed: pictures a second, the longest wait between two, the moves that the wood lagged behind the bit at
the most, and how long the wood took to catch up after the jumps, while the page went on answering. Nothing is asserted.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from bench_proof import holes, letters, raster, rings, slots  # noqa: E402
from support import browser as driver  # noqa: E402
from support.browser import Tab, running_browser  # noqa: E402

from jigcam.kit import load_kit  # noqa: E402
from jigcam.player.film import film  # noqa: E402
from jigcam.player.page import page_with  # noqa: E402
from jigcam.proof import Proof  # noqa: E402
from jigcam.units import MM  # noqa: E402

SECONDS = 6.0
"""How long a file is played."""
MEASURE = """new Promise((done) => {
  const p = jigcamPlayer, total = p.s.time[p.s.n], pace = document.getElementById("pace");
  pace.append(new Option("bench", String(total / SECONDS)));
  pace.value = String(total / SECONDS);
  p.setMode("MODE"); p.go(0); p.play();
  const begin = performance.now();
  let frames = 0, before = begin, worst = 0, lag = 0;
  const look = (now) => {
    frames++;
    worst = Math.max(worst, now - before); before = now;
    const painter = "MODE" === "cross" ? p.plan.cut : p.plan.top;
    lag = Math.max(lag, strokeAt(p.s, p.time).k - painter.k);
    if (p.playing) requestAnimationFrame(look);
    else done(JSON.stringify([frames / (performance.now() - begin) * 1000, worst, lag]));
  };
  requestAnimationFrame(look);
})"""
JUMP = """new Promise((done) => {
  const p = jigcamPlayer, begin = performance.now();
  p.layOut(); p.go(p.s.time[p.s.n] * SHARE);
  let frames = 0;
  const look = () => {
    frames++;
    if (document.body.dataset.drawn === "all" && frames > 2) done(JSON.stringify([performance.now() - begin, frames]));
    else requestAnimationFrame(look);
  };
  document.body.dataset.drawn = "";
  requestAnimationFrame(look);
})"""


def films(moves: int) -> dict[str, dict[str, Any]]:
    """The files of the proof's benchmark as films; what a proof would say of them is left out."""
    kit, unproved = load_kit("inch-shop"), Proof(0.0, 0.0, (), ())
    made = {}
    for job in (raster, rings, slots, holes, letters):
        text, target = job(moves)
        bit = "60 degree vee" if job is letters else "straight 1/4"
        found = next((each for each in kit.bits if each.name == bit), None) or next(b for b in kit.bits if b.pointed)
        name = f"{job.__name__}"
        made[name] = film(name, [("file", name)], text, target, kit.the_machine, found, unproved)
    return made


def measured(tab: Tab, number: int) -> str:
    """A line of the table."""
    tab.run(f"jigcamPlayer.choose({number})")
    count = tab.run("jigcamPlayer.s.n")
    cells = [f"{count:>9,}"]
    for mode in ("above", "cross"):
        tab.run("jigcamPlayer.layOut()")
        ask = MEASURE.replace("SECONDS", str(SECONDS)).replace("MODE", mode)
        rate, worst, lag = json.loads(tab.run(ask))
        cells.append(f"{rate:>6.1f} {worst:>7.0f} {lag:>8,}")
    for share in ("1", "0.5"):
        took, frames = json.loads(tab.run(JUMP.replace("SHARE", share)))
        cells.append(f"{took / 1000:>5.1f} s {frames / took * 1000:>5.0f}/s")
    return " | ".join(cells)


def main() -> None:
    """See the head of this module."""
    driver.PATIENCE = 600.0  # a busy machine takes its time to catch up with a jump
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--moves", type=int, default=100_000)
    made = films(parser.parse_args().moves)
    with TemporaryDirectory() as folder, running_browser(sys.exit) as browser:
        page = Path(folder) / "page.html"
        page.write_bytes(page_with("benchmark", "inch-shop", MM, list(made.values())))
        tab = browser.tab()
        tab.size(1280, 800)
        tab.open(page)
        print(f"{'file':<8} {'moves':>9} | above: a second, worst ms, lag | section | to the end | to the middle")
        for number, name in enumerate(made):
            print(f"{name:<8} {measured(tab, number)}", flush=True)


if __name__ == "__main__":
    main()
