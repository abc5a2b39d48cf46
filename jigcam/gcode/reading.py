"""What a text says a machine will do: motions as columns, with the stops, dwells and comments between them.

Frame: millimetres in the file frame, which is the coordinate system in force at the first motion; feeds in mm/min.
A coordinate that no word has given yet, or that only the machine knows (after G28 or G53), is NaN. So the first motion
of a file starts at NaN in every axis, and an axis stays NaN until a word gives it.
"""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from jigcam.gcode.faults import Fault

Kind = Literal["rapid", "feed", "arc"]
Spindle = Literal["off", "cw", "ccw"]
Plane = Literal["xy", "zx", "yz"]
PathMode = Literal["exact path", "exact stop", "continuous"]
Units = Literal["mm", "in"]
StopKind = Literal["pause", "optional", "pallet", "end"]
Cause = Literal["tool change", "pause", "length offset"]

RAPID, FEED, ARC = 0, 1, 2
KINDS: tuple[Kind, ...] = ("rapid", "feed", "arc")
OFF, CW, CCW = 0, 1, 2
SPINDLES: tuple[Spindle, ...] = ("off", "cw", "ccw")
PLANES: tuple[Plane, ...] = ("xy", "zx", "yz")
MIST, FLOOD = 1, 2

MOTION = np.dtype(
    [
        ("line", np.int32),  # counts from 1
        ("kind", np.uint8),  # RAPID, FEED, ARC
        ("start", np.float64, 3),  # mm
        ("end", np.float64, 3),  # mm
        ("centre", np.float64, 3),  # mm; for arcs, at the height of the start; NaN for straight motions
        ("sweep", np.float64),  # rad, positive anticlockwise seen from the plane's positive normal; 0 if straight
        ("plane", np.uint8),  # place in PLANES; the plane of an arc
        ("feed", np.float64),  # mm/min along the path; 0 for rapids
        ("rpm", np.float64),  # the S in force, whether or not the spindle turns
        ("spindle", np.uint8),  # OFF, CW, CCW; turns only if rpm > 0 as well
        ("tool", np.int32),  # the tool changed to last; 0 as the file found it
        ("coolant", np.uint8),  # MIST | FLOOD
        ("length", np.int32),  # the length offset in force (G43 H), 0 for none
        ("exact", np.bool_),  # exact path or exact stop in force (G61, G61.1), stated by the file
    ]
)
"""One row per motion."""


@dataclass(frozen=True, slots=True)
class ReadMotion:
    """One row of the motions, spelled out; fields as in MOTION."""

    line: int
    kind: Kind
    start: tuple[float, float, float]
    end: tuple[float, float, float]
    centre: tuple[float, float, float]
    sweep: float
    plane: Plane
    feed: float
    rpm: float
    spindle: Spindle
    tool: int


@dataclass(frozen=True, slots=True)
class Stop:
    """M0 `pause`, M1 `optional`, M60 `pallet`, M2 or M30 `end`, before the motion with that index.

    turning: whether the spindle has been told to turn and not to stop since.
    """

    line: int
    kind: StopKind
    before: int
    turning: bool = False


@dataclass(frozen=True, slots=True)
class Dwell:
    """Seconds of standing still, before the motion with that index. turning: whether the spindle turns meanwhile."""

    line: int
    seconds: float
    before: int
    turning: bool = False


@dataclass(frozen=True, slots=True)
class ToolChange:
    """M6 to that tool number, before the motion with that index. It stops the spindle. turning: whether it turned."""

    line: int
    tool: int
    before: int
    turning: bool = False


