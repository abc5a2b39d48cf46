"""Kills runs at random moments, and looks at what is left: the old output whole or the new one, and nothing of a run
that was asked to end; the next run cleans up after one that was killed.

Run from the checkout: PYTHONPATH=tests python -m attacks.kills [--kills N] [--programs N] [--seed S]
"""

from __future__ import annotations

import argparse
import hashlib
import json
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from attacks.writer import version
from support.jobs import job_table, write_job

from jigcam.workshop.folder import check_folder, write_folder

LONGEST_WAIT = 0.06
"""s from the first word of a writer to its end; it writes a folder in some milliseconds."""
SIGNALS = tuple(
    each
    for each in (signal.SIGKILL, signal.SIGKILL, signal.SIGTERM, signal.SIGHUP)
    if signal.getsignal(each) is not signal.SIG_IGN
)
"""What ends a run; a signal that is ignored here (SIGHUP under nohup) would be by the run as well.

SIGKILL stands twice: it is what nothing can prepare for.
"""


@dataclass
class Tally:
    """What the kills came to. counts: by what was seen; faults: what must not be."""

    counts: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)

    def table(self) -> str:
        """Counts, one a line."""
        return "\n".join(f"{count:6}  {what}" for what, count in sorted(self.counts.items()))


def is_whole(folder: Path) -> bool:
    """Whether a folder holds exactly what its manifest says, to the last byte."""
    try:
        entries = json.loads((folder / "manifest.json").read_bytes())["files"]
        sums = {entry["file"]: entry["sha256"] for entry in entries}
    except (OSError, ValueError):
        return False
    there = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*") if not p.is_dir()}
    return there.keys() == {*sums, "manifest.json"} and all(
        hashlib.sha256(there[name].read_bytes()).hexdigest() == wanted for name, wanted in sums.items()
    )


def kill_writers(count: int, seed: int, tally: Tally) -> None:
    """Kill processes that do nothing but write folders."""
    dice = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        for number in range(count):
            place = Path(name) / str(number)
            place.mkdir()
            way, first = dice.choice(("exchange", "aside")), dice.random() < 0.1
            if not first:
                write_folder(place / "out", version(0))
            end = dice.choice(SIGNALS)
            kill_one(place, [sys.executable, "-m", "attacks.writer", str(place / "out"), way], end, dice, first, tally)
            if end is signal.SIGKILL:
                write_folder(place / "out", version(-1), replace=True)
                note_next(place, f"{way}, kill {number} of seed {seed}", tally)
            shutil.rmtree(place)


def kill_one(place: Path, command: list[str], end: int, dice: random.Random, first: bool, tally: Tally) -> None:
    """Start a writer, end it, and note what is left."""
    run = subprocess.Popen(command, stdout=subprocess.PIPE, env={"PYTHONPATH": ":".join(sys.path)})
    assert run.stdout is not None
    run.stdout.readline()
    time.sleep(dice.uniform(0.0, LONGEST_WAIT))
    run.send_signal(end)
    run.wait()
    run.stdout.close()
    note(place, run.returncode, end, command[-1], first, tally)


def note(place: Path, status: int, end: int, way: str, first: bool, tally: Tally) -> None:
    """Judge what a run that was ended has left in a place, whose output is called out."""
    beside = sorted(path.name for path in place.iterdir() if path.name != "out")
    hidden = [name for name in beside if name.startswith(".")]
    shown = [name for name in beside if not name.startswith(".")]
    name = signal.Signals(end).name
    tally.counts[f"{name}, {way}"] += 1
    if status != -end:
        tally.faults.append(f"{name} gave status {status}")
    if (place / "out").exists():
        whole = is_whole(place / "out")
        tally.counts["the folder there and whole"] += whole
    else:
        whole = first or any(is_whole(place / other) for other in shown)
        tally.counts["no folder yet" if first else "the old folder beside, in sight and whole"] += whole
    tally.counts["leftovers hidden"] += bool(hidden)
    if not whole or (shown and way == "exchange"):
        tally.faults.append(f"{name}, {way}: {sorted(path.name for path in place.iterdir())}, not whole")
    if beside and end != signal.SIGKILL:
        tally.faults.append(f"{name}, {way}: {beside} was left")


def note_next(place: Path, what: str, tally: Tally) -> None:
    """Judge what there is after the next run."""
    there = sorted(path.name for path in place.iterdir())
    if there != ["out"] or not is_whole(place / "out"):
        tally.faults.append(f"{what}: after the next run there is {there}")
    tally.counts["clean after the next run"] += there == ["out"]


def kill_programs(count: int, seed: int, tally: Tally) -> None:
    """Kill whole runs of `jigcam make --replace`, from their first moment to their last."""
    dice = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        job = write_job(Path(name) / "job", job_table("mm", length=60, width=12.5, receives=None))
        place = Path(name) / "place"
        command = [sys.executable, "-m", "jigcam", "make", str(job), "-o", str(place / "out"), "--replace"]
        begun = time.monotonic()
        subprocess.run(command, check=True, capture_output=True)
        lasts = time.monotonic() - begun
        for number in range(count):
            run = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
            time.sleep(dice.uniform(0.3, 1.05) * lasts)
            end = dice.choice(SIGNALS)
            run.send_signal(end)
            _, said = run.communicate()
            if run.returncode == 0:
                tally.counts["the program was quicker"] += 1
            else:
                note(place, run.returncode, end, "exchange", False, tally)
            if b"Traceback" in said:
                tally.faults.append(f"program {number} of seed {seed} said: {said.decode('utf-8', 'replace')}")
            check_folder(place / "out", replace=True)
            note_next(place, f"program {number} of seed {seed}", tally)


def main() -> int:
    """Print the counts; exit status 1 if anything was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name, default in (("kills", 300), ("programs", 40), ("seed", 1)):
        parser.add_argument(f"--{name}", type=int, default=default)
    asked = parser.parse_args()
    tally = Tally()
    kill_writers(asked.kills, asked.seed, tally)
    kill_programs(asked.programs, asked.seed, tally)
    print(tally.table())
    print("\n".join(tally.faults) or "nothing found")
    return bool(tally.faults)


if __name__ == "__main__":
    sys.exit(main())
