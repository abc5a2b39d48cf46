"""Mutates files, lets the judge and the proof decide, and counts by kind.

Run from the checkout: PYTHONPATH=tests python -m mutations.run [--case NAME] [--every N] [--seed S] [--jobs N]
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import random
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection

from mutations.cases import DOVETAILS, KINDS, Case, example_cases, hand_cases, kind_cases
from mutations.judge import Judge
from mutations.mutate import Mutant, mutants


@dataclass
class Tally:
    """How many mutants of each kind were judged how; missed: harmful and passed; false: harmless and refused."""

    counts: dict[str, Counter[str]] = field(default_factory=dict)
    missed: list[str] = field(default_factory=list)
    false: list[str] = field(default_factory=list)

    def note(self, case: Case, mutant: Mutant, verdict: str, why: str, stopped: str) -> None:
        """Books one mutant."""
        row = self.counts.setdefault(mutant.kind, Counter())
        row["mutants"] += 1
        row[verdict] += 1
        row["refused"] += bool(stopped)
        told = f"{case.name}, line {mutant.line}, {mutant.kind}: {mutant.says}"
        if verdict == "harmful" and not stopped:
            row["missed"] += 1
            self.missed.append(f"{told} — {why}")
        if verdict == "harmless" and stopped:
            row["false"] += 1
            self.false.append(f"{told} — {stopped}")

    @property
    def size(self) -> int:
        """How many were judged."""
        return sum(row["mutants"] for row in self.counts.values())

    def table(self) -> str:
        """Counts by kind."""
        names = ("mutants", "harmful", "open", "harmless", "refused", "missed", "false")
        lines = [f"{'kind':24}" + "".join(f"{name:>10}" for name in names)]
        total: Counter[str] = Counter()
        for kind in sorted(self.counts):
            total.update(self.counts[kind])
            lines.append(f"{kind:24}" + "".join(f"{self.counts[kind][name]:10}" for name in names))
        lines.append(f"{'all':24}" + "".join(f"{total[name]:10}" for name in names))
        return "\n".join(lines)


def judge_all(cases: list[Case], every: int = 1, seed: int = 0, *, jobs: int = 1, told: bool = False) -> Tally:
    """Judges one in `every` mutants of all cases, chosen by the seed, in `jobs` processes.

    told: prints how far it is after each case.
    """
    tally = Tally()
    for case in cases:
        chance = random.Random(f"{seed} {case.name}")
        chosen = [mutant for mutant in mutants(case.text) if every == 1 or not chance.randrange(every)]
        for mutant, (verdict, why, stopped) in zip(chosen, _judged(case, chosen, jobs), strict=True):
            tally.note(case, mutant, verdict, why, stopped)
        if told:
            done = f"{tally.size} mutants so far, {len(tally.missed)} missed, {len(tally.false)} refused without harm"
            print(f"{case.name}: {done}", file=sys.stderr, flush=True)
    return tally


Judged = tuple[str, str, str]
"""The judge's verdict, why, and why the proof refuses ("" if it does not)."""


def _judged(case: Case, chosen: list[Mutant], jobs: int) -> list[Judged]:
    judge = Judge(case.text, case.shop)

    def one(mutant: Mutant) -> Judged:
        return (*judge.verdict(mutant.text), case.stopped(mutant.text))

    if jobs == 1:
        return [one(mutant) for mutant in chosen]
    # Forked processes share what cannot be sent (drawings hold functions); each takes every `jobs`-th mutant.
    context = multiprocessing.get_context("fork")
    pipes = []
    for number in range(jobs):
        receiver, sender = context.Pipe(duplex=False)
        work = [one, chosen[number::jobs], sender]
        context.Process(target=_send, args=work).start()
        sender.close()
        pipes.append(receiver)
    parts = [pipe.recv() for pipe in pipes]
    return [parts[place % jobs][place // jobs] for place in range(len(chosen))]


def _send(one: Callable[[Mutant], Judged], some: list[Mutant], sender: Connection) -> None:
    sender.send([one(mutant) for mutant in some])


def main() -> int:
    """Prints the counts, then every mutant that was judged differently; status 1 if there is one."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--case", help="only the files whose name holds this")
    parser.add_argument("--every", type=int, default=1, help="only one in so many mutants")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    chosen = parser.parse_args()
    kinds = [case for name in KINDS for case in kind_cases(name)]
    every = (*hand_cases(), *example_cases(), *example_cases(DOVETAILS), *example_cases(("shelf-and-strip",)), *kinds)
    cases = [case for case in every if chosen.case is None or chosen.case in case.name]
    tally = judge_all(cases, chosen.every, chosen.seed, jobs=chosen.jobs, told=True)
    print(tally.table())
    for title, lines in (("missed", tally.missed), ("refused without harm", tally.false)):
        print(f"\n{title}: {len(lines)}")
        for line in lines:
            print(f"  {line}")
    return 1 if tally.missed or tally.false else 0


if __name__ == "__main__":
    sys.exit(main())
