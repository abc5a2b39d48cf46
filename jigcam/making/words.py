"""Words of the setup sheet that all kinds share: sections, tables, setups with their files, the pair of a template."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from jigcam.toolpath.changing import change_lines
from jigcam.toolpath.time import operation_seconds, seconds

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.template import TemplatePlan
    from jigcam.toolpath.track import Cutter
    from jigcam.units import Voice

WIDTH = 92
"""Columns of the sheet."""
SAME = 1e-3
"""A bushing that acts as one this near to its nominal size acts as it is sold, mm."""


def section(title: str, sentences: Iterable[str]) -> list[str]:
    """A heading and its sentences as wrapped points; nothing where there are none."""
    points = _points(sentences)
    return ["", title, *points] if points else []


def _points(sentences: Iterable[str]) -> list[str]:
    """Sentences as wrapped points; those that begin with blanks belong to the one before."""
    return [
        line
        for sentence in sentences
        for line in textwrap.wrap(
            sentence.strip(),
            WIDTH,
            initial_indent="  - " if not sentence.startswith("  ") else "      ",
            subsequent_indent="    " if not sentence.startswith("  ") else "      ",
            break_on_hyphens=False,
        )
    ]


def table(title: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    """A heading and named values."""
    return ["", title, *_rows(rows)]


def _rows(rows: Sequence[tuple[str, str]], indent: int = 2) -> list[str]:
    """Named values, the values under each other and wrapped in their column; a name that comes again is said once."""
    wide = max(len(name) for name, _ in rows)
    lines = []
    before = ""
    for name, value in rows:
        said = "" if name == before else name
        before = name
        parts = textwrap.wrap(value, WIDTH - wide - indent - 2, break_on_hyphens=False) or [""]
        lines.append(f"{' ' * indent}{said.ljust(wide)}  {parts[0]}")
        lines += [" " * (wide + indent + 2) + part for part in parts[1:]]
    return lines


def board_words(board: Board, face: str, voice: Voice) -> str:
    """A board by name, size and wood, and the face of it that is cut."""
    size = voice.size(board.length, board.width, board.thickness)
    return f"{board.name}, {size}{', ' + board.wood if board.wood else ''}; cut its {face} face"


def setup_words(number: int, setup: Setup, files: Sequence[GcodeFile], kit: Kit, voice: Voice) -> list[str]:
    """One clamping with all that belongs to it: how the stock lies, its zero, then each of its own files."""
    rows = [
        (
            "stock",
            f"{voice.size(*setup.stock)}{' or larger' if setup.clamping == 'template' else ''}, along x, y and z",
        ),
        ("zero", setup.zero),
        ("safe height", f"{voice.length(setup.clear_height)} above zero"),
    ]
    if setup.hand == "opposite":
        rows.insert(0, ("hand", "opposite: the mirrored board"))
    lines = ["", f"{number}. {setup.title}", *_points(setup.hold), *_rows(rows)]
    for file in files:
        lines += ["", f"  {file.file}", *_rows(_file_rows(file, kit, voice), indent=4)]
    return lines


def _file_rows(file: GcodeFile, kit: Kit, voice: Voice) -> list[tuple[str, str]]:
    """What a person at the machine needs of a file: bit, speed, feeds, what is cut in which order, time."""
    machine, program = kit.machine, file.program
    rows: list[tuple[str, str]] = []
    for cutter in dict.fromkeys(step.cutter for step in file.steps):
        rows += [("bit", f"{cutter.bit.name}, {voice.rule(cutter.bit.diameter)}"), ("speed", _speed(cutter, voice))]
    rows += [("change", line) for line in change_lines([program], machine, voice)]
    for each, time in zip(program.operations, operation_seconds(program, machine), strict=True):
        rows.append(("cuts", f"{each.name}, {minutes(time)}. {each.note}".rstrip()))
    dry = file.file.rpartition("/")[2].removesuffix(".nc") + "-dry-run.nc"
    rows.append(("time", f"about {minutes(seconds(program, machine))}; its dry run is {dry}"))
    if machine.output_units != voice.units:
        rows.append(("units", f"the numbers in the file are in {machine.output_units}"))
    return rows


def _speed(cutter: Cutter, voice: Voice) -> str:
    feeds = cutter.feeds
    dial = f", dial at {feeds.dial:g}" if feeds.dial is not None else ""
    return f"{feeds.rpm:.0f} rpm{dial}; {voice.feed(feeds.feed)}, {voice.feed(feeds.plunge)} straight down"


def minutes(seconds_: float) -> str:
    """A time as it is said at the machine: "5 min 34 s"."""
    whole = round(seconds_)
    return f"{whole // 60} min {whole % 60:02d} s"


def bushing_words(plan: TemplatePlan, kit: Kit, voice: Voice) -> str:
    """The bushing by name and size, and the size at which it acts where a test cut has measured the pair."""
    sold = kit.bushing(plan.bushing.name)
    words = f"{sold.name}, {voice.rule(sold.outside)} outside"
    if kit.measurement(plan.bit, sold) is not None and abs(plan.bushing.outside - sold.outside) > SAME:
        words += f"; by its test cut it acts as {voice.length(plan.bushing.outside)}"
    return words
