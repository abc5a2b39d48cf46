"""What a setup sheet says of its place in the order of work, and of the time that the machine takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.making.blocks import Block, Sentence
from jigcam.making.words import minutes
from jigcam.toolpath.changing import set_anew, top_words

if TYPE_CHECKING:
    from jigcam.making.built import Built
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.work_order import Clamping, Stage


def order_words(sheet: str, built: Built) -> tuple[Block, ...]:
    """Where a sheet stands among the others; nothing where it is the only one."""
    stages = built.order.of(sheet)
    if len(built.joints) < 2 or not stages:
        return ()
    return (Sentence(" ".join(_order(stages, built))),)


def _order(stages: Sequence[Stage], built: Built) -> Iterator[str]:
    every = built.order.stages
    for turn, stage in enumerate(stages):
        before = every[stage.number - 2].sheet if stage.number > 1 else ""
        after = every[stage.number].sheet if stage.number < len(every) else ""
        near = [f"{word} {name}" for word, name in (("after", before), ("before", after)) if name]
        says = f"{stage.number} of {len(every)} in the order of work: {'; '.join(near)}."
        if len(stages) == 1:
            yield f"Sheet {says}"
        else:
            # Another sheet has to come between its clampings.
            sides = ", ".join(f"{each.board}, {each.side}" for each in stage.clampings)
            yield f"{'First' if turn == 0 else 'Then'} only {sides}: {says}"
        for each in stage.clampings:
            if each.stays:
                yield from _stays(each, built)
        for each in every[stage.number].clampings if stage.number < len(every) else ():
            if each.stays == stage.sheet:
                yield (
                    f"{each.board} can then stay clamped as it is for {each.sheet}, if nothing stands where that sheet "
                    "wants it free."
                )


def _stays(clamping: Clamping, built: Built) -> Iterator[str]:
    """That a board stays as the sheet before clamped it, and Z zero with another bit, where a person sets it."""
    yield (
        f"{clamping.board} can stay clamped as it is for {clamping.stays}, if nothing stands where this sheet wants it "
        "free."
    )
    before, after = (_files_of(sheet, clamping, built) for sheet in (clamping.stays, clamping.sheet))
    if before and after and set_anew(built.kit.the_machine):
        bit, other = after[0].program.bits[0], before[-1].program.bits[-1]
        if bit != other:
            yield (
                f"Then change the bit: {bit.name} instead of {other.name}; leave x and y, and set Z zero again with "
                f"this bit: bring its tip down onto {top_words(after[0].setup.clamping)}."
            )


def _files_of(sheet: str, clamping: Clamping, built: Built) -> list[GcodeFile]:
    """The files of a sheet for a board that is clamped so."""
    return [
        file
        for joint in built.joints
        if joint.name == sheet
        for file in joint.files
        if (file.setup.board, file.setup.side) == (clamping.board, clamping.side)
    ]


def time_words(files: Sequence[GcodeFile], built: Built) -> str:
    """How long the machine runs for the files of a sheet; "" where one file says it."""
    once, every = built.seconds(files), built.seconds(files, every=True)
    most = max((built.runs.get(file.file, 1) for file in files), default=1)
    on_top = "clamping and changes of bits come on top."
    if most > 1:
        lead = "All files together run" if len(files) > 1 else "It runs"
        each = "each once" if len(files) > 1 else "a board"
        return f"{lead} for about {minutes(once)}, {each}, and about {minutes(every)} for all boards; {on_top}"
    return f"All files together run for about {minutes(once)}; {on_top}" if len(files) > 1 else ""
