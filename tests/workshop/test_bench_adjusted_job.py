"""A job remade after a correction: the groove that the true bushing cuts is as wide as wanted."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from support.grooves import groove_job, made

from jigcam.geometry import rectangle
from jigcam.kit import Kit, adjusted, load_kit, profiles_folder, write_measured
from jigcam.making.template import milled_opening
from jigcam.proof import ride
from jigcam.proof.fit import across
from jigcam.template import plan_template
from jigcam.units import Voice
from jigcam.workshop.build import build_job

BIT, BUSHING = "straight 12", "bushing 24"


def corrected(folder: Path, off: float) -> Kit:
    """The metric shop after a test cut whose groove came out `off` mm narrower than it should."""
    path = folder / "shop.toml"
    path.write_bytes((profiles_folder() / "metric-shop.toml").read_bytes())
    kit = load_kit(str(path))
    opening = 24.36
    result = adjusted(
        kit,
        kit.bit(BIT),
        kit.bushing(BUSHING),
        opening=opening,
        width=opening - 12.0 - off,
        date=datetime.date(2024, 5, 31),
    )
    return write_measured(path, result.measured, kit.units)


@pytest.mark.parametrize("off", [-0.6, -0.08, 0.0, 0.13, 0.9])
def test_the_groove_of_the_true_bushing(tmp_path: Path, off: float) -> None:
    kit = corrected(tmp_path, off)
    groove = made(groove_job(shelf=12.2, clearance=0.15))
    (cut,) = groove.cuts()
    plan = plan_template(cut, kit, bit=kit.bit(BIT), bushing=kit.bushing(BUSHING), voice=Voice("mm"))
    assert plan.offset == pytest.approx((12.0 + off) / 2.0)
    # The ride knows the bushing as it really is: 24 mm and what it was off.
    ridden = ride(
        plan.opening, 24.0 + off, 12.0, cut.solid.section(0.0), rectangle(0, 0, 560, 285), centreline=cut.centreline
    )
    assert ridden.gouge_mm < 0.005
    assert ridden.left_mm < 0.005
    width = across(ridden.cut, cut.centreline, 10.0).width
    assert width.min() == pytest.approx(12.35, abs=0.005)
    assert width.max() == pytest.approx(12.35, abs=0.005)
    notes = [finding for finding in plan.findings if finding.rule == "measured-pair"]
    assert len(notes) == 1
    assert "2024-05-31" in notes[0].says


def test_from_the_text_of_the_remade_files(tmp_path: Path) -> None:
    """The same from the file that mills the template, as it is written."""
    off = 0.13
    kit = corrected(tmp_path, off)
    job = groove_job(shelf=12.2, clearance=0.15, bit=BIT, bushing=BUSHING)
    built = build_job(job, kit)
    (cut,) = made(job).cuts()
    plan = plan_template(cut, kit, bit=kit.bit(BIT), bushing=kit.bushing(BUSHING), voice=Voice("mm"))
    texts = {file.file: file.text for file in built.gcode_files}
    opening = milled_opening(plan, built.gcode_files, texts, kit)
    ridden = ride(
        opening, 24.0 + off, 12.0, cut.solid.section(0.0), rectangle(0, 0, 560, 285), centreline=cut.centreline
    )
    width = across(ridden.cut, cut.centreline, 10.0).width
    assert width.min() == pytest.approx(12.35, abs=0.005)
    assert width.max() == pytest.approx(12.35, abs=0.005)
    assert "measured-pair" in {finding.rule for finding in built.findings}
    assert built.proofs[0].outcome.fit_dict()["total_mm"] == pytest.approx(0.15, abs=0.005)
