"""A seeded sample of random jobs; the long run is a command in DEVELOPERS.md."""

from __future__ import annotations

import pytest
from attacks import jobs
from support.every_kind import small
from support.jobs import kit_table

from jigcam.toolpath.track import Cutter

SLOT: jobs.Drawn = jobs.Drawn(small("groove"), kit_table("mm"))


def test_random_jobs_are_made_or_refused_before_the_proof() -> None:
    tally = jobs.Tally()
    jobs.try_jobs(16, 12, tally)
    assert tally.faults == []
    assert tally.counts["all: made"] > 6, "the sample has to hold jobs that are sound"
    assert tally.counts["all: refused by a rule"] > 0


def test_a_refusal_by_the_proof_is_a_fault_of_the_planner(monkeypatch: pytest.MonkeyPatch) -> None:
    """The tally tells what it is there for: here every bit is taken to be 0.2 mm narrower than it is."""
    monkeypatch.setattr(Cutter, "radius", property(lambda cutter: cutter.bit.radius - 0.1))
    tally = jobs.Tally()
    jobs.tried(SLOT, "a groove", tally)
    assert tally.counts["all: refused by its own proof"] == 1
    (fault,) = tally.faults
    assert "gouge" in fault
    assert "[[joints]]" in fault
    assert "[machine]" in fault


def test_an_exception_is_a_fault_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def no_radius(cutter: Cutter) -> float:
        raise ArithmeticError("no radius")

    monkeypatch.setattr(Cutter, "radius", property(no_radius))
    tally = jobs.Tally()
    jobs.tried(SLOT, "a groove", tally)
    assert tally.counts == {"groove: an exception": 1, "all: an exception": 1}
    assert "no radius" in tally.faults[0]


def test_faults_of_a_job_are_none_of_the_planner() -> None:
    broken = jobs.Drawn({**SLOT.job, "units": "ell"}, SLOT.kit)
    assert jobs.outcome(broken)[::2] == ("input error", "")


def test_a_job_without_end_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(drawn: jobs.Drawn) -> tuple[str, tuple[str, ...], str]:
        while True:
            pass

    monkeypatch.setattr(jobs, "outcome", endless)
    monkeypatch.setattr(jobs, "SLOWEST", 0.05)
    tally = jobs.Tally()
    jobs.tried(SLOT, "a groove", tally)
    assert tally.counts["all: too slow"] == len(tally.faults) == 1