@dataclass(frozen=True, slots=True)
class Selection:
    """A T word: the tool that the next M6 takes, before the motion with that index."""

    line: int
    tool: int
    before: int


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something after which coordinates are no longer known until words give them again.

    cause: M6, a stop at which a person may have moved the tool, or another length offset (G43, G49; in z alone).
    before: the first motion after it. said: for x, y and z the first motion whose own words give that coordinate, in
    absolute coordinates; one past the last motion if none does.
    """

    line: int
    cause: Cause
    before: int
    said: tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Comment:
    """Text between brackets, as it stands."""

    line: int
    text: str


@dataclass(frozen=True, slots=True)
class Reading:
    """Everything read from one text. A reading with faults is not to be trusted: motions of faulty lines are left out.

    motions: structured array of dtype MOTION, not to be written to. units and path_mode: as in force at the first
    motion, None if the file did not state them by then. ended: M2, M30 or a second % line was reached. lines: how many
    the text has. selections: T words. doubts: where coordinates have to be given anew. ends_turning: the program ends,
    and nothing has told the spindle to stop. deleted: the reading with the operator's switch for block delete on, which
    leaves out the lines that open with /; None where the text has none.
    """

    motions: np.ndarray
    faults: tuple[Fault, ...]
    remarks: tuple[Fault, ...]
    stops: tuple[Stop, ...]
    dwells: tuple[Dwell, ...]
    tool_changes: tuple[ToolChange, ...]
    comments: tuple[Comment, ...]
    messages: tuple[Comment, ...]
    units: Units | None
    path_mode: PathMode | None
    ended: bool
    lines: int
    selections: tuple[Selection, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    ends_turning: bool = False
    deleted: Reading | None = None

    @property
    def ok(self) -> bool:
        """No fault was found."""
        return not self.faults

    def __len__(self) -> int:
        return len(self.motions)

    def __iter__(self) -> Iterator[ReadMotion]:
        return (self.motion(index) for index in range(len(self.motions)))

    def motion(self, index: int) -> ReadMotion:
        """The motion with that index, spelled out."""
        row = self.motions[index]

        def point(name: str) -> tuple[float, float, float]:
            x, y, z = row[name].tolist()
            return x, y, z

        return ReadMotion(
            line=int(row["line"]),
            kind=KINDS[row["kind"]],
            start=point("start"),
            end=point("end"),
            centre=point("centre"),
            sweep=float(row["sweep"]),
            plane=PLANES[row["plane"]],
            feed=float(row["feed"]),
            rpm=float(row["rpm"]),
            spindle=SPINDLES[row["spindle"]],
            tool=int(row["tool"]),
        )


NAN = math.nan
ROW = 10
"""Numbers held per motion while reading: line, kind, end x y z, centre x y z, sweep, feed."""


@dataclass(slots=True)
class OpenDoubt:
    """A doubt in the making; said: None for a coordinate that no word has given yet."""

    line: int
    cause: Cause
    before: int
    said: list[int | None]

    def closed(self, count: int) -> Doubt:
        """As it stands at the end of a text with so many motions."""
        x, y, z = (count if place is None else place for place in self.said)
        return Doubt(self.line, self.cause, self.before, (x, y, z))


@dataclass(slots=True)
class Recorder:
    """Collects a reading. Rows go into one flat array, what seldom changes is kept as runs; `columns` joins them."""

    rows: array[float] = field(default_factory=lambda: array("d"))
    runs: list[tuple[int, tuple[int, float, int, int, int, bool, int]]] = field(default_factory=list)
    starts: dict[int, tuple[float, float, float]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    remarks: list[Fault] = field(default_factory=list)
    stops: list[Stop] = field(default_factory=list)
    dwells: list[Dwell] = field(default_factory=list)
    tool_changes: list[ToolChange] = field(default_factory=list)
    comments: list[Comment] = field(default_factory=list)
    messages: list[Comment] = field(default_factory=list)
    selections: list[Selection] = field(default_factory=list)
    doubts: list[OpenDoubt] = field(default_factory=list)

    @property
    def count(self) -> int:
        """Motions so far."""
        return len(self.rows) // ROW

    def conditions(
        self, plane: int, rpm: float, spindle: int, tool: int, coolant: int, exact: bool, length: int
    ) -> None:
        """What holds from the next motion on."""
        now = (plane, rpm, spindle, tool, coolant, exact, length)
        if not self.runs or self.runs[-1][1] != now:
            self.runs.append((self.count, now))

    def jump(self, start: tuple[float, float, float]) -> None:
        """The next motion starts there and not where the last one ended."""
        self.starts[self.count] = start

    def straight(self, line: int, kind: int, end: tuple[float, float, float], feed: float) -> None:
        """A motion in a straight line."""
        self.rows.extend((line, kind, *end, NAN, NAN, NAN, 0.0, feed))

    def arc(
        self, line: int, end: tuple[float, float, float], centre: tuple[float, float, float], sweep: float, feed: float
    ) -> None:
        """A motion along an arc or helix."""
        self.rows.extend((line, ARC, *end, *centre, sweep, feed))

    def columns(self) -> np.ndarray:
        """The motions, as MOTION."""
        table = np.frombuffer(self.rows, dtype=np.float64).reshape(-1, ROW)
        count = len(table)
        motions = np.zeros(count, MOTION)
        if not count:
            return motions
        motions["line"], motions["kind"] = table[:, 0], table[:, 1]
        motions["end"], motions["centre"] = table[:, 2:5], table[:, 5:8]
        motions["sweep"], motions["feed"] = table[:, 8], table[:, 9]
        motions["start"][0] = NAN
        motions["start"][1:] = motions["end"][:-1]
        for index, start in self.starts.items():
            if index < count:
                motions["start"][index] = start
        edges = [row for row, _ in self.runs] + [count]
        lengths = np.diff(edges)
        names = ("plane", "rpm", "spindle", "tool", "coolant", "exact", "length")
        for name, values in zip(names, zip(*(now for _, now in self.runs), strict=True), strict=True):
            motions[name] = np.repeat(np.array(values, MOTION[name]), lengths)
        motions.flags.writeable = False  # one reading serves all who ask for that text
        return motions
