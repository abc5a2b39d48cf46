"""What a setup sheet says of its place in the order of work, and of the time that the machine takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.making.blocks import Block, Sentence
from jigcam.making.words import minutes

if TYPE_CHECKING:
    from jigcam.making.built import Built
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.work_order import Stage


def order_words(sheet: str, built: Built) -> tuple[Block, ...]:
    """Where a sheet stands among the others; nothing where it is the only one."""
    stages = built.order.of(sheet)
    if len(built.joints) < 2 or not stages:
        return ()
    return (Sentence(" ".join(_order(stages, built.order.stages))),)


def _order(stages: Sequence[Stage], every: Sequence[Stage]) -> Iterator[str]:
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
                yield f"{each.board} can stay clamped as it is for {each.stays}."


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
