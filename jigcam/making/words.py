"""Words of the setup sheet that all kinds share: boards, blanks, setups with their files, the pair of a template."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.making.blocks import Block, Heading, Points, Rows, points
from jigcam.making.dry_run import dry_run_name
from jigcam.making.feed_words import feed_words
from jigcam.making.setup import moves_of
from jigcam.making.upright import hanging_words
from jigcam.template.pair_words import Sums, acts_as
from jigcam.template.pairs import Pair
from jigcam.toolpath.changing import change_lines, set_anew, top_words
from jigcam.toolpath.feeds import highest_rpm
from jigcam.toolpath.time import operation_seconds, seconds
from jigcam.units import Voice

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.kit import Bit, Kit, Machine
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.template import TemplatePlan
    from jigcam.toolpath.track import Cutter

SAME = 1e-3
"""A bushing that acts as one this near to its nominal size acts as it is sold, mm."""


def board_words(board: Board, face: str, voice: Voice) -> str:
    """A board by name, size and wood, and the face of it that is cut."""
    size = voice.size(board.length, board.width, board.thickness)
    return f"{board.name}, {size}{', ' + board.wood if board.wood else ''}; cut its {face} face"


def blank_words(size: tuple[float, float, float], voice: Voice, *, sawn: bool = False) -> str:
    """A blank of sheet: it may be larger, and not thicker, as the bit is set by its thickness. size: x, y, z in mm.

    sawn: to the template's own size, as no outline is milled.
    """
    if sawn:
        return f"sawn to {voice.size(*size[:2])}, square, just {voice.rule(size[2])} thick"
    return f"{voice.size(*size[:2])} or larger, just {voice.rule(size[2])} thick"


def finished_rows(plan: TemplatePlan, voice: Voice) -> list[tuple[str, str]]:
    """How large a sheet is when it is freed from its blank; nothing where its blank is sawn to that size."""
    x0, y0, x1, y1 = plan.sheet.bounds
    freed = ", freed from the blank" if plan.tabs else ""
    return [] if plan.sawn else [("finished", f"{voice.size(x1 - x0, y1 - y0)}{freed}")]


def router_speed(bit: Bit, kit: Kit, voice: Voice) -> str:
    """How fast the hand-held router may turn with a bit: what the bit allows, within what the router has."""
    slowest, fastest = kit.the_router.speeds
    most, why = highest_rpm(bit, voice)
    if most < slowest:
        return f"the router's slowest, {slowest:.0f} rpm; the bit wants no more than {most:.0f}: {why}"
    if most > fastest:
        return f"at most {fastest:.0f} rpm, the router's fastest; the bit may turn at {most:.0f}: {why}"
    return f"at most {most:.0f} rpm of the router: {why}"


def setup_words(number: int, setup: Setup, files: Sequence[GcodeFile], kit: Kit, voice: Voice) -> list[Block]:
    """One clamping with all that belongs to it: how the stock lies, its zero, then each of its own files."""
    stock = voice.size(*setup.stock)
    if setup.clamping == "template":
        stock = blank_words(setup.stock, voice, sawn=setup.sized)
    rows = [
        ("stock", f"{stock}, along x, y and z"),
        ("zero", setup.zero),
        ("safe height", f"{_both(setup.clear_height, kit, voice)} above zero"),
    ]
    below = -min((move.z for each in moves_of(setup.steps) for move in each.moves), default=0.0) - setup.stock[2]
    if below > SAME:
        rows.append(("spoilboard", f"the last passes go {_both(below, kit, voice)} into it"))
    if setup.hand == "opposite":
        rows.insert(0, ("hand", "opposite: the mirrored board"))
    hold = setup.hold
    if setup.clamping == "upright":
        hold = (*hold, *hanging_words(setup.board, setup.stock[2], kit.the_machine, voice))
    blocks: list[Block] = [Heading(f"{number}. {setup.title}"), Points(hold), Rows(tuple(rows))]
    for place, file in enumerate(files):
        before = files[place - 1] if place else None
        blocks += [*points(_before(file, before, kit.the_machine, voice), minor=True)]
        blocks += [Heading(file.file, minor=True), Rows(tuple(_file_rows(file, kit, voice)), minor=True)]
    return blocks


def _before(file: GcodeFile, before: GcodeFile | None, machine: Machine, voice: Voice) -> Iterator[str]:
    """What is done before a file is run. before: the one that was run before it in the same clamping, None: none."""
    cutter = file.steps[0].cutter
    bit, out = cutter.bit, voice.at_least(_stick_out(file, cutter))
    if before is not None and set_anew(machine):
        other = before.program.bits[-1]
        yield (
            f"Raise the spindle clear of the work, and unplug it. Change the bit: {bit.name} instead of {other.name}, "
            f"{out} or more out of the collet. Leave x and y; set Z zero again: bring the tip of {bit.name} down onto "
            f"{top_words(file.setup.clamping)}. Left as it was for {other.name}, the file would cut too deep or not at "
            "all."
        )
    elif before is None and machine.tool_change != "automatic":
        yield (
            f"Fit {bit.name}, the spindle unplugged, {out} or more out of the collet. Zero is its centre in x and y, "
            "and its tip in Z."
        )
    yield f"Dry run first: {dry_run_name(file.file)}, spindle off, above the stock; nothing may be in its way."


def _stick_out(file: GcodeFile, cutter: Cutter) -> float:
    """How far its bit has to stand out of the collet, mm: by the lowest of its moves."""
    moves = (m.z for step in file.steps for o in step.operations if o.bit == cutter.bit for m in o.moves)
    return cutter.clear - min(moves, default=0.0)


def _file_rows(file: GcodeFile, kit: Kit, voice: Voice) -> list[tuple[str, str]]:
    """What a person at the machine needs of a file: bit, speed, feeds, what is cut in which order, time."""
    machine, program = kit.the_machine, file.program
    rows: list[tuple[str, str]] = []
    if machine.output_units != voice.units:
        rows.append(("units", f"mind that the file speaks {machine.output_units}, and this sheet does not"))
    for cutter in dict.fromkeys(step.cutter for step in file.steps):
        runs = [o for step in file.steps if step.cutter == cutter for o in step.operations]
        rows += [
            ("bit", f"{cutter.bit.name}, {voice.rule(cutter.bit.diameter)}"),
            ("speed", f"{_speed(cutter)}; {feed_words(runs, cutter.feeds, machine, voice)}"),
        ]
        rows.append(("stick-out", f"at least {voice.at_least(_stick_out(file, cutter))} out of the collet"))
    rows += [("change", line) for line in change_lines([program], machine, voice)]
    noted: dict[tuple[str, str], str] = {}  # what is done alike in several places is told for the first of them
    for each, time in zip(program.operations, operation_seconds(program, machine), strict=True):
        place, _, what = each.name.partition(", ")
        first = noted.setdefault((what, each.note), place) if what and each.note else place
        note = each.note if first == place else f"As in {first}."
        rows.append(("cuts", f"{each.name}, {minutes(time)}. {note}".rstrip()))
    rows.append(("time", f"about {minutes(seconds(program, machine))}"))
    return rows


def _both(mm: float, kit: Kit, voice: Voice) -> str:
    """A height that the file has too: in its units, and in those of the sheet where they are others."""
    written = Voice(kit.the_machine.output_units)
    return voice.length(mm) if written == voice else f"{written.length(mm)} in the file, {voice.length(mm)},"


def _speed(cutter: Cutter) -> str:
    feeds = cutter.feeds
    dial = f", dial at {feeds.dial:g}" if feeds.dial is not None else ""
    return f"{feeds.rpm:.0f} rpm{dial}"


def minutes(seconds_: float) -> str:
    """A time as it is said at the machine: "5 min 34 s"."""
    whole = round(seconds_)
    return f"{whole // 60} min {whole % 60:02d} s"


def bushing_words(plan: TemplatePlan, kit: Kit, voice: Voice) -> str:
    """The bushing by name and size, and the size at which it acts where a test cut has measured the pair."""
    sold = kit.bushing(plan.bushing.name)
    return f"{sold.name}, {voice.rule(sold.outside)} outside{acts_as(sold.outside, plan.bushing.outside, voice)}"


def bit_words(plan: TemplatePlan, kit: Kit, voice: Voice) -> str:
    """The bit by name and the size that it is sold by, and what a test cut has shown of it."""
    sold = kit.bit(plan.bit.name)
    pair = Pair.of(sold, kit.bushing(plan.bushing.name), kit)
    beside = acts_as(sold.diameter, plan.bit.diameter, voice, measured=pair.bit_measured)
    return f"{sold.name}, {voice.rule(sold.diameter)}{beside}"


def sums_rows(plan: TemplatePlan, voice: Voice) -> list[tuple[str, str]]:
    """Offset and opening of a template, in digits that agree with each other."""
    sums = Sums.of(plan.cut.width, 2.0 * plan.offset, voice)
    return [
        ("offset", f"{sums.offset} at each wall: (bushing - bit) / 2, by which the cut lies inside the opening"),
        ("opening", f"{sums.opening} wide: the {plan.cut.what} and two offsets"),
    ]
