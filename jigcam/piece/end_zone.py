"""Cuts that run into an end joint: where they show in the other board, and what to do about it.

The *zone* of an end joint reaches from the end of the board to the furthest of what the joint takes there, the
baseline. Board frame, mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from jigcam.findings import Finding
from jigcam.geometry import Region, difference, rectangle, union
from jigcam.piece.between import met
from jigcam.piece.place import board_words
from jigcam.wood.practice import PRACTICE

if TYPE_CHECKING:
    from jigcam.piece.body import Body
    from jigcam.units import Voice
    from jigcam.wood import End

AT_END = 0.01
"""A cut that comes this near to the end of the board shows there, mm."""
SMALL = 0.01
"""Less of a section than this is rounding, mm²."""


@dataclass(frozen=True)
class EndZone:
    """One end of a board with all that one joint takes there."""

    joint: str
    end: End
    bodies: tuple[Body, ...]

    @cached_property
    def reach(self) -> float:
        """From the end to the baseline."""
        length = self.bodies[0].taken.board.length
        boxes = [body.box for body in self.bodies if body.box is not None]
        return max((box.x1 if self.end == "left" else length - box.x0 for box in boxes), default=0.0)

    @cached_property
    def region(self) -> Region:
        """Seen square at the face."""
        board = self.bodies[0].taken.board
        if self.reach <= 0.0:
            return Region.empty()
        x0 = 0.0 if self.end == "left" else board.length - self.reach
        return rectangle(x0, 0.0, x0 + self.reach, board.width)

    @property
    def covered(self) -> bool:
        """Whether the board that meets it stands before its end grain."""
        return all(body.taken.covered for body in self.bodies)

    def gone(self, depth: float) -> Region:
        """What the joint takes at a depth."""
        return union(*(body.section(depth) for body in self.bodies))

    def holds(self, body: Body) -> bool:
        """Whether a cut comes into it at all."""
        return met(body.shadow, self.region).area > SMALL

    def findings(self, body: Body, voice: Voice, *, both: bool = False) -> Iterator[Finding]:
        """What a cut that comes into the zone means. both: it is said of both ends of the board, which are alike."""
        taken = body.taken
        where = f"{board_words(taken.board, taken.hand)}: {taken.joint} and {self.joint}"
        section = body.section(body.middle)
        inside = met(section, self.region)
        if inside.area >= PRACTICE.same_place * section.area:
            says = (
                f"two joints are in one place: {taken.what} of {taken.joint} lies in the {self.end} end of "
                f"{taken.board.name}, within the {voice.rule(self.reach)} of {self.joint}; move it inward"
            )
            yield Finding("stop", "in-end-joint", where, says)
            return
        wood = difference(inside, self.gone(body.middle))
        hidden = wood.area <= SMALL
        runs = (
            f"{taken.what} of {taken.joint}, on the {taken.face} face, runs into "
            f"{'both ends' if both else f'the {self.end} end'} of {taken.board.name}"
        )
        if hidden:
            says = f"{runs} where {self.joint} takes the wood anyway: what comes into that place there covers it"
            yield Finding("note", "in-end-joint", where, says)
            return
        shows, edge = self._shown(wood), self._edge(body)
        if shows and self.covered:
            says = (
                f"{runs}, {_spans(shows, voice)} from the lower edge, where the board that meets it stands before the "
                f"end grain: nothing of it is seen once {self.joint} is together"
            )
            yield Finding("note", "in-end-joint", where, says)
            return
        if shows:
            seen = (
                f"and shows as a {'hole' if edge is None else 'notch'} in the end grain, {_spans(shows, voice)} from "
                "the lower edge: on the outside of the board that meets it, once the joint is together"
            )
        else:
            seen = f"and weakens {self.joint} there, {_spans(_heights(wood), voice)} from the lower edge"
        if taken.takes:
            # Stopped before the zone, or moved, it would no longer take the corner of what lies in it, nor meet the
            # grooves in which that lies at its other edges.
            yield Finding("caution", "in-end-joint", where, f"{runs}, {seen}; {self._where_taken(body, bool(shows))}")
            return
        stop = f"stop it at least {voice.rule(self.reach)} before {'each' if both else 'the'} end"
        hole = "plug the hole" if edge is None else "fill the notch with a strip of the same wood"
        mend = f"{stop}{self._room(body, voice)}{self._wider(body, edge, voice)}{f', or {hole}' if shows else ''}"
        yield Finding("caution", "in-end-joint", where, f"{runs}, {seen}; {mend}")

    def _where_taken(self, body: Body, shows: bool) -> str:
        """What mends a cut in which a board lies, whose corner has to have its place in the zone."""
        takes, own, edge = body.taken.takes, body.taken.joint, self._edge(body)
        fill = "plug the hole" if edge is None else "fill the notch"
        if not shows:
            return f"{takes} needs it as far as it reaches itself: leave {own} no longer and no deeper than that"
        return (
            f"{fill} with a strip of the same wood once {takes} is in, as is done with a groove that is ploughed right "
            f"through (common practice), or stop {own} short of the end, just where {takes} ends in it"
        )

    def _shown(self, wood: Region) -> list[tuple[float, float]]:
        """From where to where, along the end, wood is missing that should be there."""
        end = 0.0 if self.end == "left" else self.bodies[0].taken.board.length
        at_end = [part for part in wood.parts if min(abs(part.bounds[0] - end), abs(part.bounds[2] - end)) <= AT_END]
        return [(y0, y1) for _, y0, _, y1 in sorted(part.bounds for part in at_end)]

    def _edge(self, body: Body) -> Literal["lower", "upper"] | None:
        """The edge of the board along which a cut runs, as a rabbet does: it has no other place."""
        _, low, _, high = met(body.section(body.middle), self.region).bounds
        if low < AT_END:
            return "lower"
        return "upper" if high > self.bodies[0].taken.board.width - AT_END else None

    def _wider(self, body: Body, edge: Literal["lower", "upper"] | None, voice: Voice) -> str:
        """How wide the joint would have to take the wood at the edge of such a cut, where it takes any there.

        At the edges of a tail board it does, where half pins come; on a pin board half pins stand there, and nothing of
        their width hides a cut.
        """
        if edge is None:
            return ""
        width = self.bodies[0].taken.board.width
        _, low, _, high = met(body.section(body.middle), self.region).bounds
        takes = any(
            part.bounds[1] < AT_END if edge == "lower" else part.bounds[3] > width - AT_END
            for part in self.gone(body.middle).parts
        )
        need = voice.at_least(high if edge == "lower" else width - low)
        return f", or let {self.joint} take at least {need} at the {edge} edge, which hides it" if takes else ""

    def _room(self, body: Body, voice: Voice) -> str:
        """The nearest place along the end where the cut would be hidden, if there is one."""
        section = met(body.section(body.middle), self.region)
        _, low, _, high = section.bounds
        # Only where all of it is gone, from the baseline to the end.
        end = 0.0 if self.end == "left" else self.bodies[0].taken.board.length
        spans = []
        for part in self.gone(body.middle).parts:
            x0, y0, x1, y1 = part.bounds
            if min(abs(x0 - end), abs(x1 - end)) <= AT_END and x1 - x0 >= self.reach - AT_END:
                spans.append(_narrowest(part, (x0, x1), (y0, y1)))
        width = self.bodies[0].taken.board.width
        if self._edge(body) is not None:
            return ""
        room = [(y0, y1) for y0, y1 in spans if y1 - y0 >= high - low and y0 > 0.0 and y1 < width]
        if not room:
            return ""
        best = min(room, key=lambda span: max(span[0] - low, high - span[1]))
        return f", or move it to where it is hidden, {_spans([best], voice)} from the lower edge"


def end_zones(bodies: Sequence[Body]) -> tuple[EndZone, ...]:
    """The zones of a board's end joints."""
    keys = dict.fromkeys((body.taken.joint, body.taken.end) for body in bodies if body.taken.end is not None)
    return tuple(
        EndZone(joint, end, tuple(b for b in bodies if (b.taken.joint, b.taken.end) == (joint, end)))
        for joint, end in keys
        if end is not None
    )


def _narrowest(part: Region, x: tuple[float, float], y: tuple[float, float]) -> tuple[float, float]:
    """What of a part's height is open all along it: straight flanks are narrowest at one of its ends."""
    low, high = y
    for at in (x[0] + AT_END, x[1] - AT_END):
        strip = met(part, rectangle(at - AT_END / 2.0, y[0] - 1.0, at + AT_END / 2.0, y[1] + 1.0))
        if not strip.is_empty:
            _, y0, _, y1 = strip.bounds
            low, high = max(low, y0), min(high, y1)
    return low, high


def _heights(wood: Region) -> list[tuple[float, float]]:
    return [(y0, y1) for _, y0, _, y1 in sorted(part.bounds for part in wood.parts)]


def _spans(spans: Sequence[tuple[float, float]], voice: Voice) -> str:
    return " and ".join(f"{voice.length(low)} to {voice.length(high)}" for low, high in spans)
