"""The usual cautions say what the rules that they name ask for."""

from __future__ import annotations

from jigcam.making.cautions import ALWAYS


def test_the_noise_rules_of_two_countries() -> None:
    """The US rule was told as the UK's. Control of Noise at Work Regulations 2005 (read); 29 CFR 1910.95: offered from
    85 dBA (read), worn from 90 dBA over eight hours (from memory)."""
    (noise,) = (each for each in ALWAYS if "1910.95" in each)
    before, after = noise.split("; in the US")
    assert "required from there in the UK" in before
    assert "85 dB(A)" in before
    assert "offered from 85 dBA" in after
    assert "worn from 90 dBA over eight hours" in after
