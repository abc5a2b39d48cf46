"""Rules of safe motion that the words of a file have to keep, apart from the geometry of the cut.

Everything here goes by the state of the machine at each motion: spindle, feed, height, travel, tool changes, modes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

import numpy as np

from jigcam.findings import LEVELS, Finding, Level
from jigcam.gcode import ARC, CW, FEED, OFF, RAPID, Reading
from jigcam.gcode.rules import REMARKS
from jigcam.kit import Machine
from jigcam.proof.sweeps import Work
from jigcam.proof.target import INSIDE, Target
from jigcam.proof.wording import Wording
from jigcam.tolerances import TOLERANCES

CLEAR = 1.0
"""A rapid across keeps at least this far above the stock, mm (common practice, no source)."""
SLACK = 1e-3
"""Lengths over a limit by less than this are on it, mm: more than the last digit of a file."""
SHARE = 1e-3
"""Feeds over a limit by less than this share are on it: what rounding of a written feed can do."""
REPEAT = 5
"""Lines named for one rule; the rest is counted."""
CROSSES = "the first move crosses over while it lifts; the file cannot know what stands in the way"
MOST_TOLD = 50
"""Faults, and remarks of one level, that are told."""


def findings_of(
    reading: Reading, target: Target, machine: Machine, works: Mapping[int, Work], wording: Wording
) -> list[Finding]:
    """All findings about safe motion that need no geometry of the cut, in the order of the rules."""
    told = partial(limited, wording=wording)
    return [
        *_read(reading, target, machine, told),
        *_known_places(reading, told),
        *_spindle(reading, machine, works, told),
        *_first_and_last(reading, told),
        *_rapids(reading, told),
        *_feeds(reading, machine, told, wording),
        *_extents(reading, target, machine, told, wording),
    ]


Told = Callable[[Level, str, Reading, np.ndarray, str], Iterator[Finding]]


def limited(
    level: Level, rule: str, reading: Reading, rows: np.ndarray, says: str, wording: Wording
) -> Iterator[Finding]:
    """One finding for each of the first `REPEAT` motions in rows, and one that counts the rest."""
    motions = reading.motions
    for row in rows[:REPEAT]:
        end = np.where(np.isfinite(motions["end"][row]), motions["end"][row], motions["start"][row])
        yield Finding(level, rule, wording.place(int(motions["line"][row]), end), says)
    if len(rows) > REPEAT:
        more = len(rows) - REPEAT
        some = f"{more} more motion{'s' if more != 1 else ''}"
        yield Finding(level, rule, f"from line {int(motions['line'][rows[REPEAT]])}", f"{says}: {some}")


def _read(reading: Reading, target: Target, machine: Machine, told: Told) -> Iterator[Finding]:
    # The last fault may say that reading stopped: it is told in any case.
    for fault in (*reading.faults[:MOST_TOLD], *reading.faults[MOST_TOLD:][-1:]):
        yield Finding("stop", fault.rule, f"line {fault.line}", fault.says)
    # Those that stop come first, lest many that do not should crowd them out.
    for level in LEVELS:
        some = [remark for remark in reading.remarks if REMARKS[remark.rule] == level]
        for remark in some[:MOST_TOLD]:
            yield Finding(level, remark.rule, f"line {remark.line}", remark.says)
    if target.units is not None and reading.units is not None and reading.units != target.units:
        spelt = {"in": "inches", "mm": "millimetres"}
        says = f"the file is in {spelt[reading.units]}, and was to be in {spelt[target.units]}"
        yield Finding("stop", "units", "head of the file", says)
    if reading.path_mode == "continuous":
        yield Finding(
            "stop", "path-mode", "head of the file", "G64 lets the machine round off corners; a joint wants G61"
        )
    elif reading.path_mode is None and "G61" not in machine.omit and len(reading.motions):
        says = "neither G61 nor G61.1: the machine may round off corners"
        yield Finding("stop", "path-mode", "head of the file", says)
    if reading.path_mode != "continuous" and len(reading.motions):
        loose = np.flatnonzero(~reading.motions["exact"] & (reading.motions["kind"] != RAPID))
        if reading.path_mode is not None and len(loose):
            yield from told(
                "stop", "path-mode", reading, loose[:1], "exact path is given up here; corners may be rounded off"
            )
    if not len(reading.motions):
        yield Finding("stop", "no-motion", "the file", "nothing in the file moves")


def _known_places(reading: Reading, told: Told) -> Iterator[Finding]:
    """Until all three coordinates are known the tool may only lift, then cross over in the clear."""
    motions = reading.motions
    unknown = ~(np.isfinite(motions["start"]).all(axis=1) & np.isfinite(motions["end"]).all(axis=1))
    rows = np.flatnonzero(unknown & (motions["kind"] != RAPID))
    yield from told("stop", "place-unknown", reading, rows, "a feed from or to a place that the file has not given")
    across = unknown & ~np.isfinite(motions["end"][:, 2])
    yield from told(
        "stop",
        "first-move",
        reading,
        np.flatnonzero(across),
        "the tool moves across before the file has said how high it is; the first move lifts",
    )
    # After a change of bit as well: the first motion of all is looked at with the first and the last.
    lifts = ~np.isfinite(motions["start"][:, 2]) & np.isfinite(motions["end"][:, 2])
    lifts &= np.isfinite(motions["end"][:, :2]).any(axis=1)
    lifts[:1] = False
    yield from told("stop", "first-move", reading, np.flatnonzero(lifts), CROSSES)
    low = unknown & ~(motions["end"][:, 2] >= CLEAR - SLACK) & np.isfinite(motions["end"][:, 2])
    low[:1] = False
    says = "the tool goes low before the file has said anew where it is"
    yield from told("stop", "first-move", reading, np.flatnonzero(low & (motions["kind"] == RAPID)), says)


def _spindle(reading: Reading, machine: Machine, works: Mapping[int, Work], told: Told) -> Iterator[Finding]:
    motions = reading.motions
    with np.errstate(invalid="ignore"):
        in_stock = np.minimum(motions["start"][:, 2], motions["end"][:, 2]) < -INSIDE
    feeding = motions["kind"] != RAPID
    turning = (motions["spindle"] != OFF) & (motions["rpm"] > 0.0)
    off = np.flatnonzero((in_stock | (feeding & (motions["end"][:, 2] <= 0.0))) & ~turning)
    yield from told("stop", "spindle-off", reading, off, "the tool is in the stock and the spindle does not turn")
    wrong = np.flatnonzero((in_stock | feeding) & turning & (motions["spindle"] != CW))
    yield from told("stop", "spindle-direction", reading, wrong, "M4 turns a right-hand bit backwards; a cut wants M3")
    low, high = machine.spindle
    rpm = motions["rpm"]
    out = np.flatnonzero(turning & feeding & ((rpm < low * (1.0 - SHARE)) | (rpm > high * (1.0 + SHARE))))
    for row in out[np.unique(rpm[out], return_index=True)[1]]:
        yield from told(
            "stop",
            "spindle-speed",
            reading,
            np.array([row]),
            f"{rpm[row]:g} rpm; the spindle turns from {low:g} to {high:g}",
        )
    for tool, work in works.items():
        most = getattr(work.envelope.bit, "max_rpm", None)
        if most is not None:
            fast = np.flatnonzero(turning & feeding & (motions["tool"] == tool) & (rpm > most * (1.0 + SHARE)))
            yield from told(
                "stop", "bit-speed", reading, fast[:1], f"the bit {work.envelope.bit.name} is marked {most:g} rpm"
            )


def _first_and_last(reading: Reading, told: Told) -> Iterator[Finding]:
    motions = reading.motions
    if not len(motions):
        return
    heights = motions["end"][:, 2]
    if not (motions["kind"][0] == RAPID and heights[0] >= CLEAR - SLACK):
        yield from told(
            "stop", "first-move", reading, np.array([0]), "the first move does not lift the tool clear of the stock"
        )
    elif np.isfinite(motions["end"][0, :2]).any():
        yield from told(
            "stop",
            "first-move",
            reading,
            np.array([0]),
            CROSSES,
        )
    if not heights[-1] >= CLEAR - SLACK:
        yield from told("stop", "end-low", reading, np.array([len(motions) - 1]), "the program ends with the tool low")


def _rapids(reading: Reading, told: Told) -> Iterator[Finding]:
    """Rapids that go down aslant: a machine need not move its axes together in a rapid."""
    motions = reading.motions
    start, end = motions["start"], motions["end"]
    with np.errstate(invalid="ignore"):
        low = np.minimum(start[:, 2], end[:, 2])
        across = (np.abs(end[:, :2] - start[:, :2]) > SLACK).any(axis=1) | ~np.isfinite(start[:, :2]).all(axis=1)
        upright = np.abs(end[:, 2] - start[:, 2]) > SLACK
    aslant = (motions["kind"] == RAPID) & across & upright & (low < CLEAR - SLACK)
    yield from told(
        "stop",
        "rapid-aslant",
        reading,
        np.flatnonzero(aslant),
        "a rapid across and down at once, near the stock; few machines take a straight line there",
    )


def _feeds(reading: Reading, machine: Machine, told: Told, wording: Wording) -> Iterator[Finding]:
    """The feed of every cutting motion against the machine's, axis by axis."""
    motions = reading.motions
    cutting = motions["kind"] != RAPID
    way = np.abs(motions["end"] - motions["start"])
    length = np.sqrt((way**2).sum(axis=1))
    share = way / np.where(length > 0.0, length, 1.0)[:, None]
    arc = motions["kind"] == ARC
    if arc.any():
        # Somewhere on an arc nearly all of the feed may go along one of the two axes of its plane.
        plane = motions["plane"][arc]
        flat = np.ones((int(arc.sum()), 3))
        flat[plane == 0, 2] = np.minimum(1.0, _climb(motions[arc]))[plane == 0]
        flat[plane == 1, 1] = 0.0
        flat[plane == 2, 0] = 0.0
        share[arc] = flat
    allowed = np.array(machine.max_feed) * (1.0 + SHARE)
    with np.errstate(invalid="ignore"):
        over = cutting & (motions["feed"][:, None] * share > allowed[None, :]).any(axis=1)
        none = cutting & ~(motions["feed"] > 0.0)
    rows = np.flatnonzero(over)
    if len(rows):
        worst = rows[np.argmax(motions["feed"][rows])]
        x, y, z = machine.max_feed
        yield from told(
            "stop",
            "feed-over",
            reading,
            rows,
            f"a feed of up to {wording.feed(motions['feed'][worst])}; the machine moves at "
            f"{wording.number(x, 0)} in x, {wording.number(y, 0)} in y, {wording.feed(z)} in z",
        )
    yield from told("stop", "feed-missing", reading, np.flatnonzero(none), "a cutting motion without a feed")


