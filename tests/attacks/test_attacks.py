"""A seeded sample of the attacks; the long runs are commands in DEVELOPERS.md."""

from __future__ import annotations

import pytest
from attacks import damage, kills


def test_no_kill_leaves_half_a_folder_and_the_next_run_cleans_up() -> None:
    tally = kills.Tally()
    kills.kill_writers(16, 12, tally)
    kills.kill_programs(3, 12, tally)
    assert tally.faults == []
    assert tally.counts["leftovers hidden"] > 0, "the sample has to hit runs at work"
    assert {"SIGKILL, exchange", "SIGKILL, aside", "SIGTERM, exchange", "SIGHUP, aside"} <= set(tally.counts)


@pytest.mark.parametrize("value", [b"9" * 400, b"-1e400"])
def test_a_number_beyond_all_bounds_in_every_place(value: bytes) -> None:
    tally = damage.Tally()
    for number, source in enumerate(damage.sources()):
        for place, raw in enumerate(damage.with_every_value(source, value)):
            damage.read_both(raw, f"value {place} of source {number}", tally)
    assert tally.faults == []
    assert tally.counts["job: faults of its keys"] > 0


def test_damaged_files_are_input_errors() -> None:
    tally = damage.Tally()
    damage.read_damaged(400, 12, tally)
    assert tally.faults == []
    assert min(tally.counts[f"{what}: {how}"] for what in ("job", "kit") for how in ("read", "input error")) > 0
