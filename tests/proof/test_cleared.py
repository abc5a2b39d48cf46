"""Ground that was cleared before: many rapids over it cost what their number costs, in whatever order it was cut."""

from __future__ import annotations

import pytest
from support.hand_files import file_of

from jigcam.findings import stops
from jigcam.geometry import rectangle
from jigcam.kit import load_kit
from jigcam.proof import Removal, Stock, Target, prove
from jigcam.proof import ground as ground_module

KIT = load_kit("inch-shop")
BIT = KIT.bit("straight 1/4")
AREA = rectangle(16.825, 16.825, 223.175, 83.175)
TARGET = Target(
    Stock.of_size(240.0, 100.0, 12.7), (Removal.prism("area", AREA, 2.0, needed=rectangle(30, 30, 200, 60)),)
)
CLEAR = ["G0 X20. Y20.", "G0 Z1.", "G1 Z-2. F200"] + [
    word for k in range(15) for word in (f"X{220 if k % 2 == 0 else 20}. F900", f"Y{20 + 4 * (k + 1)}.")
]


def dips(count: int, z: float = -1.5) -> list[str]:
    """Rapids down into the area, between the ways that cleared it, and out again."""
    lines = ["G0 Z5."]
    for k in range(count):
        lines += [f"G0 X{30 + 180 * (k * 0.618 % 1):.3f} Y{25 + 50 * (k * 0.7548 % 1):.3f}", f"G0 Z{z}", "G0 Z5."]
    return lines


@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Filled with one number for each exact look at a single stroke."""
    seen: list[int] = []
    exact = ground_module.Ground._standing

    def counted(self: ground_module.Ground, one: object, radius: float, z: float, number: int, **rest: bool) -> object:
        seen.append(number)
        return exact(self, one, radius, z, number, **rest)  # type: ignore[arg-type]

    monkeypatch.setattr(ground_module.Ground, "_standing", counted)
    return seen


def test_rapids_over_cleared_ground_are_not_looked_at_one_by_one(looks: list[int]) -> None:
    assert prove(file_of(*CLEAR, *dips(150)), TARGET, KIT.machine, BIT).ok
    assert not looks


def test_the_same_rapids_before_the_cut_meet_wood_at_once(looks: list[int]) -> None:
    proof = prove(file_of("G0 X20. Y20.", *dips(150), *CLEAR), TARGET, KIT.machine, BIT)
    assert "rapid-in-wood" in {finding.rule for finding in stops(proof.findings)}
    assert len(looks) <= 10


def test_below_the_floor_or_over_the_edge_it_is_wood(looks: list[int]) -> None:
    for dip in (["G0 X100. Y50.", "G0 Z-2.1"], ["G0 X226. Y50.", "G0 Z-1.5"]):
        proof = prove(file_of(*CLEAR, "G0 Z5.", *dip), TARGET, KIT.machine, BIT)
        assert "rapid-in-wood" in {finding.rule for finding in stops(proof.findings)}
    assert looks


@pytest.mark.parametrize("thin", [0.0, 0.05])
def test_a_thin_ridge_that_was_left_is_met(thin: float) -> None:
    # Two ways side by side, as wide as the bit, with a ridge between them; a rapid along its middle.
    d = 6.35 + thin
    lines = ["G0 X30. Y30.", "G0 Z1.", "G1 Z-2. F200", "X90. F900", "G0 Z5.", f"G0 X30. Y{30 + d:.4f}", "G0 Z1."]
    lines += ["G1 Z-2. F200", "X90. F900", "G0 Z5.", f"G0 X60. Y{30 + d / 2:.4f}", "G0 Z-1.5", "G0 X62."]
    free = Removal.prism("free", rectangle(0, 0, 240, 100), 2.0, needed=rectangle(40, 29, 60, 31))
    proof = prove(file_of(*lines), Target(TARGET.stock, (free,)), KIT.machine, BIT)
    assert ("rapid-in-wood" in {finding.rule for finding in stops(proof.findings)}) is (thin > 0.0)
