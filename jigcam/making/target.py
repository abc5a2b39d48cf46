"""What each file has to do to its stock: the drawing that the proof compares it with, from setups, never from moves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from jigcam.kit import KeepOutBox, Machine
from jigcam.making.setup import Setup, Step, Waste, wastes_of
from jigcam.proof import KeepOut, Mark, Removal, Stock, Target


def target(setup: Setup, steps: Sequence[Step], machine: Machine, keep_out: Iterable[KeepOutBox] = ()) -> Target:
    """The drawing of the file that holds those steps of a setup. keep_out: boxes of the job."""
    return Target(
        Stock(*setup.box, setup.stock[2]),
        tuple(map(_removal, wastes_of(steps))),
        tuple(Mark(each.paths, each.width, each.depth) for step in steps for each in step.engravings),
        keep_outs((*machine.keep_out, *keep_out), setup.clamping),
        spoil=max(step.spoil for step in steps),
        clear_height=setup.clear_height,
        units=machine.output_units,
        length_offsets=machine.tool_change == "automatic" and not machine.measures_bits,
        opened=tuple(map(_removal, setup.opened)),
        gone=tuple(map(_removal, wastes_of(setup.steps[: setup.steps.index(steps[0])]))),
    )


def _removal(waste: Waste) -> Removal:
    must = waste.must.section if waste.must is not None else None
    return Removal(waste.name, waste.may.section, waste.may.levels(), must, prismatic=waste.upright)


def keep_outs(boxes: Iterable[KeepOutBox], clamping: str) -> tuple[KeepOut, ...]:
    """The boxes of kit and job that hold in a setup."""
    return tuple(
        KeepOut(*box.start, box.start[0] + box.size[0], box.start[1] + box.size[1], box.height, box.what)
        for box in boxes
        if box.setup in (None, clamping)
    )
