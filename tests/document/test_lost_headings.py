"""A line such as `[[bits]]` that was lost: its keys stand in the table before it, and one error says so for all."""

from __future__ import annotations

from pathlib import Path

import pytest

from jigcam.errors import Faults
from jigcam.joints import kind, load_job
from jigcam.kit import load_kit
from jigcam.kit.starter import starter_kit


def test_bits_without_their_heading_are_one_fault(tmp_path: Path) -> None:
    """Each of eight keys was an error of its own, with a key of the machine as the likeliest."""
    kit = tmp_path / "kit.toml"
    kit.write_text(starter_kit("mm").replace("\n[[bits]]\n", "\n", 1), "utf-8")
    with pytest.raises(Faults) as caught:
        load_kit(kit)
    (fault,) = caught.value.faults
    assert fault.what == "keys that belong under [[bits]]"
    assert {"name", "diameter", "cutting_length"} <= set(fault.found.split(", "))
    lines = kit.read_text("utf-8").splitlines()
    number = int(fault.where.split(":")[1])
    mended = [*lines[: number - 1], "[[bits]]", *lines[number - 1 :]]
    kit.write_text("\n".join(mended), "utf-8")
    assert load_kit(kit).bits


def test_a_slip_of_one_key_stays_a_slip(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(kind("groove").starter("mm").replace("thickness", "thicknes", 1), "utf-8")
    with pytest.raises(Faults) as caught:
        load_job(job)
    (fault,) = caught.value.faults
    assert fault.mend == "did you mean thickness?"
