"""A bit that misses a size by less than the slack is taken, and the proof of the file finds nothing in it."""

from __future__ import annotations

import pytest
from support.grooves import groove_job

from jigcam.kit import Kit, load_kit
from jigcam.kit.want import SLACK
from jigcam.workshop.build import build_job

BY = 0.7 * SLACK


def shop(**keys: float) -> Kit:
    """The metric shop with its 12 mm bit alone, changed, and a machine that takes any shank."""
    kit = load_kit("metric-shop")
    bit = kit.bit("straight 12").model_copy(update=keys)
    return kit.model_copy(update={"bits": (bit,), "machine": kit.machine.model_copy(update={"collets": None})})


@pytest.mark.parametrize("kit", [shop(diameter=12.0 + BY), shop(cutting_length=8.0 - BY, shank=20.0)])
def test_a_groove_of_the_size_of_the_bit_but_for_a_hair_is_cut_and_proved(kit: Kit) -> None:
    built = build_job(groove_job(shelf=12.0 - 0.15, depth=8.0, way="direct"), kit)
    assert {bit.name for file in built.gcode_files for bit in file.program.bits} == {"straight 12"}
    assert not [finding for finding in built.findings if finding.level == "stop"]