def _climb(motions: np.ndarray) -> np.ndarray:
    """Share of the way of arcs that goes along z."""
    spoke = motions["start"][:, :2] - motions["centre"][:, :2]
    along = np.hypot(*spoke.T) * np.abs(motions["sweep"])
    rise = np.abs(motions["end"][:, 2] - motions["start"][:, 2])
    climb: np.ndarray = rise / np.maximum(np.hypot(along, rise), 1e-12)
    return climb


def _extents(reading: Reading, target: Target, machine: Machine, told: Told, wording: Wording) -> Iterator[Finding]:
    motions = reading.motions
    if not len(motions):
        return
    ends = motions["end"]
    for axis, name in enumerate("xyz"):
        values = ends[:, axis]
        known = np.flatnonzero(np.isfinite(values))
        if len(known):
            low, high = known[np.argmin(values[known])], known[np.argmax(values[known])]
            span = float(values[high] - values[low])
            if span > machine.travel[axis] + SLACK:
                yield Finding(
                    "stop",
                    "travel",
                    wording.place(int(motions["line"][high]), ends[high]),
                    f"the path spans {wording.length(span, 1)} in {name}, between lines {motions['line'][low]} and "
                    f"{motions['line'][high]}; the machine travels {wording.length(machine.travel[axis], 1)}",
                )
    with np.errstate(invalid="ignore"):
        deep = np.flatnonzero(ends[:, 2] < target.bottom - TOLERANCES.gouge)
    if len(deep):
        worst = float(ends[deep, 2].min())
        yield from told(
            "stop",
            "too-deep",
            reading,
            deep,
            f"down to z {wording.length(worst)}; nothing may go below z {wording.length(target.bottom)}",
        )


def cutting(motions: np.ndarray) -> np.ndarray:
    """(n,) whether each motion cuts on purpose: a feed, with the spindle turning."""
    feeding = (motions["kind"] == FEED) | (motions["kind"] == ARC)
    on_purpose: np.ndarray = feeding & (motions["spindle"] != OFF) & (motions["rpm"] > 0.0)
    return on_purpose
