"""Which strokes follow earlier ones, and how many pairs that takes."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.geometry import disc
from jigcam.kit import load_kit
from jigcam.proof import Removal, Stock, Target, following, prove
from jigcam.proof.following import SAME_WAY, followed
from jigcam.proof.strokes import Strokes
from jigcam.proof.travel import Travel


def standing(places: np.ndarray, low: np.ndarray) -> Travel:
    """Strokes straight down from the face, one after the other."""
    count = len(low)
    return Travel(Strokes.lines(places, places), np.zeros(count), low, np.arange(count))


def by_every_pair(travel: Travel, most: float, least: float) -> np.ndarray:
    """(n,) whether any earlier one at the same place is at most so much higher and at least so much."""
    out = np.zeros(len(travel), bool)
    for i in range(len(travel)):
        at = np.hypot(*(travel.strokes.a[:i] - travel.strokes.a[i]).T) <= SAME_WAY
        above = travel.lowest[:i][at] - travel.lowest[i]
        out[i] = bool(((above <= most) & (above >= least)).any())
    return out


@pytest.mark.parametrize(("most", "least"), [(SAME_WAY, -np.inf), (SAME_WAY, -SAME_WAY), (0.0, -3.0)])
def test_the_one_that_is_told_decides_as_every_pair_would(most: float, least: float) -> None:
    random = np.random.default_rng(7)
    places = np.array([(10.0, 10.0), (10.0, 10.001), (30.0, 10.0)])[random.integers(3, size=300)]
    travel = standing(places, -np.round(random.uniform(0.0, 6.0, 300), 1 + (most > 0.0)))
    i, higher, lower = followed(travel, travel, travel.lowest, most)
    told = np.zeros(len(travel), bool)
    told[i[(higher <= most) & (lower >= least)]] = True
    expected = by_every_pair(travel, most, least)
    assert 20 < expected.sum() < 300, "both answers come"
    assert (told == expected).all()


def test_pecks_in_one_hole_are_paired_once_each_and_not_with_all_before(monkeypatch: pytest.MonkeyPatch) -> None:
    pairs = 0

    def counted(*asked: object) -> following.Pairs:
        nonlocal pairs
        found = followed(*asked)  # type: ignore[arg-type]
        pairs += len(found[0])
        return found

    monkeypatch.setattr("jigcam.proof.ground.followed", counted)
    pecks = 400
    lines = ["G17 G21 G40 G49 G80 G90 G94 G54 G61", "G0 Z5", "S16000 M3", "G0 X20 Y20", "G0 Z1"]
    for depth in np.linspace(0.0, -6.0, pecks + 1)[1:]:
        lines += [f"G1 Z{depth:.4f} F500", "G0 Z1", f"G0 Z{depth + 0.001:.4f}"]
    kit = load_kit("inch-shop")
    target = Target(Stock.of_size(40.0, 40.0, 12.7), (Removal.prism("hole", disc(20, 20, 3.175), 6.0),))
    text = "\n".join([*lines, "G0 Z5", "M5", "M30", ""])
    proof = prove(text, target, kit.the_machine, kit.bit("straight 1/4"))
    assert not [finding for finding in proof.findings if finding.level == "stop"]
    assert 0 < pairs <= 2 * pecks, "it was pecks squared: 16,000 moves took 12 s and 1.6 GB"


def test_a_rapid_into_wood_below_the_last_peck_is_still_found() -> None:
    kit = load_kit("inch-shop")
    target = Target(Stock.of_size(40.0, 40.0, 12.7), (Removal.prism("hole", disc(20, 20, 3.175), 6.0),))
    lines = ["G17 G21 G40 G49 G80 G90 G94 G54 G61", "G0 Z5", "S16000 M3", "G0 X20 Y20", "G0 Z1"]
    lines += ["G1 Z-2 F500", "G0 Z1", "G0 Z-2.5", "G1 Z-6 F500", "G0 Z5", "M5", "M30", ""]
    proof = prove("\n".join(lines), target, kit.the_machine, kit.bit("straight 1/4"))
    assert "rapid-in-wood" in {finding.rule for finding in proof.findings}
