"""From setups to programs: one for each file, ready for the machine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from jigcam.findings import Finding
from jigcam.kit import Bit, Machine
from jigcam.making.setup import Setup, Step, moves_of
from jigcam.toolpath.changing import place_findings, set_anew, top_words
from jigcam.toolpath.faceting import facet_arcs
from jigcam.toolpath.program import Program
from jigcam.toolpath.track import Cutter
from jigcam.units import Voice

SLENDER = 4.0
"""A bit that stands out of the collet more than this many times its diameter bends and chatters (common practice, no
source)."""
FACET = 0.0005
"""mm; arcs are written as chords within this for machines without arcs: half of what the proof of a mate without any
clearance takes for a fit, so that rounding may have the other half."""


def programs(setup: Setup, machine: Machine) -> tuple[tuple[Program, tuple[Step, ...]], ...]:
    """The programs of a setup in the order in which they are run, each with the steps that it holds.

    Arcs are faceted where the machine knows none; each bit gets a file of its own where the machine wants that.
    """
    runs = setup.by_bit() if machine.tool_change == "file-per-bit" else (setup.steps,)
    return tuple((_program(setup, run, number, len(runs), machine), run) for number, run in enumerate(runs, start=1))


def place_cautions(setup: Setup, machine: Machine, voice: Voice) -> list[Finding]:
    """A caution where bits are changed out of the machine's reach."""
    return list(place_findings([program for program, _ in programs(setup, machine)], machine, voice))


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
        (*setup.comments, *dict.fromkeys(each for step in steps for each in step.comments)),
    )
    if not machine.arcs:
        program = facet_arcs(program, FACET)
    anew = [zero_anew(bit, setup)] if number > 1 and set_anew(machine) else []
    return replace(program, comments=(*anew, *program.comments, *_dial_comments(program, setup.cutters)))


def zero_anew(bit: Bit, setup: Setup) -> str:
    """That the bit of a file is another than that of the file before it in the same clamping."""
    return f"set Z zero anew with {bit.name} in the spindle, on {top_words(setup.clamping)}; leave X and Y as they are"


def _dial_comments(program: Program, cutters: Sequence[Cutter]) -> list[str]:
    """What the speed of a spindle that is set by hand has to be set to, for each bit of a file."""
    return [
        f"{cutter.bit.name}: dial at {cutter.feeds.dial:g}, {cutter.feeds.rpm:.0f} rpm"
        for cutter in cutters
        if cutter.bit in program.bits and cutter.feeds.dial is not None
    ]


def slender(setup: Setup, voice: Voice) -> list[Finding]:
    """A caution for each bit that bends.

    It stands out at least as far as it cuts deep, and by the clear height more, so that the nut stays above the stock.
    """
    found = []
    for cutter in setup.cutters:
        bit = cutter.bit
        lowest = min((m.z for o in moves_of(setup.steps) if o.bit == bit for m in o.moves), default=0.0)
        out, thick = cutter.clear - lowest, min(bit.diameter, bit.neck)
        if out > SLENDER * thick and not (bit.pointed or bit.edges_a_board):
            says = (
                f"{bit.name} stands {voice.length(out)} or more out of the collet, {out / thick:.1f} times its "
                f"{voice.length(thick)}: over {SLENDER:g} times it bends and chatters (common practice); take "
                "shallow passes and a light last one, or a thicker bit"
            )
            # The place is the bit, so that what is so in several boards alike is told once.
            found.append(Finding("caution", "slender-bit", bit.name, says))
    return found
