"""A rabbet by hand: its lines on the board, saw and plane where it runs through, chisel where it is stopped.

Across the grain its shoulder is sawn or chopped; with the grain it is planed, and where it is stopped chopped across
the grain, for a chisel driven along the shoulder splits the board.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.geometry import apply
from jigcam.joints.rabbet.words import rabbet_words
from jigcam.making.blocks import rows_words, section
from jigcam.making.plan import Outcome, Plan
from jigcam.units.setting import Known
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.joints.rabbet.rabbet import Rabbet
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

Point = tuple[float, float]

CHOP = 3.0
"""mm between the cuts of a chisel across the grain, as in a mortise (common practice, no source)."""


@dataclass(frozen=True)
class HandRabbet(Plan):
    """A rabbet made by hand."""

    rabbet: Rabbet

    def drawings(self) -> Mapping[str, Drawing]:
        """The step on its board's face, and a section across it."""
        from jigcam.joints.rabbet.picture import scene_rabbet

        return {"rabbet": scene_rabbet(self.rabbet, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint."""
        return rabbet_words(self.rabbet, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """All of the work."""
        return rabbet_by_hand(self.rabbet, self.voice, number)

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Nothing is cut by files, so nothing is measured."""
        return Outcome()


def shoulder_line(it: Rabbet) -> tuple[Point, Point]:
    """The line of the shoulder on the face, from the start of the rabbet to its finish, face frame, mm."""
    start, finish = apply(it.matrix, [(it.width, t) for t in it.stretch])
    return (float(start[0]), float(start[1])), (float(finish[0]), float(finish[1]))


def stop_lines(it: Rabbet) -> Iterator[tuple[str, Point, Point]]:
    """Each stopped end, start or finish, and its line from the edge to the shoulder, face frame, mm."""
    for end, t, is_open in zip(("start", "finish"), it.stretch, it.open_ends, strict=True):
        if not is_open:
            edge, shoulder = apply(it.matrix, [(0.0, t), (it.width, t)])
            yield end, (float(edge[0]), float(edge[1])), (float(shoulder[0]), float(shoulder[1]))


def rabbet_by_hand(it: Rabbet, voice: Voice, number: int) -> list[Block]:
    """The work at the bench in numbered headings, from `number` on."""
    return [
        *_mark(it, voice, number),
        *section(f"{number + 1}. Cut the shoulder", _shoulder(it, voice)),
        *section(f"{number + 2}. Take out the waste, and level the cheek", _cheek(it, voice)),
    ]


def _edge(it: Rabbet) -> str:
    """The end or edge that it follows, by name."""
    return f"{it.along} {'end' if it.along in ('left', 'right') else 'edge'}"


def _open_sides(it: Rabbet) -> Iterator[str]:
    """Where it runs out, by name: ends of the board where it follows an edge, edges where it follows an end."""
    for (x, y), is_open in zip(shoulder_line(it), it.open_ends, strict=True):
        if is_open:
            left, right, lower, upper = sides(it.face)
            across = it.along in ("left", "right")
            size = it.board.width if across else it.board.length
            low, high = (lower, upper) if across else (left, right)
            yield low if (y if across else x) < size / 2.0 else high


def _mark(it: Rabbet, voice: Voice, number: int) -> list[Block]:
    """The lines, and how they are drawn."""
    left = sides(it.face)[0]
    edge = _edge(it)

    def place(point: Point) -> str:
        return f"{voice.ruled(point[0])} along, {voice.ruled(point[1])} up"

    start, finish = shoulder_line(it)
    rows = [("shoulder", f"from {place(start)}; to {place(finish)}; waste toward the {edge}")]
    rows += [(f"{end}, stopped", f"from {place(a)}; to {place(b)}") for end, a, b in stop_lines(it)]
    ends = [end for end, _, _ in stop_lines(it)]
    where = " and on the ".join((f"on the {edge}", *_open_sides(it)))
    where += ", where the rabbet runs out" if len(ends) < 2 else ""
    lines = [
        f"Lay the board before you, its {it.face} face up, the lower edge toward you: the {left} is at your left hand. "
        f"Figures along are from that {left}, figures up from the lower edge.",
        f"Set a marking gauge to {voice.rule(it.width)}, the width, and scribe the shoulder on the face with its stock "
        f"against the {edge}"
        + ("; it crosses the grain: cut it in with a knife." if it.along in ("left", "right") else ".")
        + (" Scribe no further than the stopped end." if ends else ""),
        f"Set a second gauge to {voice.ruled(it.depth)}, the depth, and scribe the cheek with its stock against the "
        f"{it.face} face, {where}.",
    ]
    if ends:
        lines.append(f"Square the {' and the '.join(ends)} from the {edge} to the shoulder with a knife.")
    return [*section(f"{number}. Mark the rabbet", lines), *rows_words(rows)]


def _shoulder(it: Rabbet, voice: Voice) -> Iterator[str]:
    waste = f"on the waste side, toward the {_edge(it)}, with the line left standing"
    across = it.along in ("left", "right")
    if not across:
        yield from _lengthwise(it, voice)
    elif all(it.open_ends):
        yield (
            f"Clamp a straight batten along the shoulder's line, and saw it {waste}, down to the gauge's lines "
            f"on the {' and the '.join(_open_sides(it))}; a strip of tape on the saw shows the depth."
        )
    else:
        yield (
            f"A saw does not run out at a stopped end: chop along the shoulder with a wide chisel, {waste}, and deepen "
            f"it in shavings to {voice.ruled(it.depth)}; chop the stopped end likewise, toward the rabbet."
        )
    if across and any(it.open_ends):
        yield "Clamp a waste block, flush, where the tools leave the board across the grain: the far edge breaks out."


def _lengthwise(it: Rabbet, voice: Voice) -> Iterator[str]:
    """Where the shoulder lies with the grain."""
    width, depth, edge = voice.ruled(it.width), voice.ruled(it.depth), _edge(it)
    yield Known("The shoulder lies with the grain: a chisel driven along it splits the board.")
    if all(it.open_ends):
        yield (
            f"Plane the waste off with a rabbet plane, its fence {width} from the far corner of the iron and against "
            f"the {edge}, its depth stop at {depth}: short strokes at the far end first, then longer ones, down to "
            "both gauge lines."
        )
        yield (
            "Without such a fence, clamp a batten along the shoulder's line for the plane; or saw along the batten, "
            "with the line left standing, down to the gauge's line."
        )
        return
    yield (
        f"Chop the waste across the grain, in steps of about {voice.about(CHOP)} from the {edge} to the shoulder's "
        f"line, lever the chips out toward the {edge}, and go down in layers to {depth}; the stopped "
        f"{' and the '.join(end for end, _, _ in stop_lines(it))} straight down at the line, last."
    )
    if any(it.open_ends):
        yield "Where it runs out, a rabbet or shoulder plane takes what is left, as far as it runs."


def _cheek(it: Rabbet, voice: Voice) -> Iterator[str]:
    if it.along not in ("left", "right"):
        yield "Pare or plane what is left down to the gauge lines."
    elif all(it.open_ends):
        yield (
            f"Take the waste off with a rabbet plane against a batten on the shoulder, down to the gauge lines, or "
            f"pare it with a wide chisel from the {_edge(it)} toward the shoulder."
        )
    else:
        yield (
            f"Pare the waste out with a wide chisel from the {_edge(it)} toward the shoulder, in layers no "
            "thicker than the chisel takes without splitting, and keep off the gauge lines."
        )
    trim = (
        "Pare" if it.along in ("left", "right") else "With a shoulder plane, or in thin slices of a wide chisel, trim"
    )
    depth = voice.ruled(it.depth)
    yield f"Level the cheek with a router plane set to {depth}, resting on the face behind the shoulder."
    yield (
        f"{trim} the shoulder upright to its line, and try {it.mate.name if it.mate else 'what lies'} in the rabbet: "
        "flush, and without a gap at the shoulder."
    )
