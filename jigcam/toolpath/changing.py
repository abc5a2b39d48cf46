"""Changes of bits within a file: where the tool waits for them, and what is to be done about its length.

*Reach* is how far a bit stands out of the collet. Two bits seldom reach equally far, so heights mean nothing between a
change and the word that says the new length: `G43 Hn` for a changer with a table of lengths (NISTIR 6556, 3.5.11),
a new Z zero where a person changes the bit, nothing where the machine measures by itself. The tool is therefore lifted
high before a change and goes down only when it is over its next cut. Frame: of the file, mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from jigcam.findings import Finding
from jigcam.kit import Bit, Machine
from jigcam.toolpath.frame import arc_extremes
from jigcam.toolpath.program import Clamping, Program
from jigcam.units import Voice

RISE = 35.0
"""mm above the clear height at which bits are changed: room for a hand and for a longer bit (common practice, no
source). Less where the machine does not travel so far."""
BESIDE = 10.0
"""mm between the stock and nut or bit at a change beside it (common practice, no source)."""


STANDS: Mapping[Clamping, str] = {
    "template": "the top of the stock, outside the opening and off the marks",
    "flat": "the top of the stock, outside the cut",
    "upright": "end grain that still stands, of a tail or a pin and not the floor of a gap",
}
"""Where Z zero can be found again when a bit of the same clamping has cut already."""


@dataclass(frozen=True, slots=True)
class ChangePlace:
    """Where the tool waits for another bit. x, y: None where it stays over the place of its last cut. says: in words,
    with no lengths."""

    x: float | None
    y: float | None
    z: float
    says: str

    def words(self, voice: Voice) -> str:
        """The place with its lengths, as it is said."""
        sizes = (("x", self.x), ("y", self.y), ("z", self.z))
        return ", ".join(f"{axis} {voice.length(at)}" for axis, at in sizes if at is not None)


@dataclass(frozen=True, slots=True)
class Change:
    """One change of bits. before: the bit that comes out, None at the start. reach: at which the nut of `after` still
    keeps the clear height above the stock, at least."""

    before: Bit | None
    after: Bit
    number: int
    reach: float


def changes(program: Program) -> Iterator[Change]:
    """The changes of a program's bits, in order; the first puts in the first bit."""
    uses = [each.bit for each in program.operations]
    for before, after in pairwise([None, *uses]):
        if after is not None and after != before:
            lowest = min((m.z for each in program.operations if each.bit == after for m in each.moves), default=0.0)
            yield Change(before, after, program.bits.index(after) + 1, program.clear_height - lowest)


def change_place(program: Program, machine: Machine) -> ChangePlace:
    """Where bits are changed: at the place that the kit names, else high up, and for a hand beside the stock.

    A place that the machine does not reach as well as the path, from one zero, is passed over (`out_of_reach`). Beside
    the stock is in front of it, else at its left, its right or behind it, as the machine's travel allows.
    """
    lowest = min((move.z for each in program.operations for move in each.moves), default=0.0)
    high = max(program.clear_height, min(program.clear_height + RISE, lowest + machine.travel[2]))
    if machine.tool_change == "pause" and machine.change_at is not None and not out_of_reach(program, machine):
        x, y, z = machine.change_at
        return ChangePlace(x, y, max(z, program.clear_height), "the changing place of the kit")
    if machine.tool_change == "pause":
        for x, y, says in _beside(program, machine):
            return ChangePlace(x, y, high, says)
    return ChangePlace(None, None, high, "above the stock")


def out_of_reach(program: Program, machine: Machine) -> bool:
    """Whether the kit names a place to change bits, and the machine's travel does not take it and the path."""
    if machine.change_at is None:
        return False
    x, y, z = machine.change_at
    x0, y0, x1, y1 = _extent(program)
    lowest = min((move.z for each in program.operations for move in each.moves), default=0.0)
    spans = (max(x, x1) - min(x, x0), max(y, y1) - min(y, y0), z - lowest)
    return any(span > travel for span, travel in zip(spans, machine.travel, strict=True))


