"""The drawing at a height: what of it has to be united, and that this is the whole drawing."""

from __future__ import annotations

import numpy as np
import pytest
from support.regions import assert_regions_equal

from jigcam.geometry import Region, disc, rectangle, slot, union
from jigcam.proof import Removal, Stock, Target, target


def counted(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many regions each union is asked for."""
    asked: list[int] = []

    def united(*regions: Region) -> Region:
        asked.append(len(regions))
        return union(*regions)

    monkeypatch.setattr(target, "union", united)
    return asked


def test_slots_apart_at_many_depths_are_united_with_none(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = counted(monkeypatch)
    slots = [
        slot((10.0 + 20.0 * (k % 10), y := 10.0 + 9.0 * (k // 10)), (22.0 + 20.0 * (k % 10), y), 6.0) for k in range(16)
    ]
    drawing = Target(
        Stock.of_size(230.0, 60.0, 12.7),
        tuple(Removal.prism(f"slot {k}", each, 1.0 + 0.1 * k) for k, each in enumerate(slots)),
    )
    for layer in drawing.layers:
        z = 0.5 * (layer.low + layer.high)
        here = [each for k, each in enumerate(slots) if -1.0 - 0.1 * k < z]
        for drawn in (drawing.may(z), drawing.must(z)):
            assert drawn.is_empty == (not here)
            if not here:
                continue
            assert drawn.area == pytest.approx(sum(each.area for each in here), abs=1e-6)
            assert drawn.bounds == pytest.approx(Region(tuple(loop for each in here for loop in each.loops)).bounds)
    assert asked == [], "each depth united all slots anew, which was quadratic in booleans: 1,000 moves took 22 s"


def test_neighbours_are_united_whichever_way_they_hang_together(monkeypatch: pytest.MonkeyPatch) -> None:
    random = np.random.default_rng(11)
    for _ in range(3):
        regions = [disc(x, y, 5.0) for x, y in random.uniform(10.0, 120.0, (14, 2))]
        regions += [
            rectangle(10.0, 10.0, 20.0, 20.0),
            rectangle(20.0, 10.0, 30.0, 20.0),
            rectangle(60.0, 60.0, 60.5, 60.5),
        ]
        asked = counted(monkeypatch)
        drawing = Target(
            Stock.of_size(140.0, 140.0, 12.7), tuple(Removal.prism(str(k), each, 3.0) for k, each in enumerate(regions))
        )
        assert_regions_equal(drawing.may(-1.0), union(*regions))
        assert sum(asked) < len(regions), "and the others stand as they are"
