"""Draws jobs and kits at random and makes them in memory: what the planner plans, the proof has to accept.

Every kind that the folder holds takes part: jobs of its strategy, the same with numbers and words changed, and, for the
kinds that are known here, jobs of sizes far beyond the usual. A job is made, or refused by a rule before anything is
proved, or an input error. Anything else is a fault: another exception, files that their own proof refuses, or more than
`SLOWEST` seconds. Faults are printed with job and kit as TOML.

Run from the checkout: PYTHONPATH=tests python -m attacks.jobs [--jobs N] [--seed S]
"""

from __future__ import annotations

import argparse
import random
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType
from typing import Any

from attacks.wild_mortises import wild_mortise
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import seed as seeded
from support.every_kind import jobs as jobs_of
from support.jobs import Table, job_table, kit_table, toml, write_job

from jigcam.errors import InputError, JigcamError, Refused
from jigcam.findings import Finding, stops
from jigcam.job import kit_for
from jigcam.joints import kind_names, load_job
from jigcam.making.built import Built
from jigcam.workshop.build import plan_job
from jigcam.workshop.contents import folder_content

FEEDS = (
    (400.0, 400.0, 150.0),
    (1500.0, 1300.0, 333.0),
    (1270.0, 1270.0, 254.1),
    (7800.0, 7800.0, 2900.0),
    (5000.0, 5000.0, 300.0),
)
"""mm/min along x, y, z: slow and fast machines, and limits that no inch says exactly."""
SLOWEST = 60.0
"""s of the processor that one job may take, proof and pictures included: as good a measure on a busy machine."""


@dataclass(frozen=True)
class Drawn:
    """A job and its kit, as tables."""

    job: Table
    kit: Table

    def __str__(self) -> str:
        return f"# job.toml\n{toml({**self.job, 'kit': 'kit.toml'})}# kit.toml\n{toml(self.kit)}"


@dataclass
class Tally:
    """What the jobs came to. counts: by outcome; rules: those that refused; faults: with how to see them again."""

    counts: Counter[str] = field(default_factory=Counter)
    rules: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    slowest: tuple[float, str] = (0.0, "")

    def lines(self) -> Iterator[str]:
        """For people."""
        for what, count in sorted(self.counts.items()):
            yield f"{count:8}  {what}"
        yield "refused by: " + ", ".join(f"{rule} {count}" for rule, count in self.rules.most_common())
        yield f"slowest: {self.slowest[0]:.1f} s, {self.slowest[1]}"


class TooSlow(BaseException):
    """Raised by the clock; no JigcamError, and no Exception that anything in between may swallow."""


# ---- what becomes of a job


def outcome(drawn: Drawn) -> tuple[str, tuple[str, ...], str]:
    """What becomes of a job: its class, the rules that refused it, and what is wrong (empty where nothing is)."""
    with tempfile.TemporaryDirectory() as folder:
        path = write_job(Path(folder), drawn.job, drawn.kit)
        try:
            job = load_job(path)
            kit = kit_for(job, None)
            made = plan_job(job, kit)
        except Refused as refused:
            rules = tuple(finding.rule for finding in refused.findings if finding.level == "stop")
            return "refused by a rule", rules, "" if rules else f"refused without a finding: {refused}"
        except JigcamError as error:
            plain = str(error) if isinstance(error, InputError) else "faults of its keys"
            return "input error", (), "" if plain else "an error without words"
        built = Built(job, kit, made, tuple(each.proved(each.texts) for each in made))
        if stops(built.findings):
            said = [f"{f.rule}, {f.where}: {f.says}" for f in built.findings if f.level == "stop"]
            rules = tuple(dict.fromkeys(_stopping(built.findings)))
            return "refused by its own proof", rules, "\n".join(f"# {line}" for line in said[:6])
        folder_content(built)
        return "made", (), ""


def _stopping(findings: Sequence[Finding]) -> Iterator[str]:
    return (finding.rule for finding in findings if finding.level == "stop")


@contextmanager
def clock(seconds: float) -> Iterator[None]:
    """Ends what takes more seconds of the processor, with `TooSlow`."""

    def ring(number: int, frame: FrameType | None) -> None:
        raise TooSlow

    before = signal.signal(signal.SIGPROF, ring)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)


