"""The end of each file and ride in the page against its proof, in a browser: all examples and starters, both kits.

    PYTHONPATH=tests python tests/player/every_end.py [NAME ...]      # all, or the jobs whose names begin so

A line for each job and kit, with what its page weighs and how long it takes to be there; then each film whose end
differs, in wood or in time. Exit status 1 where one does. Jobs that a kit refuses are said to be refused. It takes
minutes.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from support import browser as driver
from support.browser import Tab, running_browser
from support.page import at_the_end, built, films_of, sheet_times, time_faults
from written.run import KITS, jobs

from jigcam.errors import JigcamError
from jigcam.player.page import page_of


def ends(tab: Tab, path: Path) -> tuple[float, dict[str, dict[str, Any]]]:
    """How long the page takes to be there, s, and what it says at the end of each of its films, by their names."""
    begun = time.perf_counter()
    tab.open(path)
    tab.wait("document.body.dataset.drawn === 'all' || !jigcamPlayer.films.length")
    took, found = time.perf_counter() - begun, {}
    for number in range(tab.run("jigcamPlayer.films.length")):
        tab.run(f"jigcamPlayer.choose({number})")
        found[tab.run("jigcamPlayer.film.name")] = at_the_end(tab, hurried=True)
    assert tab.messages == [], tab.messages
    return took, found


def tried(tab: Tab, job: Path, kit: str, page: Path) -> bool:
    """One job with one kit, told in a line. Returns whether nothing differs."""
    name = f"{job.stem}, {kit}"
    try:
        made = built(job, kit)
        page.write_bytes(page_of(made))
    except JigcamError as refused:
        print(f"{name:<46} refused: {str(refused).splitlines()[0][:60]}", flush=True)
        return True
    took, found = ends(tab, page)
    verdicts = Counter(end["verdict"] for end in found.values())
    rows = [row[-1] for end in found.values() for row in end["rows"]]
    said = ", ".join(f"{count} {verdict}" for verdict, count in sorted(verdicts.items())) or "nothing to play"
    told = f"{said}; {rows.count('yes')} of {len(rows)} sums agree"
    times = sum(each["kind"] == "mill" for each in tab.run("jigcamPlayer.films.map(({kind}) => ({kind}))"))
    told += f"; {times} times as on the sheet"
    print(f"{name:<46} {told}; {page.stat().st_size / 1e6:.2f} MB, there in {took:.2f} s", flush=True)
    late = time_faults(films_of(made), sheet_times(made))
    for fault in late:
        print(f"    {fault}", flush=True)
    for film, end in found.items():
        if end["verdict"] == "differs":
            print(f"    {film}: {[row for row in end['rows'] if row[-1] == 'no']}", flush=True)
    return not verdicts["differs"] and not late


def main() -> int:
    """See the head of this module."""
    driver.PATIENCE = 600.0
    with TemporaryDirectory() as folder, running_browser(sys.exit) as browser:
        tab = browser.tab()
        tab.size(1280, 800)
        wanted = [job for _, job in jobs(Path(folder)) if job.stem.startswith(tuple(sys.argv[1:] or ("",)))]
        good = [tried(tab, job, kit, Path(folder) / "page.html") for job in wanted for kit in KITS]
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
