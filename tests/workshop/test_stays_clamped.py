"""A board that stays clamped from one sheet to the next: what both sheets say of it."""

from __future__ import annotations

from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pytest

from jigcam.making.blocks import Sentence
from jigcam.making.work_order import Clamping, WorkOrder
from jigcam.making.work_words import order_words

if TYPE_CHECKING:
    from jigcam.making.built import Built


def built_of(first: str, second: str, change: str) -> Built:
    """Sheets a and b, each with a file for the same face of a board, and the bits of them."""

    def joint(name: str, bit: str) -> object:
        setup = SimpleNamespace(board="side", side="inside face", clamping="flat")
        program = SimpleNamespace(bits=(SimpleNamespace(name=bit),))
        return SimpleNamespace(name=name, files=(SimpleNamespace(setup=setup, program=program),))

    order = WorkOrder(
        (
            Clamping("a", ("a",), "groove", "side", ("side",), "inside face"),
            Clamping("b", ("b",), "groove", "side", ("side",), "inside face", stays="a"),
        )
    )
    machine = SimpleNamespace(tool_change=change, measures_bits=False)
    joints = (joint("a", first), joint("b", second))
    return cast("Built", SimpleNamespace(order=order, joints=joints, kit=SimpleNamespace(the_machine=machine)))


def told(sheet: str, built: Built) -> str:
    (block,) = order_words(sheet, built)
    assert isinstance(block, Sentence)
    return block.text


def test_both_sheets_ask_for_what_the_other_one_wants_free() -> None:
    built = built_of("straight 6", "straight 12", "file-per-bit")
    wanted = "side can then stay clamped as it is for b, if nothing stands where that sheet wants it free."
    assert wanted in told("a", built)
    assert "side can stay clamped as it is for a, if nothing stands where this sheet wants it free." in told("b", built)


@pytest.mark.parametrize(
    ("second", "change", "again"),
    [("straight 12", "file-per-bit", True), ("straight 6", "file-per-bit", False), ("straight 12", "pause", False)],
)
def test_another_bit_on_the_same_clamping_wants_z_zero_again(second: str, change: str, again: bool) -> None:
    """The board stayed, and so did Z zero of the bit before."""
    built = built_of("straight 6", second, change)
    assert "Z zero" not in told("a", built)
    assert ("set Z zero again with this bit: bring its tip down onto the top of the stock" in told("b", built)) == again