def tried(drawn: Drawn, name: str, tally: Tally) -> None:
    """Makes a job in memory, and notes how that ends. name: how to see it again."""
    begun = time.process_time()
    rules: tuple[str, ...] = ()
    try:
        with clock(SLOWEST):
            what, rules, wrong = outcome(drawn)
    except TooSlow:
        what, wrong = "too slow", f"# more than {SLOWEST:g} s"
    except Exception as fault:
        what = "an exception"
        trace = traceback.format_exception(fault)[-3:]
        wrong = "\n".join(f"# {line}" for part in trace for line in part.rstrip().split("\n"))
    tally.slowest = max(tally.slowest, (time.process_time() - begun, name))
    tally.counts[f"{drawn.job['joints'][0]['kind']}: {what}"] += 1
    tally.counts[f"all: {what}"] += 1
    tally.rules.update(dict.fromkeys(rules, 1))
    if wrong:
        tally.faults.append(f"# ---- {name}: {what} {', '.join(rules)}\n{wrong}\n{drawn}")


def try_jobs(count: int, seed: int, tally: Tally, kinds: Sequence[str] = (), tell: bool = False) -> None:
    """Draws jobs and tries them. kinds: all that the folder holds, if none are named. tell: print faults at once."""
    dice = random.Random(seed)
    names = tuple(kinds) or kind_names()
    pools = {name: strategy_jobs(name, 1 + count // len(names), seed) for name in names}
    for number in range(count):
        drawn = any_job(names[number % len(names)], pools, dice)
        before = len(tally.faults)
        tried(drawn, f"job {number} of seed {seed}", tally)
        if tell:
            print("\n".join(tally.faults[before:]), end="", flush=True)


# ---- jobs and kits


def strategy_jobs(name: str, count: int, seed: int) -> list[Table]:
    """Jobs of a kind's strategy, the same for the same seed."""
    found: list[Table] = []

    @seeded(seed)
    @settings(
        max_examples=count,
        database=None,
        phases=[Phase.generate],
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(jobs_of(name))
    def collect(table: Table) -> None:
        found.append(table)

    collect()
    return found


def any_job(name: str, pools: Mapping[str, list[Table]], dice: random.Random) -> Drawn:
    """A job of a kind with a kit: usual, changed, or far from usual."""
    units = dice.choice(("in", "mm"))
    if name in WILD and dice.random() < 0.75:
        table = WILD[name](dice)
    else:
        table = dice.choice(pools[name])
        if dice.random() < 0.6:
            table = changed(table, dice)
    return Drawn(table, any_kit(units, dice))


def changed(table: Table, dice: random.Random) -> Table:
    """The same job with some of its joint's numbers scaled."""
    (joint,) = table["joints"]
    numbers = [key for key, value in joint.items() if isinstance(value, float)]
    scaled = {
        key: round(joint[key] * dice.choice((0.3, 0.7, 0.9, 1.1, 1.5, 3.0)), 2)
        for key in numbers
        if dice.random() < 0.3
    }
    return {**table, "joints": [{**joint, **scaled}]}


def any_kit(units: str, dice: random.Random) -> Table:
    """A shipped kit, or one with another machine or router."""
    machine: Table = {}
    router: Table = {}
    choices: Mapping[str, Sequence[Any]] = {
        "arcs": (False,),
        "output_units": ("in", "mm"),
        "tool_change": ("automatic", "pause", "file-per-bit"),
        "measures_bits": (True,),
        "roughing": ("conventional",),
        "finishing": ("conventional",),
        "drilling_cycles": (True,),
        "light": (False,),
        "dial": (None,),
        "nut": (None,),
        "collets": (None,),
        "upright": (None,),
        "omit": (["G61"], ["G61", "G54", "G17"]),
        "spin_up": (0, 8),
        "power": (300, 2200),
    }
    if dice.random() < 0.75:
        for key, values in choices.items():
            if dice.random() < 0.3:
                machine[key] = dice.choice(values)
        if dice.random() < 0.15:
            machine["travel"] = dice.choice((["300 mm", "200 mm", "60 mm"], ["1200 mm", "1200 mm", "150 mm"]))
        if dice.random() < 0.2:
            machine["max_feed"] = [rate / (25.4 if units == "in" else 1.0) for rate in dice.choice(FEEDS)]
        if dice.random() < 0.3:
            router["eccentricity"] = f"{dice.choice((0.0, 0.02, 0.1, 0.4, 1.5, 2.0))} mm"
    sheet = {"thickness": f"{dice.choice((6, 9, 15, 19))} mm"} if dice.random() < 0.2 else {}
    table = kit_table(units, sheet=sheet, router=router, **machine)
    if dice.random() < 0.15:
        table["bits"] = [{key: value for key, value in bit.items() if key != "plunges"} for bit in table["bits"]]
    if dice.random() < 0.15:
        table["bits"] = [bit for bit in table["bits"] if bit["kind"] != "straight" or dice.random() < 0.5]
    return table


def size(dice: random.Random, low: float, high: float) -> float:
    """A length in hundredths of a millimetre; small ones are as frequent as large ones."""
    return round(low * (high / low) ** dice.random(), 2)


def wild_groove(dice: random.Random) -> Table:
    """Grooves of any shape, shorter than wide, thinner than a bit, with and without clearance."""
    length, width, thickness = size(dice, 60, 500), size(dice, 60, 300), size(dice, 8, 30)
    board: Table = {"length": length, "width": width, "thickness": thickness}
    mate = size(dice, 3, 30)
    boards: Table = {"side": board, "shelf": {"length": 300.0, "width": 200.0, "thickness": mate}}
    start, finish = dice.choice(("stopped", "stopped", "open")), dice.choice(("stopped", "stopped", "open"))
    angle = dice.choice((0, 90, 180, 270, 45, dice.randrange(360)))
    middle = [round(length * dice.uniform(0.3, 0.7), 2), round(width * dice.uniform(0.3, 0.7), 2)]
    keys: Table = {
        "angle": angle,
        "length": size(dice, 4, 0.5 * min(length, width)),
        "depth": round(thickness * dice.uniform(0.05, 0.6), 2),
        "face": dice.choice(("inside", "outside")),
        "ends": dice.choice(("round", "square")),
        "start": start,
        "finish": finish,
        "clearance": dice.choice((0, 0, 0.1, 0.15, 0.3)),
        "opposite_hand": dice.random() < 0.2,
        "way": dice.choice(("direct", "direct", "direct", "template")),
    }
    if (start, finish) == ("open", "stopped") and dice.random() < 0.5:
        middle = [middle[0], 0.0]
        keys |= {"angle": dice.choice((90, 90, 75, 120))}
    if start == finish == "open":
        middle = [round(0.5 * length, 2), 0.0]
        keys |= {"angle": 90, "length": width}
    if dice.random() < 0.6:
        keys |= {"receives": None, "clearance": 0, "width": size(dice, 3, 40)}
        if dice.random() < 0.2:
            keys["length"] = round(keys["width"] * dice.choice((0.5, 0.9, 1.0, 1.01, 1.2)), 2)
        if dice.random() < 0.2:
            keys["width"] = dice.choice((3, 6, 8, 10, 6.35, 12.7, 3.175, 6.004, 6.1))
    return job_table("mm", boards=boards, from_=middle, **keys)


def wild_key(dice: random.Random) -> Table:
    """Keys small and large, steep and slender."""
    ends = size(dice, 16, 60)
    entry: Table = {
        "name": "bow ties",
        "kind": "key",
        "board": "top",
        "face": dice.choice(("inside", "outside")),
        "at": [200.0, 150.0],
        "length": size(dice, 20, 140),
        "ends": ends,
        "waist": round(ends * dice.uniform(0.3, 0.95), 2),
        "depth": size(dice, 2, 14),
        "angle": dice.randrange(-90, 91),
    }
    if dice.random() < 0.3:
        entry |= {"count": 2, "spacing": round(ends * dice.uniform(1.1, 2.0), 2)}
    boards = {"top": {"length": 400.0, "width": 300.0, "thickness": size(dice, 15, 30)}}
    return _mm(boards, entry)


def wild_rabbet(dice: random.Random) -> Table:
    """Rabbets from shavings to half a board."""
    length, width, thickness = size(dice, 50, 400), size(dice, 40, 250), size(dice, 6, 30)
    along = dice.choice(("left", "right", "lower", "upper"))
    side, across = (width, length) if along in ("left", "right") else (length, width)
    entry: Table = {
        "name": "back",
        "kind": "rabbet",
        "board": "side",
        "face": dice.choice(("inside", "outside")),
        "along": along,
        "width": size(dice, 0.5, 0.6 * across),
        "depth": size(dice, 0.3, 0.7 * thickness),
    }
    first = round(dice.uniform(0.0, 0.5) * side, 2) if dice.random() < 0.5 else 0.0
    if first:
        entry["from"] = first
    if dice.random() < 0.5:
        entry["length"] = size(dice, 2, side - first)
    boards = {"side": {"length": length, "width": width, "thickness": thickness, "wood": "black cherry"}}
    return _mm(boards, entry)


def wild_dovetail(dice: random.Random) -> Table:
    """Corners of thin and thick boards, narrow pins, in every pairing of setups, relieved, rabbeted or to be pared."""
    count = dice.choice((1, 1, 1, 2, 3))
    width = size(dice, 25, 60) * (0.5 + 0.5 * count)
    boards: Table = {
        "side": {"length": 200.0, "width": round(width, 2), "thickness": size(dice, 6, 24), "wood": "black cherry"},
        "top": {"length": 300.0, "width": round(width, 2), "thickness": size(dice, 6, 24), "wood": "black cherry"},
    }
    end = dice.choice(("left", "right"))
    entry: Table = {
        "name": "corner",
        "kind": "through-dovetail",
        "tails": "side",
        "tails_end": end,
        "pins": "top",
        "pins_end": "right" if end == "left" else "left",
        "count": count,
        "pin": size(dice, 3, 16),
        "half_pin": size(dice, 2, 14),
        "slope": f"1:{dice.randrange(4, 10)}",
        "clearance": dice.choice((0, 0.05, 0.1, 0.3)),
        "corners": dice.choice(("chisel", "relieved")),
        "tails_setup": dice.choice(("upright", "flat", "flat", None)),
        "pins_setup": dice.choice(("upright", "flat", "flat", None)),
    }
    if dice.random() < 0.2:
        entry["rabbet"] = size(dice, 0.5, 3)
    if dice.random() < 0.2:
        entry["pare"] = size(dice, 0.2, 1)
    return _mm(boards, {key: value for key, value in entry.items() if value is not None})


def wild_sliding(dice: random.Random) -> Table:
    """Sockets across and askew, of any base and flank, stopped, tapered, in boards that may be too small."""
    width = size(dice, 40, 250)
    up = dice.random() < 0.6
    base = size(dice, 5, 24)
    stop = dice.choice((None, None, "start", "finish"))
    off = size(dice, 5, 30) if stop else 0.0
    first = off if stop == "start" else 0.0
    entry: Table = {
        "name": "divider",
        "kind": "sliding-dovetail",
        "socket": "top",
        "face": dice.choice(("inside", "outside")),
        "from": [size(dice, 10, 190), first if up else round(width - first, 2)],
        "angle": (90 + dice.choice((0, 0, 5, -20))) * (1 if up else -1),
        "length": round(max(width - off, 5.0), 2),
        "depth": size(dice, 3, 14),
        "base": base,
        "tail": "divider",
        "tail_end": dice.choice(("left", "right")),
        "angle_of_flank": dice.choice((7, 8, 14, 9, None)),
        "taper": dice.choice((0, 0, round(0.05 * base, 2))),
        "clearance": dice.choice((0, 0.05, 0.1, 0.3)),
        "preclear": dice.random() < 0.8,
        "tail_way": dice.choice(("upright", "upright", "hand")),
    }
    if stop:
        entry[stop] = "stopped"
    if dice.random() < 0.5:
        entry |= {"way": "template", "tail_way": dice.choice(("upright", "router-table", "hand"))}
    boards: Table = {
        "top": {"length": 200.0, "width": width, "thickness": size(dice, 10, 30), "wood": "black cherry"},
        "divider": {
            "length": 200.0,
            "width": round(width * dice.choice((1.0, 1.0, 0.8, 1.1)), 2),
            "thickness": round(base * dice.uniform(0.9, 2.2), 2),
            "wood": "black cherry",
        },
    }
    return _mm(boards, {key: value for key, value in entry.items() if value is not None})


def _mm(boards: Table, joint: Table) -> Table:
    return {"job": "Sheet-music cabinet", "units": "mm", "boards": boards, "joints": [joint]}


WILD: Mapping[str, Callable[[random.Random], Table]] = {
    "groove": wild_groove,
    "key": wild_key,
    "mortise": wild_mortise,
    "rabbet": wild_rabbet,
    "sliding-dovetail": wild_sliding,
    "through-dovetail": wild_dovetail,
}


def main() -> int:
    """Print the counts; exit status 1 if anything was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", action="append", default=[], choices=kind_names())
    asked = parser.parse_args()
    tally = Tally()
    try_jobs(asked.jobs, asked.seed, tally, asked.kind, tell=True)
    print("\n".join(tally.lines()))
    print(f"{len(tally.faults)} faults" if tally.faults else "nothing found")
    return bool(tally.faults)


if __name__ == "__main__":
    sys.exit(main())
