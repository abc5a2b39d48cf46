"""From setups to programs: one for each file, ready for the machine, and what is to be said about running them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from jigcam.findings import Finding
from jigcam.kit import Machine
from jigcam.making.setup import Setup, Step, moves_of
from jigcam.toolpath.changing import change_lines
from jigcam.toolpath.faceting import facet_arcs
from jigcam.toolpath.feeds import feed_text
from jigcam.toolpath.program import Program
from jigcam.toolpath.time import operation_seconds, seconds
from jigcam.toolpath.track import Cutter
from jigcam.units import format_length

SLENDER = 4.0
"""A bit that stands out of the collet more than this many times its diameter bends and chatters (common practice, no
source)."""
FACET = 0.002
"""mm; arcs are written as chords within this for machines without arcs."""


def programs(setup: Setup, machine: Machine) -> tuple[tuple[Program, tuple[Step, ...]], ...]:
    """The programs of a setup in the order in which they are run, each with the steps that it holds.

    Arcs are faceted where the machine knows none; each bit gets a file of its own where the machine wants that.
    """
    runs = setup.by_bit() if machine.tool_change == "file-per-bit" else (setup.steps,)
    return tuple((_program(setup, run, number, len(runs), machine), run) for number, run in enumerate(runs, start=1))


def _program(setup: Setup, steps: tuple[Step, ...], number: int, count: int, machine: Machine) -> Program:
    bit = steps[0].cutter.bit
    program = Program(
        setup.name if count == 1 else f"{setup.name} {number}: {bit.name}",
        setup.clamping,
        setup.stock,
        setup.zero,
        setup.placement,
        moves_of(steps),
        setup.clear_height,
        setup.comments,
    )
    if not machine.arcs:
        program = facet_arcs(program, FACET)
    return replace(program, comments=(*setup.comments, *_dial_comments(program, setup.cutters)))


def _dial_comments(program: Program, cutters: Sequence[Cutter]) -> list[str]:
    """What the speed of a spindle that is set by hand has to be set to, for each bit of a file."""
    return [
        f"{cutter.bit.name}: dial at {cutter.feeds.dial:g}, {cutter.feeds.rpm:.0f} rpm"
        for cutter in cutters
        if cutter.bit in program.bits and cutter.feeds.dial is not None
    ]


def run_lines(setup: Setup, made: Iterable[Program], machine: Machine, units: str) -> tuple[str, ...]:
    """How a setup's bits are run, and how long its programs take, as plain text for the setup sheet."""
    made = tuple(made)
    lines = [line for each in made for line in _time_lines(each, machine)]
    total = sum(seconds(each, machine) for each in made)
    lines.append(f"In all about {_minutes(total)}, changes of bits between files left out.")
    return *feed_lines(setup.cutters, units), *change_lines(made, machine, units), *lines


def slender(setup: Setup, units: str) -> list[Finding]:
    """A caution for each bit that bends.

    It stands out at least as far as it cuts deep, and by the clear height more, so that the nut stays above the stock.
    """
    found = []
    for cutter in setup.cutters:
        bit = cutter.bit
        lowest = min((m.z for o in moves_of(setup.steps) if o.bit == bit for m in o.moves), default=0.0)
        out, thick = cutter.clear - lowest, min(bit.diameter, bit.neck)
        if out > SLENDER * thick and bit.kind in ("straight", "dovetail", "ball"):
            says = (
                f"{bit.name} stands {format_length(out, units)} or more out of the collet, {out / thick:.1f} times its "
                f"{format_length(thick, units)}: over {SLENDER:g} times it bends and chatters (common practice); take "
                "shallow passes and a light last one, or a thicker bit"
            )
            found.append(Finding("caution", "slender-bit", setup.name, says))
    return found


def feed_lines(cutters: Sequence[Cutter], units: str) -> list[str]:
    """How each bit is run, and why so."""
    lines = []
    for cutter in cutters:
        feeds = cutter.feeds
        dial = f", dial at {feeds.dial:g}" if feeds.dial is not None else ""
        lines.append(
            f"{cutter.bit.name}: {feeds.rpm:.0f} rpm{dial}, {feed_text(feeds.feed, units)}, "
            f"{feed_text(feeds.plunge, units)} straight down."
        )
        lines += [f"  {reason}" for reason in feeds.reasons]
    return lines


def _time_lines(program: Program, machine: Machine) -> list[str]:
    times = operation_seconds(program, machine)
    lines = [f"{program.name}: about {_minutes(sum(times))}."]
    for each, time in zip(program.operations, times, strict=True):
        note = f" {each.note}" if each.note else ""
        lines.append(f"  {each.name}, {each.bit.name}: {_minutes(time)}.{note}")
    return lines


def _minutes(seconds_: float) -> str:
    whole = round(seconds_)
    return f"{whole // 60} min {whole % 60:02d} s"
