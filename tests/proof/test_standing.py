"""What is left to look at in a layer, where the one below it is swept already."""

from __future__ import annotations

from itertools import pairwise

import pytest

from jigcam.geometry import Region, difference, disc, rectangle
from jigcam.proof import Removal, Stock, Target, standing


def test_slots_at_depths_of_their_own_need_no_difference(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is swept in the layer below is told by its loops; a ring among them goes with its hole."""
    ring = difference(disc(60, 10, 8), disc(60, 10, 3))
    wells = [rectangle(10, 5, 20, 15), disc(35, 10, 4), ring, rectangle(80, 5, 90, 15)]
    removals = tuple(Removal.prism(f"well {k}", well, 2.0 + k) for k, well in enumerate(wells))
    target = Target(Stock.of_size(100.0, 20.0, 12.7), removals)
    layers = [layer for layer in target.layers if not target.must((layer.low + layer.high) / 2.0).is_empty]
    musts = [target.must((layer.low + layer.high) / 2.0) for layer in reversed(layers)]
    expected = [difference(above, below) for below, above in pairwise(musts)]

    def refused(*_: Region) -> Region:
        raise AssertionError("a difference is taken of what the loops tell")

    monkeypatch.setattr(standing, "difference", refused)
    rests = [standing._rest(above, below) for below, above in pairwise(musts)]
    assert len(rests) == 3
    for rest, true in zip(rests, expected, strict=True):
        assert rest.area == pytest.approx(true.area)
        assert difference(rest, true).is_empty
    assert standing._rest(musts[0], musts[0]).is_empty
