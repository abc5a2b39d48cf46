"""The shipped cabinet, whole: every joint is proved with both kits and fits as asked; joints leave each other alone."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from support.jobs import Table
from support.shop import jigcam

from jigcam.piece.rules import RULES as BETWEEN_JOINTS

CABINET = Path(__file__).parents[2] / "examples" / "music-cabinet" / "cabinet.toml"
GOUGE, LEFT, FIT = 0.005, 0.01, 0.02
"""mm: the bars of the design for a written cut, and for a fit."""
KINDS = {"groove", "sliding-dovetail", "through-dovetail", "half-blind-dovetail"}


def measured(fit: Table) -> list[tuple[float, float, float]]:
    """What was asked for at each place, and the least and the most that the virtual cuts give there, mm: in all across
    a groove, at each flank of a dovetail."""
    return [
        (each["clearance_drawn_mm"], each.get("total_mm", each["least_mm"]), each.get("total_mm", each["most_mm"]))
        for each in (fit, *fit.get("places", ()))
    ]


@pytest.mark.parametrize("kit", ["inch-shop", "metric-shop"])
def test_every_joint_of_the_cabinet_is_proved_and_fits(kit: str) -> None:
    job = tomllib.loads(CABINET.read_text("utf-8"))
    run = jigcam("check", CABINET, "--kit", kit, "--json")
    assert run.status == 0, run.err
    proofs = {each["joint"]: each for each in run.json["proof"]}
    assert set(proofs) == {each["name"] for each in job["joints"]}
    assert {each["kind"] for each in job["joints"]} == KINDS
    for name, proof in proofs.items():
        assert proof["gouge_mm"] <= GOUGE, name
        assert proof["left_mm"] <= LEFT, name
        assert proof["fit"], name
        for drawn, least, most in measured(proof["fit"]):
            assert abs(least - drawn) <= FIT, name
            assert abs(most - drawn) <= FIT, name
    spoken = {each["rule"] for each in run.json["findings"] if each["level"] != "note"}
    assert not spoken & set(BETWEEN_JOINTS), "cut in the order of the job, no joint takes away what another needs"
