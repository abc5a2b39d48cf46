"""The usual cautions say what the rules that they name ask for."""

from __future__ import annotations

from jigcam.making.cautions import BY_BITS, cautions


def test_the_noise_rules_of_two_countries() -> None:
    """The US rule was told as the UK's. Control of Noise at Work Regulations 2005 (read); 29 CFR 1910.95: offered from
    85 dBA (read), worn from 90 dBA over eight hours (from memory)."""
    (noise,) = (each for each in BY_BITS if "1910.95" in each)
    before, after = noise.split("; in the US")
    assert "required from there in the UK" in before
    assert "85 dB(A)" in before
    assert "offered from 85 dBA" in after
    assert "worn from 90 dBA over eight hours" in after


def test_work_with_saw_and_chisel_alone_is_not_told_of_routers() -> None:
    told = " ".join(cautions(machine=False, hand=False, units="mm", edge_tools=True, routed=False))
    assert "eye and dust protection" in told
    assert "Wood dust" in told
    for word in ("bit", "collet", "Routers", "template", "Unplug", "rotation"):
        assert word not in told
    assert "Unplug" in " ".join(cautions(machine=False, hand=False, units="mm", edge_tools=True, routed=True))


def test_no_caution_says_where_its_writer_has_it_from() -> None:
    """What was read and what is from memory stands in the docstring and beside the check."""
    assert "memory" not in " ".join(cautions(machine=True, hand=True, units="in", edge_tools=True))