def place_findings(programs: Iterable[Program], machine: Machine, voice: Voice) -> Iterator[Finding]:
    """A caution for each program that passes over the kit's place to change bits."""
    for program in programs:
        if machine.tool_change == "pause" and len(program.bits) > 1 and out_of_reach(program, machine):
            place = change_place(program, machine)
            says = (
                "the kit's place to change bits is out of the machine's travel, reckoned from this file's zero and "
                f"with its path: bits are changed at {place.words(voice)}, {place.says}"
            )
            yield Finding("caution", "change-place", program.name, says)


def _beside(program: Program, machine: Machine) -> Iterator[tuple[float, float, str]]:
    """The places beside the stock that the machine can reach from everywhere on the path."""
    x0, y0, x1, y1 = _stock(program)
    widest = max([bit.radius for bit in program.bits] + ([machine.nut.diameter / 2.0] if machine.nut else []))
    away = widest + BESIDE
    left, low, right, high = _extent(program)
    middle = (0.5 * (left + right), 0.5 * (low + high))
    for x, y, says in (
        (middle[0], min(low, y0 - away), "in front of the stock"),
        (min(left, x0 - away), middle[1], "at the left of the stock"),
        (max(right, x1 + away), middle[1], "at the right of the stock"),
        (middle[0], max(high, y1 + away), "behind the stock"),
    ):
        wide, deep = max(right, x) - min(left, x), max(high, y) - min(low, y)
        if wide <= machine.travel[0] and deep <= machine.travel[1]:
            yield x, y, says


def _stock(program: Program) -> tuple[float, float, float, float]:
    """x0, y0, x1, y1 of the stock: a blank's zero is its corner, a board lies where the placement puts it."""
    wide, deep = program.stock[:2]
    if program.clamping == "template":
        return 0.0, 0.0, wide, deep
    (a, b, c), (d, e, f) = program.placement
    corners = [(a * x + b * y + c, d * x + e * y + f) for x in (0.0, wide) for y in (0.0, deep)]
    xs, ys = zip(*corners, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _extent(program: Program) -> tuple[float, float, float, float]:
    """x0, y0, x1, y1 of the zero and all moves; arcs with their bulges."""
    xs, ys = [0.0], [0.0]
    for operation in program.operations:
        xs += [move.x for move in operation.moves]
        ys += [move.y for move in operation.moves]
        for before, arc in pairwise(operation.moves):
            for x, y in arc_extremes(before, arc) if arc.kind == "arc" else ():
                xs.append(x)
                ys.append(y)
    return min(xs), min(ys), max(xs), max(ys)


def hand_words(change: Change, top: str, voice: Voice) -> tuple[str, ...]:
    """What a person does at a pause, a sentence each. top: the surface on which Z zero lies, in words."""
    out = () if change.before is None else (f"take out {change.before.name}",)
    return (
        *out,
        f"put in {change.after.name}, its tip at least {voice.length(change.reach)} below the nut",
        f"set Z zero again: bring its tip down onto {top}",
        "make that Z 0, and leave X and Y as they are",
        "lift it clear, then start: the file goes up first, and down only over the next cut",
    )


def top_words(clamping: Clamping) -> str:
    """Where the surface of Z zero still stands when a bit has cut already."""
    return STANDS[clamping]


def set_anew(machine: Machine) -> bool:
    """Whether a person sets Z zero again between two files of one clamping, as each has a bit of its own."""
    return machine.tool_change == "file-per-bit" and not machine.measures_bits


def change_lines(programs: Iterable[Program], machine: Machine, voice: Voice) -> Iterator[str]:
    """How bits are changed within the files, for the setup sheet; nothing where each has but one, put in by hand."""
    for program in programs:
        steps = list(changes(program))
        if machine.tool_change == "automatic":
            numbers = ", ".join(f"T{step.number} {step.after.name}" for step in steps)
            if machine.measures_bits:
                yield f"{program.name}: the machine puts in {numbers}, and measures each bit itself."
            else:
                yield (
                    f"{program.name}: the machine puts in {numbers}. Before the start measure their lengths into the "
                    "rows of the same numbers of its table: the file calls each with G43 and that H."
                )
        elif machine.tool_change == "pause" and len(steps) > 1:
            place = change_place(program, machine)
            at = f"{place.words(voice)} from the zero, {place.says}"
            yield f"{program.name}: it pauses for each bit, spindle off, at {at}."
            for step in steps[1:]:
                yield from (
                    f"  {each[0].upper()}{each[1:]}." for each in hand_words(step, top_words(program.clamping), voice)
                )
