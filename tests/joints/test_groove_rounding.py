"""With what a mate's ends are rounded over, and what stays open beside them."""

from __future__ import annotations

import numpy as np
import pytest
from support.grooves import groove_job, made

from jigcam.geometry import Path
from jigcam.joints.groove.rounding import Rounding, open_beside
from jigcam.joints.groove.words import mate_rows
from jigcam.kit import Kit, load_kit
from jigcam.proof import edge_outline
from jigcam.units import Voice

INCH, METRIC = load_kit("inch-shop"), load_kit("metric-shop")


def words(thickness: float, kit: Kit, units: str = "mm") -> str:
    mate = made(groove_job(shelf=thickness)).mate
    return Rounding.of(mate, kit).words(Voice("in" if units == "in" else "mm"))


def test_the_round_over_bit_of_the_kit_is_named() -> None:
    assert words(12.7, INCH, "in") == "with round-over 1/4"


def test_what_stays_open_beside_a_bit_that_does_not_quite_fit_is_said() -> None:
    """12.2 mm have 6.1 mm for half the thickness, and the bit has 6: the difference of the radii stays open."""
    assert words(12.2, METRIC) == (
        "with round-over 6: its radius of 6 mm leaves a flat of 0.2 mm, and 0.1 mm stays open beyond it unless the "
        "corners of the flat are eased with a file"
    )
    assert "a pointed edge, and 0.19 mm stays open beside it" in words(11.0, METRIC)


def test_a_bit_that_does_not_fit_is_not_recommended() -> None:
    assert words(20.0, METRIC).startswith("with plane and file, as no round-over bit of the kit fits; of the nearest")
    none = METRIC.model_copy(update={"bits": tuple(bit for bit in METRIC.bits if not bit.edges_a_board)})
    assert words(12.2, none) == "with plane and file, as the kit has no round-over bit"


@pytest.mark.parametrize("radius", [6.1, 6.2, 6.5, 8.0, 12.2])
def test_what_stays_open_beside_a_pointed_edge(radius: float) -> None:
    """Against both outlines, as the proof lays them into a groove: the farthest of the full one from the other."""
    line = Path.through([(0.0, 0.0), (100.0, 0.0)])
    full, pointed = (edge_outline(line, 12.2, r, 100.0) for r in (6.1, radius))
    points = np.vstack([loop.points(1e-4) for loop in full.loops])
    farthest = -float(pointed.signed_distance(points).min())
    assert open_beside(radius, 12.2) == pytest.approx(farthest, abs=2e-3)


@pytest.mark.parametrize("radius", [3.0, 5.0, 6.0, 6.1])
def test_what_stays_open_beyond_a_flat(radius: float) -> None:
    """The corners of the flat touch the half circle where the edge is drawn back by the difference of the radii."""
    half = 6.1
    back = open_beside(radius, 2.0 * half)
    turn = np.linspace(0.0, np.pi / 2.0, 2001)
    edge = np.column_stack([half - back - radius + radius * np.cos(turn), half - radius + radius * np.sin(turn)])
    assert np.hypot(*edge.T).max() == pytest.approx(half, abs=1e-6)


def test_a_tongue_behind_a_shoulder_is_rounded_by_hand_or_left_square() -> None:
    """A round-over bit 24 mm wide was to round a tongue 8 mm long, with a shoulder at its end."""
    rows = [dict(mate_rows(made(groove_job(enters={"width": w})).mate, METRIC, Voice("mm"))) for w in (199.8, 260.0)]
    assert "with round-over 6" in rows[0]["round over"]
    assert "with chisel and file, as the shoulder keeps a bit out" in rows[1]["round over"]
    assert "notch 6.18 mm more at each round end, which the shoulder covers" in rows[1]["round over"]
    assert list(rows[1]) == ["notch", "round over"], "in the order in which it is done"


def test_a_square_tongue_that_is_shorter_by_half_the_width_at_each_end_goes_into_round_ends() -> None:
    """As the sheet says, laid into the groove."""
    groove = made(groove_job(enters={"width": 260.0}))
    mate, line = groove.mate, groove.centreline
    square = edge_outline(line, mate.thickness, 0.0, mate.tongue - (mate.thickness + mate.clearance))
    points = np.vstack([loop.points(1e-3) for loop in square.loops])
    assert float(groove.region.signed_distance(points).min()) >= 0.0
