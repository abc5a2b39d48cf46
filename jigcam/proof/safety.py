"""Rules of safe motion that the words of a file have to keep, apart from the geometry of the cut.

Everything here goes by the state of the machine at each motion: spindle, feed, height, travel, tool changes, modes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from jigcam.findings import Finding, Level
from jigcam.gcode import ARC, CW, FEED, OFF, RAPID, Dwell, Reading, Stop
from jigcam.gcode.rules import REMARKS
from jigcam.kit import Machine
from jigcam.proof.target import INSIDE, Target
from jigcam.proof.travel import Travel
from jigcam.proof.work import Work
from jigcam.tolerances import TOLERANCES

CLEAR = 1.0
"""A rapid across keeps at least this far above the stock, mm (common practice, no source)."""
SLACK = 1e-3
"""Lengths over a limit by less than this are on it, mm: more than the last digit of a file."""
SHARE = 1e-3
"""Feeds over a limit by less than this share are on it: what rounding of a written feed can do."""
REPEAT = 5
"""Lines named for one rule; the rest is counted."""
FAULTS = 50
"""Faults and remarks of the reader that are told, each."""


def place(line: int, point: Iterable[float]) -> str:
    """Where a finding is: line and coordinates, mm."""
    x, y, z = (float(v) for v in point)
    return f"line {line}, x {x:.3f} y {y:.3f} z {z:.3f}"


def findings_of(
    reading: Reading, travel: Travel, target: Target, machine: Machine, works: Mapping[int, Work]
) -> list[Finding]:
    """All findings about safe motion that need no geometry of the cut, in the order of the rules."""
    return [
        *_read(reading, target, machine),
        *_known_places(reading),
        *_spindle(reading, machine, works),
        *_first_and_last(reading),
        *_rapids(reading, target),
        *_feeds(reading, machine),
        *_extents(reading, target, machine),
        *_changes(reading),
        *_pauses(reading),
    ]


def limited(level: Level, rule: str, reading: Reading, rows: np.ndarray, says: str) -> Iterator[Finding]:
    """One finding for each of the first `REPEAT` motions in rows, and one that counts the rest."""
    motions = reading.motions
    for row in rows[:REPEAT]:
        end = np.where(np.isfinite(motions["end"][row]), motions["end"][row], motions["start"][row])
        yield Finding(level, rule, place(int(motions["line"][row]), end), says)
    if len(rows) > REPEAT:
        yield Finding(
            level, rule, f"from line {int(motions['line'][rows[REPEAT]])}", f"{says}: {len(rows) - REPEAT} more motions"
        )


def _read(reading: Reading, target: Target, machine: Machine) -> Iterator[Finding]:
    # The last fault may say that reading stopped: it is told in any case.
    for fault in (*reading.faults[:FAULTS], *reading.faults[FAULTS:][-1:]):
        yield Finding("stop", fault.rule, f"line {fault.line}", fault.says)
    for remark in reading.remarks[:FAULTS]:
        yield Finding(REMARKS[remark.rule], remark.rule, f"line {remark.line}", remark.says)
    if target.units is not None and reading.units is not None and reading.units != target.units:
        yield Finding(
            "stop", "units", "head of the file", f"the file is in {reading.units}, and was to be in {target.units}"
        )
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
            yield from limited(
                "stop", "path-mode", reading, loose[:1], "exact path is given up here; corners may be rounded off"
            )
    if not len(reading.motions):
        yield Finding("stop", "no-motion", "the file", "nothing in the file moves")


def _known_places(reading: Reading) -> Iterator[Finding]:
    """Until all three coordinates are known the tool may only lift, then cross over in the clear."""
    motions = reading.motions
    unknown = ~(np.isfinite(motions["start"]).all(axis=1) & np.isfinite(motions["end"]).all(axis=1))
    rows = np.flatnonzero(unknown & (motions["kind"] != RAPID))
    yield from limited("stop", "place-unknown", reading, rows, "a feed from or to a place that the file has not given")
    across = unknown & ~np.isfinite(motions["end"][:, 2])
    yield from limited(
        "stop",
        "first-move",
        reading,
        np.flatnonzero(across),
        "the tool moves across before the file has said how high it is; the first move lifts",
    )


def _spindle(reading: Reading, machine: Machine, works: Mapping[int, Work]) -> Iterator[Finding]:
    motions = reading.motions
    with np.errstate(invalid="ignore"):
        in_stock = np.minimum(motions["start"][:, 2], motions["end"][:, 2]) < -INSIDE
    feeding = motions["kind"] != RAPID
    turning = (motions["spindle"] != OFF) & (motions["rpm"] > 0.0)
    off = np.flatnonzero((in_stock | (feeding & (motions["end"][:, 2] <= 0.0))) & ~turning)
    yield from limited("stop", "spindle-off", reading, off, "the tool is in the stock and the spindle does not turn")
    wrong = np.flatnonzero((in_stock | feeding) & turning & (motions["spindle"] != CW))
    yield from limited(
        "stop", "spindle-direction", reading, wrong, "M4 turns a right-hand bit backwards; a cut wants M3"
    )
    low, high = machine.spindle
    rpm = motions["rpm"]
    out = np.flatnonzero(turning & feeding & ((rpm < low * (1.0 - SHARE)) | (rpm > high * (1.0 + SHARE))))
    for row in out[np.unique(rpm[out], return_index=True)[1]]:
        yield from limited(
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
            yield from limited(
                "stop", "bit-speed", reading, fast[:1], f"the bit {work.envelope.bit.name} is marked {most:g} rpm"
            )


def _first_and_last(reading: Reading) -> Iterator[Finding]:
    motions = reading.motions
    if not len(motions):
        return
    heights = motions["end"][:, 2]
    if not (motions["kind"][0] == RAPID and heights[0] >= CLEAR - SLACK):
        yield from limited(
            "stop", "first-move", reading, np.array([0]), "the first move does not lift the tool clear of the stock"
        )
    elif np.isfinite(motions["end"][0, :2]).any():
        yield from limited(
            "stop",
            "first-move",
            reading,
            np.array([0]),
            "the first move crosses over while it lifts; the file cannot know what stands in the way",
        )
    if not heights[-1] >= CLEAR - SLACK:
        yield from limited(
            "stop", "end-low", reading, np.array([len(motions) - 1]), "the program ends with the tool low"
        )


def _rapids(reading: Reading, target: Target) -> Iterator[Finding]:
    """Rapids that go down aslant: a machine need not move its axes together in a rapid."""
    motions = reading.motions
    start, end = motions["start"], motions["end"]
    with np.errstate(invalid="ignore"):
        low = np.minimum(start[:, 2], end[:, 2])
        across = (np.abs(end[:, :2] - start[:, :2]) > SLACK).any(axis=1) | ~np.isfinite(start[:, :2]).all(axis=1)
        upright = np.abs(end[:, 2] - start[:, 2]) > SLACK
    aslant = (motions["kind"] == RAPID) & across & upright & (low < CLEAR - SLACK)
    yield from limited(
        "stop",
        "rapid-aslant",
        reading,
        np.flatnonzero(aslant),
        "a rapid across and down at once, near the stock; few machines take a straight line there",
    )


def _feeds(reading: Reading, machine: Machine) -> Iterator[Finding]:
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
        yield from limited(
            "stop",
            "feed-over",
            reading,
            rows,
            f"a feed of up to {motions['feed'][worst]:.0f} mm/min; the machine moves at {x:.0f}, {y:.0f}, {z:.0f}",
        )
    yield from limited("stop", "feed-missing", reading, np.flatnonzero(none), "a cutting motion without a feed")


def _climb(motions: np.ndarray) -> np.ndarray:
    """Share of the way of arcs that goes along z."""
    spoke = motions["start"][:, :2] - motions["centre"][:, :2]
    along = np.hypot(*spoke.T) * np.abs(motions["sweep"])
    rise = np.abs(motions["end"][:, 2] - motions["start"][:, 2])
    climb: np.ndarray = rise / np.maximum(np.hypot(along, rise), 1e-12)
    return climb


def _extents(reading: Reading, target: Target, machine: Machine) -> Iterator[Finding]:
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
                    place(int(motions["line"][high]), ends[high]),
                    f"the path spans {span:.1f} mm in {name}, between lines {motions['line'][low]} and "
                    f"{motions['line'][high]}; the machine travels {machine.travel[axis]:.1f}",
                )
    with np.errstate(invalid="ignore"):
        deep = np.flatnonzero(ends[:, 2] < target.bottom - TOLERANCES.gouge)
    if len(deep):
        worst = float(ends[deep, 2].min())
        yield from limited(
            "stop", "too-deep", reading, deep, f"down to z {worst:.3f}; nothing may go below z {target.bottom:.3f}"
        )


def _changes(reading: Reading) -> Iterator[Finding]:
    motions = reading.motions
    for change in reading.tool_changes:
        if 0 < change.before <= len(motions):
            before = motions[change.before - 1]
            if not before["end"][2] >= CLEAR - SLACK:
                yield Finding(
                    "stop", "tool-change-low", place(change.line, before["end"]), "a tool change with the tool low"
                )
            if before["spindle"] != OFF and not _stopped(reading, change.before):
                yield Finding(
                    "note",
                    "tool-change-spindle",
                    f"line {change.line}",
                    "M6 stops the spindle; an M5 before it says so to the reader",
                )


def _stopped(reading: Reading, before: int) -> bool:
    """Whether the spindle stands still at the motion after the change."""
    return before < len(reading.motions) and reading.motions["spindle"][before] == OFF


def _pauses(reading: Reading) -> Iterator[Finding]:
    motions = reading.motions
    standing: tuple[Stop | Dwell, ...] = (*reading.stops, *reading.dwells)
    for pause in standing:
        if (
            0 < pause.before <= len(motions)
            and motions["end"][pause.before - 1, 2] < -INSIDE
            and pause.before < len(motions)
        ):
            yield Finding(
                "caution",
                "pause-in-stock",
                place(pause.line, motions["end"][pause.before - 1]),
                "the tool stands still in the wood here, and burns it",
            )


def cutting(motions: np.ndarray) -> np.ndarray:
    """(n,) whether each motion cuts on purpose: a feed, with the spindle turning."""
    feeding = (motions["kind"] == FEED) | (motions["kind"] == ARC)
    on_purpose: np.ndarray = feeding & (motions["spindle"] != OFF) & (motions["rpm"] > 0.0)
    return on_purpose
