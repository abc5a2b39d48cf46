"""What a person meets where the machine stands: stops, changes of bit, dwells, the end of the program.

A hand comes near the bit wherever a program stops for someone: there the spindle stands, the tool is out of the wood,
and it is the same piece that is cut on afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigcam.findings import Finding, Level
from jigcam.gcode import OFF, Reading
from jigcam.kit import Machine
from jigcam.proof.changes import pauses_change
from jigcam.proof.safety import CLEAR, SLACK
from jigcam.proof.target import INSIDE
from jigcam.proof.wording import Wording

BURNS = 1.0
"""Seconds for which a bit may turn in one place in the wood before it burns it (common practice, no source)."""
_WORDS = {"pause": "M0", "optional": "M1", "pallet": "M60"}


def findings_of(reading: Reading, machine: Machine, wording: Wording) -> list[Finding]:
    """All of them."""
    return [
        *_stops(reading, machine, wording),
        *_changes(reading, machine, wording),
        *_dwells(reading, wording),
        *_end(reading),
    ]


def _stops(reading: Reading, machine: Machine, wording: Wording) -> Iterator[Finding]:
    motions, by_hand = reading.motions, pauses_change(reading, machine)
    for stop in reading.stops:
        if stop.kind == "end":
            continue
        word = _WORDS[stop.kind]
        if stop.turning:
            says = f"the spindle turns while {word} waits for a person; M5 goes before it"
            yield Finding("stop", "stop-turning", f"line {stop.line}", says)
        if stop.kind == "pallet":
            says = "M60 changes the piece on the table; the file is drawn for one"
            yield Finding("stop", "pallet-change", f"line {stop.line}", says)
        if not 0 < stop.before < len(motions):
            continue
        before = motions["end"][stop.before - 1]
        where = wording.place(stop.line, before)
        if before[2] < -INSIDE:
            says = "the program stops with the tool in the wood: it burns there, or starts again buried in it"
            yield Finding("stop", "pause-in-stock", where, says)
        elif by_hand and not before[2] >= CLEAR - SLACK:
            yield Finding("stop", "tool-change-low", where, "a change of bit with the tool low")


def _changes(reading: Reading, machine: Machine, wording: Wording) -> Iterator[Finding]:
    motions = reading.motions
    for change in reading.tool_changes:
        if 0 < change.before <= len(motions):
            before = motions["end"][change.before - 1]
            if not before[2] >= CLEAR - SLACK:
                where = wording.place(change.line, before)
                yield Finding("stop", "tool-change-low", where, "a tool change with the tool low")
        if not change.turning:
            continue
        if machine.tool_change != "automatic":
            says = "the spindle turns when a person is to change the bit; M5 goes before M6"
            yield Finding("stop", "stop-turning", f"line {change.line}", says)
        elif change.before < len(motions) and motions["spindle"][change.before] == OFF:
            says = "M6 stops the spindle; an M5 before it says so to the reader"
            yield Finding("note", "tool-change-spindle", f"line {change.line}", says)


def _dwells(reading: Reading, wording: Wording) -> Iterator[Finding]:
    """Dwells in the wood; those between the same two motions count as one."""
    motions = reading.motions
    lines: dict[int, int] = {}
    seconds: dict[int, float] = {}
    for dwell in reading.dwells:
        if dwell.turning and 0 < dwell.before < len(motions) and motions["end"][dwell.before - 1, 2] < -INSIDE:
            lines.setdefault(dwell.before, dwell.line)
            seconds[dwell.before] = seconds.get(dwell.before, 0.0) + dwell.seconds
    for before, line in lines.items():
        level: Level = "stop" if seconds[before] > BURNS else "caution"
        says = f"the tool turns for {seconds[before]:g} s in one place in the wood, and burns it"
        yield Finding(level, "pause-in-stock", wording.place(line, motions["end"][before - 1]), says)


def _end(reading: Reading) -> Iterator[Finding]:
    if reading.ends_turning:
        says = "the file ends and the spindle turns on: % alone stops nothing, M5 or M30 does"
        yield Finding("stop", "end-turning", "the end of the file", says)
