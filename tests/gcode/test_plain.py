"""The short cut for plain lines against the scanner and executor: the same reading of every text."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.gcode.reader import Reader

COUNT = st.integers(-30, 30).map(str)
NUMBER = st.one_of(
    COUNT,
    st.decimals(-20, 20, places=3).map(str),
    st.sampled_from(["1.", ".5", "-.25", "+2", "0", "-0", "1.2.3", "", "1 2"]),
)
WORD = st.builds(
    lambda letter, gap, number: letter + gap + number,
    st.sampled_from("XYZIJFXYZIJFRKSPNE"),
    st.sampled_from(["", "", "", " "]),
    NUMBER,
)
CODE = st.sampled_from(
    [
        "",
        "",
        "",
        "G0",
        "G1",
        "G2",
        "G3",
        "G00 ",
        "G01",
        "G02 ",
        "G03",
        "G80",
        "G91",
        "G90",
        "G17",
        "G18",
        "G20",
        "G21",
        "G93",
        "G94",
        "G81",
        "G92",
        "G54",
        "G55",
        "M3",
        "M5",
        "g1",
        "G1.0",
        "G1 0",
    ]
)
LINE = st.builds(
    lambda code, words, sep, comment: code + sep + sep.join(words) + comment,
    CODE,
    st.lists(WORD, max_size=5),
    st.sampled_from(["", " ", "\t"]),
    st.sampled_from(["", "", "", "(note)", " ", "(", ";"]),
)


def assert_same(text: str) -> None:
    short, long = Reader(text).reading(), Reader(text, short_cut=False).reading()
    assert short.faults == long.faults
    assert short.remarks == long.remarks
    assert (short.units, short.path_mode, short.ended, short.stops, short.dwells) == (
        long.units,
        long.path_mode,
        long.ended,
        long.stops,
        long.dwells,
    )
    for name in short.motions.dtype.names or ():
        np.testing.assert_array_equal(short.motions[name], long.motions[name], err_msg=name)


@given(st.lists(LINE, max_size=30))
def test_random_lines(lines: list[str]) -> None:
    assert_same("G21 G90 G94\nG0 X0 Y0 Z5\nF100\nG1 Z-1\n" + "\n".join(lines) + "\nM2\n")


def plain_file(seed: int, count: int) -> str:
    """Lines as the writer writes them, with arcs that close."""
    rng = random.Random(seed)
    lines = ["G21", "G90", "G0 Z5.0000", "X0.0000 Y0.0000", "G1 Z-1.0000 F300"]
    x = y = 0.0
    for _ in range(count):
        if rng.random() < 0.5:
            x, y = round(rng.uniform(0, 100), 4), round(rng.uniform(0, 100), 4)
            code, more = rng.choice(["G1", "G0", "G1"]), rng.choice(["", " F500", " Z-2.0000"])
            lines.append(f"{code} X{x:.4f} Y{y:.4f}{more}")
        else:
            i, j = round(rng.uniform(-9, 9), 4), round(rng.uniform(1, 9), 4)
            x, y = round(x + 2 * i, 4), round(y + 2 * j, 4)
            lines.append(f"G{rng.choice('23')} X{x:.4f} Y{y:.4f} I{i:.4f} J{j:.4f}")
    return "\n".join([*lines, "M30", ""])


def test_a_plain_file() -> None:
    assert_same(plain_file(1, 500))


@pytest.mark.parametrize("seed", range(30))
def test_mutated_files(seed: int) -> None:
    rng = random.Random(seed)
    text = plain_file(seed, 25)
    for _ in range(40):
        mutant = list(text)
        for _ in range(rng.randint(1, 3)):
            at = rng.randrange(len(mutant))
            mutant[at] = rng.choice(["", rng.choice("GXYZIJF0123456789.-+ \n(;")])
        assert_same("".join(mutant))
