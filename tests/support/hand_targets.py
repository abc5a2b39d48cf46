"""The drawings of the hand-written files, for the proof."""

from __future__ import annotations

import numpy as np
from support.hand_files import HandFile

from jigcam.geometry import Path, Region, difference, disc, offset, rectangle, slot, union
from jigcam.proof import Mark, Removal, Stock, Target

AIR = 500.0


def target_of(file: HandFile) -> Target:
    """What that file is meant to do."""
    return {
        "slot": _slot,
        "pocket": _pocket,
        "sheet": _sheet,
        "marks": _marks,
        "inch groove": _inch,
    }[file.name](Stock.of_size(*file.stock))


def _slot(stock: Stock) -> Target:
    return Target(stock, (Removal.prism("slot", slot((20, 30), (120, 30), 12.0), 6.0),), units="mm")


def _pocket(stock: Stock) -> Target:
    return Target(stock, (Removal.prism("pocket", rectangle(10, 10, 50, 35), 5.0),), units="mm")


def _sheet(stock: Stock) -> Target:
    sheet = rectangle(15, 15, 95, 65)
    kerf = difference(offset(sheet, 1.0), sheet)
    tabs = union(rectangle(51, 0, 59, 80), rectangle(0, 36, 110, 44))
    outside = difference(rectangle(-AIR, -AIR, AIR, AIR), sheet)
    top = -9.7

    def needed(z: float) -> Region:
        return kerf if z > top else difference(kerf, tabs)

    # Below their tops the tabs have to stay.
    def allowed(z: float) -> Region:
        return outside if z > top else difference(outside, tabs)

    holes = union(*(disc(x, 40.0, 1.0 + 3.175) for x in (30.0, 80.0)))
    return Target(
        stock,
        (Removal("outline", allowed, (0.0, top, -12.7), needed), Removal.prism("holes", holes, 12.7)),
        spoil=0.5,
        units="mm",
    )


def _marks(stock: Stock) -> Target:
    paths = (
        Path.through([(10, 10), (40, 25)]),
        Path.through([(10, 25), (40, 10)]),
        Path(np.array([[45.0, 10.0, -np.tan(2.0 * np.arctan2(8.0, 4.0) / 4.0)], [45.0, 26.0, 0.0]])),
    )
    return Target(stock, marks=(Mark(paths, 2.0 * 0.8 * np.tan(np.radians(30.0)), 0.8),), units="mm")


def _inch(stock: Stock) -> Target:
    groove = union(rectangle(-20.0, 38.1 - 6.35, 63.5, 38.1 + 6.35), disc(63.5, 38.1, 6.35))
    return Target(stock, (Removal.prism("groove", groove, 6.35),), units="in")
