"""What files have cut of wood in a shared frame: a file that remembers its ground answers as one that does not."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.programs import SQUARE, a_bit, a_machine, a_program, an_operation, programs

from jigcam.gcode import read, write
from jigcam.proof import assembly
from jigcam.proof.assembly import STEPS, PlacedFile, begins, begins_toward
from jigcam.toolpath import Program

FLAT = np.eye(3, 4)


def placed(program: Program) -> PlacedFile:
    return PlacedFile.of(read(write(program, a_machine())), a_machine(), a_bit(), FLAT)


@given(programs(), st.integers(0, 2**32 - 1))
def test_a_file_that_remembers_answers_as_a_new_one(program: Program, seed: int) -> None:
    """The oracle is the slow way: a file that knows nothing yet, for every look."""
    rng = np.random.default_rng(seed)
    remembers = placed(program)
    ends = remembers._bounds
    if not np.isfinite(ends).all():
        return
    heights = rng.uniform(-20.0, 2.0, 2)
    for _ in range(4):
        points = np.column_stack([rng.uniform(*ends, (6, 2)), rng.choice(heights, 6)])
        assert np.array_equal(remembers.gone(points), placed(program).gone(points))


def test_the_ground_is_swept_at_both_ends_of_a_search_and_not_at_every_halving(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []

    def counted(*arguments: object) -> list[assembly.Swept]:
        calls.append(arguments)
        return swept(*arguments)

    swept = assembly.sweeps_of
    monkeypatch.setattr(assembly, "sweeps_of", counted)
    file = placed(a_program(an_operation(SQUARE)))
    places = np.array([[20.0 + k, 33.0, -1.0] for k in range(3)])
    found = begins([file], places, 1, 1.0, 2.0)
    assert found == pytest.approx(np.full(3, 30.0 + 6.35 / 2.0 - 33.0), abs=2.0 * 4.0 / 2**STEPS)
    assert len(calls) == 2


@given(programs(), st.integers(0, 2**32 - 1))
def test_a_search_that_knows_distances_finds_what_plain_halving_does(program: Program, seed: int) -> None:
    """The oracle asks for every place at every halving. Ways across, and aslant, where no distance helps."""
    rng = np.random.default_rng(seed)
    file, within = placed(program), 2.0
    if not np.isfinite(file._bounds).all():
        return
    places = np.column_stack([rng.uniform(*file._bounds, (12, 2)), rng.choice(rng.uniform(-20.0, 2.0, 2), 12)])
    ways = rng.normal(0.0, 1.0, (12, 3)) * [1.0, 1.0, float(rng.integers(0, 2))]
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    low, high = np.full(12, -within), np.full(12, within)
    never, always = ~file.gone(places + low[:, None] * ways), file.gone(places + high[:, None] * ways)
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        gone = file.gone(places + middle[:, None] * ways)
        low, high = np.where(gone, middle, low), np.where(gone, high, middle)
    plain = np.where(never, -within, np.where(always, within, 0.5 * (low + high)))
    assert np.array_equal(begins_toward([placed(program)], places, ways, within), plain)


def test_only_so_many_heights_are_remembered() -> None:
    file = placed(a_program(an_operation(SQUARE)))
    for z in np.linspace(-1.9, -0.1, assembly.REMEMBERED + 20):
        file.gone(np.array([[20.0, 30.0, z]]))
    assert len(file._known) == assembly.REMEMBERED
