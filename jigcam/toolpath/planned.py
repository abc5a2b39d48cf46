"""What a planner hands over: programs, what the rules say, and the lines for the setup sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from jigcam.findings import Finding
from jigcam.kit import Machine
from jigcam.toolpath.changing import change_lines, place_findings
from jigcam.toolpath.faceting import facet_arcs
from jigcam.toolpath.feeds import feed_text
from jigcam.toolpath.order import ordered
from jigcam.toolpath.program import Move, Operation, Program
from jigcam.toolpath.time import operation_seconds, seconds
from jigcam.toolpath.track import SHORT_HOP, Cutter, Run
from jigcam.units import format_length

SLENDER = 4.0
"""A bit that stands out of the collet more than this many times its diameter bends and chatters (common practice, no
source)."""
FACET = 0.002
"""mm; arcs are written as chords within this for machines without arcs."""


@dataclass(frozen=True, slots=True)
class Planned:
    """Programs in the order in which they are run, findings, and plain text about feeds, order and time."""

    programs: tuple[Program, ...]
    findings: tuple[Finding, ...]
    sheet_lines: tuple[str, ...]


def operation(name: str, cutter: Cutter, runs: Sequence[Run], note: str = "", *, hops: bool = True) -> Operation:
    """An operation of the runs, in the order that travels least. hops: whether short ways over are made low."""
    return in_turn(name, cutter, [runs], note, hops=hops)


def in_turn(
    name: str, cutter: Cutter, groups: Iterable[Sequence[Run]], note: str = "", *, hops: bool = True
) -> Operation:
    """An operation of groups of runs, one group after the other, the runs of each in the order that travels least."""
    runs: list[Run] = []
    for group in groups:
        runs += ordered(group, runs[-1].end if runs else (0.0, 0.0))
    moves: list[Move] = []
    for run in runs:
        if hops and moves and math.dist(moves[-1].point[:2], run.start) <= SHORT_HOP:
            # Both runs pass the approach height: the way over is made there.
            x, y = moves.pop().point[:2]
            moves.append(Move("rapid", x, y, cutter.approach))
            moves.append(Move("rapid", *run.start, cutter.approach))
            moves += run.moves[2:]
        else:
            moves += run.moves
    return Operation(name, cutter.bit, cutter.feeds.rpm, tuple(moves), note)


def planned(
    program: Program, machine: Machine, cutters: Iterable[Cutter], findings: Iterable[Finding], units: str
) -> Planned:
    """One program made ready for the machine: arcs faceted if it knows none, a file per bit if it wants that."""
    if not machine.arcs:
        program = facet_arcs(program, FACET)
    programs = split_by_bit(program) if machine.tool_change == "file-per-bit" else (program,)
    cutters = tuple(dict.fromkeys(cutters))
    programs = tuple(
        replace(each, comments=(*each.comments, *_below_comments(each, machine, units), *_dial_comments(each, cutters)))
        for each in programs
    )
    lines = [line for each in programs for line in _time_lines(each, machine)]
    total = sum(seconds(each, machine) for each in programs)
    lines.append(f"In all about {_minutes(total)}, changes of bits between files left out.")
    lines = [*feed_lines(cutters, units), *change_lines(programs, machine, units), *lines]
    findings = (*findings, *_slender(programs, cutters, units), *place_findings(programs, machine, units))
    return Planned(programs, findings, tuple(lines))


def _slender(programs: Sequence[Program], cutters: Sequence[Cutter], units: str) -> Iterator[Finding]:
    """A caution for each bit that bends: it stands out at least as far as it cuts deep, and by the clear height more,
    so that the nut stays above the stock."""
    for cutter in cutters:
        bit = cutter.bit
        lowest = min((m.z for p in programs for o in p.operations if o.bit == bit for m in o.moves), default=0.0)
        out, thick = cutter.clear - lowest, min(bit.diameter, bit.neck)
        if out > SLENDER * thick and bit.kind in ("straight", "dovetail", "ball"):
            says = (
                f"{bit.name} stands {format_length(out, units)} or more out of the collet, {out / thick:.1f} times its "
                f"{format_length(thick, units)}: over {SLENDER:g} times it bends and chatters (common practice); take "
                "shallow passes and a light last one, or a thicker bit"
            )
            # The place is the bit, so that what is so in several boards alike is told once.
            yield Finding("caution", "slender-bit", bit.name, says)


def split_by_bit(program: Program) -> tuple[Program, ...]:
    """One program for each run of operations with the same bit, in order, named after it where there are several."""
    groups: list[list[Operation]] = []
    for each in program.operations:
        if groups and groups[-1][-1].bit == each.bit:
            groups[-1].append(each)
        else:
            groups.append([each])
    if len(groups) == 1:
        return (program,)
    return tuple(
        Program(
            f"{program.name} {number}: {group[0].bit.name}",
            program.setup,
            program.stock,
            program.zero,
            program.placement,
            tuple(group),
            program.clear_height,
            program.comments,
        )
        for number, group in enumerate(groups, start=1)
    )


def _below_comments(program: Program, machine: Machine, units: str) -> list[str]:
    """For a sheet that is cut through: how far into the spoilboard. In the units of the file, and of the job."""
    lowest = min((move.z for each in program.operations for move in each.moves), default=0.0)
    below = -lowest - program.stock[2]
    if program.setup != "template" or below <= 0.0:
        return []
    says = format_length(below, machine.output_units)
    also = "" if units == machine.output_units else f", {format_length(below, units)}"
    return [f"a spoilboard under the sheet: the last passes go {says}{also} into it"]


def _dial_comments(program: Program, cutters: Sequence[Cutter]) -> list[str]:
    """What the speed of a spindle that is set by hand has to be set to, for each bit of a file."""
    return [
        f"{cutter.bit.name}: dial at {cutter.feeds.dial:g}, {cutter.feeds.rpm:.0f} rpm"
        for cutter in cutters
        if cutter.bit in program.bits and cutter.feeds.dial is not None
    ]


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
