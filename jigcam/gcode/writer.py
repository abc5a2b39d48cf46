"""The writer: a program of moves as RS-274/NGC text (NISTIR 6556), in upper-case ASCII, one command a line.

A file opens with comments, then states everything that it relies on, lifts to the clear height before it moves anywhere
else, starts the spindle and waits for it. It closes clear of the work with M5 and M30. Words that are in force are
not repeated.

Where bits are changed within a file, no height means anything between the change and the word that says the new bit's
length. A machine that changes by itself moves nothing before its first M6; each M6 is followed by G43 and the H of the
tool (NISTIR 6556, 3.5.11 and 3.6.3), unless the kit says that it measures bits; G49 stands in the opening only. The
standard has no height that is safe on any machine (G53 Z0 and G28 are where a machine's maker put them), so the tool
is lifted high with the old length in force, and with the new one goes up or down to the same height, then across, then
down. A person changes bits at the changing place, with the spindle off, and sets Z zero again.

For a machine that knows drilling cycles a run of holes is a run of G81 or G83, which states all its words
anew, stays within its operation and ends with G80.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigcam.errors import InputError
from jigcam.gcode import rounded
from jigcam.gcode.comment import all_comments, comments, messages
from jigcam.gcode.drilling import Hole, hole_at
from jigcam.gcode.numbers import Digits, digits_for, speed
from jigcam.units import Voice

if TYPE_CHECKING:
    from jigcam.kit import Bit, Machine
    from jigcam.toolpath import Move, Operation, Program

_SETUP_AFTER_UNITS = ("G40", "G49", "G80", "G90", "G94", "G54", "G61")


def write(program: Program, machine: Machine, *, header: Sequence[str] = ()) -> str:
    """The text of a file.

    header: opening comments, in people's words; each is reduced to letters, digits and plain punctuation and wrapped.
    Without them the program describes itself (name, setup, stock, zero, bits). The program's own comments follow.

    Raises InputError where the program cannot be written for this machine: an arc for a machine without arcs, several
    bits in one file for a machine that takes one per file, a cutting move without a feed, a first move that is no
    rapid, coordinates that are no numbers.
    """
    if machine.tool_change == "file-per-bit" and len(program.bits) > 1:
        raise InputError(
            "several bits in one file",
            found=", ".join(bit.name for bit in program.bits),
            wanted="one bit per file, as the machine's tool_change says",
        )
    pen = _Pen(digits_for(machine.output_units), machine, program)
    pen.lines += all_comments(header or _description(program))
    pen.lines += all_comments(program.comments)
    pen.set_up()
    for operation in program.operations:
        pen.operation(operation)
    pen.close()
    return "\n".join(pen.lines) + "\n"


def _description(program: Program) -> list[str]:
    width, depth, height = program.stock
    return [
        program.name,
        f"setup: {program.clamping}, stock {width:.1f} x {depth:.1f} x {height:.1f} mm",
        f"zero: {program.zero}",
        *(f"bit {number}: {bit.name}" for number, bit in enumerate(program.bits, 1)),
    ]


class _Pen:
    """The lines so far and what is in force at their end. Positions in ticks, None where not known."""

    def __init__(self, digits: Digits, machine: Machine, program: Program) -> None:
        self.lines: list[str] = []
        self._digits = digits
        self._machine = machine
        self._bits = program.bits
        self._program = program
        self._clear = digits.ticks(program.clear_height)
        self._x: int | None = None
        self._y: int | None = None
        self._z: int | None = None
        self._motion = ""
        self._feed = ""
        self._speed = ""
        self._turning = False
        self._bit: Bit | None = None
        # Without G80 to end it, a cycle is not begun.
        self._cycles = machine.drilling_cycles and "G80" not in machine.omit
        self._initial = 0
        self._hole: Hole | None = None
        self._retract = ""

    def set_up(self) -> None:
        """State planes, units and modes, and lift."""
        omit = frozenset(self._machine.omit)
        self.lines += [word for word in ("G17", self._digits.code, *_SETUP_AFTER_UNITS) if word not in omit]
        if self._machine.tool_change != "automatic":
            self._lift()

    def operation(self, operation: Operation) -> None:
        """One operation, from the clear height."""
        self.lines += comments(f"{operation.name}: {operation.note}" if operation.note else operation.name)
        self._change_to(operation.bit)
        self._lift()
        self._turn(operation.rpm)
        place = 0
        while place < len(operation.moves):
            drilled = self._drill(operation.moves, place)
            if not drilled:
                self._end_drilling()
                self._move(operation.moves[place])
            place += drilled or 1
        self._end_drilling()

    def close(self) -> None:
        """Clear in Z, spindle off, end."""
        self._lift()
        self.lines += ["M5", "M30"]

    def _lift(self) -> None:
        if self._z is None or self._z < self._clear:
            self._straight("G0", self._x, self._y, self._clear, "")

    def _change_to(self, bit: Bit) -> None:
        """The bit into the spindle, in the machine's way; the first is there unless the machine changes bits."""
        before, self._bit = self._bit, bit
        by_itself = self._machine.tool_change == "automatic"
        if bit == before or self._machine.tool_change == "file-per-bit" or (before is None and not by_itself):
            return
        from jigcam.toolpath.changing import change_place

        place = change_place(self._program, self._machine)
        high = self._digits.ticks(place.z)
        if before is not None:
            self._lift()
            self._stop_turning()
            self._straight("G0", self._x, self._y, high, "")
        if by_itself:
            number = self._bits.index(bit) + 1
            self.lines += [f"T{number} M6"] + ([] if self._machine.measures_bits else [f"G43 H{number}"])
        else:
            if place.x is not None and place.y is not None:
                self._straight("G0", self._digits.ticks(place.x), self._digits.ticks(place.y), high, "")
            self._ask_for(before, bit)
        # A changer or an operator has moved the spindle: say again where it should be, height first.
        self._x = self._y = self._z = None
        self._straight("G0", None, None, high, "")

    def _ask_for(self, before: Bit | None, bit: Bit) -> None:
        """A pause for a bit, with what the operator has to do."""
        from jigcam.toolpath.changing import changes, hand_words, top_words

        change = next(each for each in changes(self._program) if (each.before, each.after) == (before, bit))
        for words in hand_words(change, top_words(self._program.clamping), Voice(self._machine.output_units)):
            self.lines += messages(words)
        self.lines.append("M0")

    def _stop_turning(self) -> None:
        if self._turning:
            self.lines.append("M5")
            self._turning = False

    def _turn(self, rpm: float) -> None:
        """The spindle to that speed, with time to get there; 0 is a dry run."""
        word = f"S{speed(rpm)}"
        if word == "S0":
            self._stop_turning()
            return
        words = [] if word == self._speed else [word]
        words += [] if self._turning else ["M3"]
        if words:
            self.lines += [" ".join(words), f"G4 P{_seconds(self._machine.seconds_to(rpm))}"]
        self._speed, self._turning = word, True

    def _move(self, move: Move) -> None:
        digits = self._digits
        x, y, z = digits.ticks(move.x), digits.ticks(move.y), digits.ticks(move.z)
        if move.kind == "rapid":
            if self._z is not None and self._z > max(self._clear, z):
                # From the height of a change: across first, then down.
                self._straight("G0", x, y, self._z, "")
            self._straight("G0", x, y, z, "")
            return
        if self._x is None or self._y is None:
            raise InputError(
                "a cutting move from a place that is not known",
                found=str(move),
                wanted="a rapid in x and y before the first cut",
            )
        offsets = None
        if move.kind == "arc":
            if not self._machine.arcs:
                raise InputError(
                    "an arc in a program for a machine without arcs",
                    found=str(move),
                    wanted="straight moves only",
                    mend="this is a fault of the planner, please report it",
                )
            planned = rounded.Planned((self._x, self._y), (x, y), (move.cx, move.cy), move.ccw)
            offsets = rounded.offsets(planned, digits)
        feed = f"F{digits.feed(min(move.feed, self._limit((x, y, z), offsets, move.ccw)))}"
        if offsets is None:
            self._straight("G1", x, y, z, feed)
        else:
            self._arc("G3" if move.ccw else "G2", (x, y, z), offsets, feed)

    def _limit(self, end: tuple[int, int, int], offsets: tuple[int, int] | None, ccw: bool) -> float:
        """The highest feed, mm/min, for a move to `end` as it stands in the text: rounding may make it steeper.

        Only z is asked about on an arc, which keeps its slope; its plan has seen to x and y.
        """
        tick, limits = self._digits.tick, self._machine.max_feed
        x = 0 if self._x is None else end[0] - self._x
        y = 0 if self._y is None else end[1] - self._y
        z = 0 if self._z is None else end[2] - self._z
        dx, dy, dz = x * tick, y * tick, z * tick
        if offsets is None:
            length, least = math.sqrt(dx * dx + dy * dy + dz * dz), math.inf
            for limit, way in ((limits[0], dx), (limits[1], dy), (limits[2], dz)):
                if way and (share := limit * length / abs(way)) < least:
                    least = share
            return least
        if dz == 0.0:
            return math.inf
        i, j = offsets
        sweep = (math.atan2(y - j, x - i) - math.atan2(-j, -i)) % math.tau or math.tau
        level = math.hypot(i, j) * tick * (sweep if ccw else math.tau - sweep or math.tau)
        return limits[2] * math.hypot(level, dz) / abs(dz)

    def _drill(self, moves: Sequence[Move], first: int) -> int:
        """A hole as a line with a cycle, if the moves from there on are just what one stands for; how many they are."""
        if not self._cycles or self._x is None or self._y is None or self._z is None:
            return 0
        before = self._hole
        hole = hole_at(moves, first, (self._x, self._y, self._z), self._digits, over=before is not None)
        initial = self._initial if before else self._z
        if hole is None or hole.out not in (hole.r, max(initial, hole.r)):
            return 0
        retract = "G99" if hole.out == hole.r else "G98"
        if before and (self._retract, retract) == ("G99", "G98"):
            # Up to the height before the run, says the standard; a reader that takes R for it would then travel low.
            return 0
        words = [] if before and retract == self._retract else [retract]
        words += hole.words(before, self._digits)
        self._put(hole.code, words, f"F{self._digits.feed(hole.feed)}")
        self._x, self._y, self._z = hole.x, hole.y, hole.out
        self._hole, self._initial, self._retract = hole, initial, retract
        return hole.moves

    def _end_drilling(self) -> None:
        """Cancel the cycle before anything else is done."""
        if self._hole is not None:
            self.lines.append("G80")
            self._motion, self._hole = "G80", None

    def _straight(self, motion: str, x: int | None, y: int | None, z: int, feed: str) -> None:
        """A line with the axis words that change; nothing if none does."""
        length = self._digits.length
        words = [
            f"{letter}{length(new)}"
            for letter, old, new in (("X", self._x, x), ("Y", self._y, y), ("Z", self._z, z))
            if new is not None and new != old
        ]
        if not words:
            return
        self._x, self._y, self._z = x, y, z
        self._put(motion, words, feed)

    def _arc(self, motion: str, end: tuple[int, int, int], offsets: tuple[int, int], feed: str) -> None:
        length = self._digits.length
        x, y, z = end
        words = [f"X{length(x)}", f"Y{length(y)}"]
        if z != self._z:
            words.append(f"Z{length(z)}")
        words += [f"I{length(offsets[0])}", f"J{length(offsets[1])}"]
        self._x, self._y, self._z = end
        self._put(motion, words, feed)

    def _put(self, motion: str, words: list[str], feed: str) -> None:
        """A line, without the motion and feed words that are in force."""
        head = [] if motion == self._motion else [motion]
        self._motion = motion
        tail = [feed] if feed and feed != self._feed else []
        if tail:
            self._feed = feed
        self.lines.append(" ".join(head + words + tail))


def _seconds(seconds: float) -> str:
    """Seconds to wait, in whole ones where the kit does not say otherwise; never less than asked for."""
    tenths = math.ceil(seconds * 10.0 - 1e-9)
    return str(tenths // 10) if tenths % 10 == 0 else f"{tenths // 10}.{tenths % 10}"
