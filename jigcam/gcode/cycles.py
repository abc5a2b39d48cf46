"""Canned cycles G81–G89 as the single motions that they stand for (NISTIR 6556 section 3.5.16).

Only the order of motions, dwells, stops and turns of the spindle is worked out here; the executor carries it out. What
the standard leaves to the machine (orienting the spindle, matching speed and feed in tapping) is not modelled.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from jigcam.gcode.arcs import AXES, OFFSETS, PLANE_AXES
from jigcam.gcode.faults import Objection
from jigcam.gcode.modal import whole
from jigcam.gcode.words import Block

PECK_BACKOFF = 0.254
"""mm above the last depth to which a peck returns in rapid: 0.010 in, from memory of the interpreter's source; the
report only says that it backs off a bit."""
LONGEST = 20_000
"""Most motions that one line may stand for."""

Act = Literal["rapid", "feed", "dwell", "spindle", "stop"]
Point = tuple[float, float, float]
UNKNOWN: Point = (math.nan, math.nan, math.nan)


@dataclass(frozen=True, slots=True)
class CycleStep:
    """One act of a cycle. end: of rapid and feed, mm in the file frame. value: of dwell, seconds; of spindle, +1 as it
    was, 0 off, −1 the other way."""

    act: Act
    end: Point = UNKNOWN
    value: float = 0.0


_NEEDS_DWELL = frozenset((820, 860, 880, 890))
_NEEDS_SPINDLE = frozenset((840, 860, 870, 880))


@dataclass(slots=True)
class Sticky:
    """What a run of cycles remembers, in program units: `values` of R, depth and the rest while the same cycle goes on;
    `initial`, the height in mm before the run began."""

    code: int = 0
    values: dict[str, float] = field(default_factory=dict)
    initial: float = math.nan

    def end(self) -> None:
        """Another motion has ended the run."""
        self.code = 0
        self.values = {}


@dataclass(frozen=True, slots=True)
class Setting:
    """The state that a cycle meets. shift: programmed zero in the file frame, mm; scale: mm per program unit.

    to_initial: G98, or G99; None where the file has said neither, and the machine has what it had before.
    """

    plane: int
    position: Sequence[float]
    shift: Sequence[float]
    scale: float
    incremental: bool
    to_initial: bool | None
    spindle: int


@dataclass(frozen=True, slots=True)
class _Hole:
    """One repeat, in mm: where, from what height to what depth, and back to where."""

    at: Callable[[float], Point]
    beside: Callable[[float], Point]
    r: float
    depth: float
    clear: float
    peck: float
    dwell: float
    counterbore: float


def expand(code: int, block: Block, sticky: Sticky, setting: Setting) -> list[CycleStep]:
    """The steps of one line. Updates `sticky`. Raises Objection for each error that section 3.5.16 names."""
    first, second, normal = PLANE_AXES[setting.plane]
    words = block.words
    repeats = _repeats(words)
    new_run = sticky.code == 0
    values = dict(sticky.values) if sticky.code == code else {}
    values.update({letter: words[letter] for letter in "RPQIJK" if letter in words})
    if AXES[normal] in words:
        values["depth"] = words[AXES[normal]]
    _demand(code, values, normal, setting)

    here = setting.position[normal]
    if math.isnan(here):
        raise Objection("cycle-start-unknown", "a canned cycle starts at a height that the file has not given")
    initial = here if new_run else sticky.initial

    def height(value: float, base: float) -> float:
        return (base if setting.incremental else setting.shift[normal]) + value * setting.scale

    r = height(values["R"], here)
    depth = height(values["depth"], r)
    if r < depth:
        raise Objection("cycle-r-below-depth", "R lies below the bottom of the hole", "R" if "R" in words else "")
    if setting.to_initial is None and initial > r:
        raise Objection(
            "cycle-retract", "neither G98 nor G99: how far the tool comes out is the machine's last setting"
        )
    clear = max(initial, r) if setting.to_initial else r
    peck, dwell = values.get("Q", 0.0) * setting.scale, values.get("P", 0.0)
    pecks = (r - depth) / peck if code == 830 else 1
    if pecks * repeats * 8 > LONGEST:
        raise Objection("cycle-too-long", f"{pecks * repeats:.0f} holes or pecks in one line")

    steps: list[CycleStep] = []
    across = [setting.position[first], setting.position[second]]
    level = here
    if level < r:
        level = r
        steps.append(_rapid(_point(setting.plane, across, level)))
    counterbore = height(values[OFFSETS[normal]], depth) if code == 870 else 0.0
    for _ in range(repeats):
        for place, axis in enumerate((first, second)):
            if AXES[axis] in words:
                base = across[place] if setting.incremental else setting.shift[axis]
                across[place] = base + words[AXES[axis]] * setting.scale
        offset = [values.get(OFFSETS[axis], 0.0) * setting.scale for axis in (first, second)]
        aside = [a + o for a, o in zip(across, offset, strict=True)]
        hole = _Hole(
            _placer(setting.plane, list(across)),
            _placer(setting.plane, aside),
            r,
            depth,
            clear,
            peck,
            dwell,
            counterbore,
        )
        steps.append(_rapid(hole.at(level)))
        if level != r:
            steps.append(_rapid(hole.at(r)))
        steps.extend(_CYCLES[code](hole))
        level = clear
    sticky.code, sticky.values, sticky.initial = code, values, initial
    return steps


def _repeats(words: dict[str, float]) -> int:
    repeats = whole(words.get("L", 1.0))
    if repeats is None or repeats < 1:
        raise Objection("cycle-repeats", "L is a whole number above zero", "L")
    return repeats


def _demand(code: int, values: dict[str, float], normal: int, setting: Setting) -> None:
    """Raise Objection for what the cycle needs and does not have."""
    if "R" not in values:
        raise Objection("cycle-r-missing", "the first cycle of a kind needs R")
    if "depth" not in values:
        raise Objection("cycle-depth-missing", f"the first cycle of a kind needs {AXES[normal]}")
    if code == 830 and values.get("Q", 0.0) <= 0:
        raise Objection("cycle-peck", "G83 needs Q above zero", "Q" if "Q" in values else "")
    if code in _NEEDS_DWELL and "P" not in values:
        raise Objection("cycle-dwell-missing", "the first cycle of this kind needs P")
    if code == 870 and any(letter not in values for letter in OFFSETS):
        raise Objection("cycle-offsets-missing", "the first G87 needs I, J and K")
    if code in _NEEDS_SPINDLE and setting.spindle == 0:
        raise Objection("cycle-spindle", "the cycle needs the spindle turning")
    if code == 840 and setting.spindle < 0:
        raise Objection("cycle-spindle", "G84 needs the spindle turning clockwise")


def _point(plane: int, across: Sequence[float], height: float) -> Point:
    first, second, normal = PLANE_AXES[plane]
    place = [0.0, 0.0, 0.0]
    place[first], place[second], place[normal] = across[0], across[1], height
    return place[0], place[1], place[2]


def _placer(plane: int, across: Sequence[float]) -> Callable[[float], Point]:
    return lambda height: _point(plane, across, height)


def _rapid(end: Point) -> CycleStep:
    return CycleStep("rapid", end)


def _feed(end: Point) -> CycleStep:
    return CycleStep("feed", end)


def _dwell(hole: _Hole) -> CycleStep:
    return CycleStep("dwell", value=hole.dwell)


def _spindle(way: int) -> CycleStep:
    return CycleStep("spindle", value=way)


def _drill(hole: _Hole) -> Iterator[CycleStep]:
    yield _feed(hole.at(hole.depth))
    yield _rapid(hole.at(hole.clear))


def _drill_dwell(hole: _Hole) -> Iterator[CycleStep]:
    yield _feed(hole.at(hole.depth))
    yield _dwell(hole)
    yield _rapid(hole.at(hole.clear))


def _peck(hole: _Hole) -> Iterator[CycleStep]:
    level = hole.r - hole.peck
    while level > hole.depth:
        yield _feed(hole.at(level))
        yield _rapid(hole.at(hole.r))
        yield _rapid(hole.at(min(level + PECK_BACKOFF, hole.r)))
        level -= hole.peck
    yield from _drill(hole)


def _tap(hole: _Hole) -> Iterator[CycleStep]:
    yield _feed(hole.at(hole.depth))
    yield _spindle(-1)
    yield _feed(hole.at(hole.clear))
    yield _spindle(1)


def _bore(hole: _Hole) -> Iterator[CycleStep]:
    yield _feed(hole.at(hole.depth))
    yield _feed(hole.at(hole.clear))


def _bore_stop(hole: _Hole) -> Iterator[CycleStep]:
    yield _feed(hole.at(hole.depth))
    yield _dwell(hole)
    yield _spindle(0)
    yield _rapid(hole.at(hole.clear))
    yield _spindle(1)


def _back_bore(hole: _Hole) -> Iterator[CycleStep]:
    yield _rapid(hole.beside(hole.r))
    yield _spindle(0)
    yield _rapid(hole.beside(hole.depth))
    yield _rapid(hole.at(hole.depth))
    yield _spindle(1)
    yield _feed(hole.at(hole.counterbore))
    yield _feed(hole.at(hole.depth))
    yield _spindle(0)
    yield _rapid(hole.beside(hole.depth))
    yield _rapid(hole.beside(hole.clear))
    yield _rapid(hole.at(hole.clear))
    yield _spindle(1)


def _bore_manual(hole: _Hole) -> Iterator[CycleStep]:
    """The operator draws the spindle out by hand; it is taken to end up clear."""
    yield _feed(hole.at(hole.depth))
    yield _dwell(hole)
    yield _spindle(0)
    yield CycleStep("stop")
    yield _rapid(hole.at(hole.clear))
    yield _spindle(1)


def _bore_dwell(hole: _Hole) -> Iterator[CycleStep]:
    yield _feed(hole.at(hole.depth))
    yield _dwell(hole)
    yield _feed(hole.at(hole.clear))


_CYCLES: dict[int, Callable[[_Hole], Iterator[CycleStep]]] = {
    810: _drill,
    820: _drill_dwell,
    830: _peck,
    840: _tap,
    850: _bore,
    860: _bore_stop,
    870: _back_bore,
    880: _bore_manual,
    890: _bore_dwell,
}
