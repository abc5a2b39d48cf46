"""How many pictures a second the page that plays the cut draws, with about 100,000 moves, where a browser is installed.

    python tests/benchmarks/bench_page.py [--moves N] [--busy N] [--against FOLDER]

Each file is played in the time given, on the browser's software renderer at 1280 × 800, from above and as a section;
then the slider jumps to the end, and back to the middle. The last one is a ride: the raster under a sheet. Printed:
pictures a second, the longest wait between two, the moves that the wood lagged behind the bit at the most, and how long
the wood took to catch up after the jumps, while the page went on answering. busy: so many processes that keep the
machine from it. against: the `jigcam/player/parts` of another version; each file is then played by both in turn.
Nothing is asserted.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from bench_proof import holes, letters, raster, rings, slots  # noqa: E402
from support import browser as driver  # noqa: E402
from support.browser import Tab, running_browser  # noqa: E402

from jigcam.kit import load_kit  # noqa: E402
from jigcam.player import page as pages  # noqa: E402
from jigcam.player.film import film  # noqa: E402
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
    for each in made.values():
        # Feeds, and a pace for what has none, are what versions before times of their own look for, mm/min.
        each["rapid"], each["strokes"]["feed"] = 3000, [[0, 3000]]
    made["ride"] = ridden(made["raster"])
    return made


def ridden(milled: dict[str, Any]) -> dict[str, Any]:
    """The same moves as those of a router in a template, with the bushing and the sheet that it rides in."""
    x0, y0, x1, y1, _ = milled["stock"]
    bushing = {"radius": 8.5, "collar": 8.0}
    sheet = {
        "outline": [[x0 - 60, y0 - 60, 0, x1 + 60, y0 - 60, 0, x1 + 60, y1 + 60, 0, x0 - 60, y1 + 60, 0]],
        "opening": [[x0 - 5, y0 - 5, 0, x1 + 5, y0 - 5, 0, x1 + 5, y1 + 5, 0, x0 - 5, y1 + 5, 0]],
        "thick": 12.0,
    }
    stages = [
        {"name": f"half {n + 1}", "at": [1, 0, 0, 1, 0, 0], "bushing": bushing, "from": n * 40_000} for n in (0, 1)
    ]
    # `bushing` of its own is what versions before stages look for.
    return {
        **milled,
        "name": "ride",
        "kind": "ride",
        "base": 75.0,
        "bushing": bushing,
        "sheet": sheet,
        "stages": stages,
    }


def page_by(parts: Path | None, made: list[dict[str, Any]]) -> bytes:
    """The page of films with the parts of this version, or of another."""
    own = pages.part
    try:
        if parts is not None:
            # A part that the other version does not have yet was no part of its script.
            has = {each.name: each.read_text("utf-8") for each in parts.iterdir()}
            pages.part = lambda name: has.get(name, "")  # type: ignore[assignment]
        return pages.page_with("benchmark", "inch-shop", MM, made)
    finally:
        pages.part = own


@contextmanager
def busy(count: int) -> Iterator[None]:
    """So many processes that do nothing but keep the machine busy."""
    others = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(count)]
    try:
        yield
    finally:
        for each in others:
            each.kill()
            each.wait()


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
    parser.add_argument("--busy", type=int, default=0)
    parser.add_argument("--against", type=Path)
    asked = parser.parse_args()
    made = films(asked.moves)
    versions = {"this": None, **({"that": asked.against} if asked.against else {})}
    with TemporaryDirectory() as folder, running_browser(sys.exit) as browser, busy(asked.busy):
        print(f"{'file':<12} {'moves':>9} | above: a second, worst ms, lag | section | to the end | to the middle")
        tab = browser.tab()
        tab.size(1280, 800)
        for name, each in made.items():
            for version, parts in versions.items():
                page = Path(folder) / "page.html"
                page.write_bytes(page_by(parts, [each]))
                tab.open(page)
                print(f"{name:<7} {version} {measured(tab, 0)}", flush=True)


if __name__ == "__main__":
    main()
