"""Hand-written files against their drawings: all of them pass, and say why not when a word is changed."""

from __future__ import annotations

import pytest
from support.hand_files import HandFile, hand_files
from support.hand_targets import target_of

from jigcam.findings import stops
from jigcam.kit import load_kit
from jigcam.proof import Proof, prove

KIT = load_kit("inch-shop")
FILES = {file.name: file for file in hand_files()}


def judged(file: HandFile, text: str | None = None) -> Proof:
    return prove(text or file.text, target_of(file), KIT.machine, KIT.bit(file.bit))


@pytest.mark.parametrize("name", FILES)
def test_all_pass(name: str) -> None:
    proof = judged(FILES[name])
    assert not stops(proof.findings), proof.findings
    assert proof.gouge_mm <= 0.005
    assert proof.left_mm <= 0.010
