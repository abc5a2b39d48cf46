"""Where a sliding dovetail is glued: at one edge of the tail board, over as much of it as the seasons leave alone."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING, Self

from jigcam.joints.sliding_dovetail.words import glued_edge
from jigcam.values import dataclass
from jigcam.wood.seasons import Moving, Seasons

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Kit
    from jigcam.units import Voice

ACROSS = pi / 2.0
"""The direction across the grain, rad."""
BEARS = 0.25
"""By how much two boards may move apart over the length of a glue line that is to last, mm (assumed: no source)."""
LEAST = 25.0
"""A glue line that is shorter holds little, mm (common practice, no source)."""
THIRD = 1.0 / 3.0
"""Share that is glued where nothing is known of the woods (common practice, no source)."""


def glued_length(width: float, unlike: float) -> float:
    """How much of a tail, from the edge that is to stay flush, may be glued, mm.

    unlike: by what share of a length tail and socket come to differ along the socket, at the worse end of the year, as
    a part of one; its sign does not matter. All of the tail where it bears that; never less than holds.
    """
    if abs(unlike) * width <= BEARS:
        return width
    return min(width, max(LEAST, BEARS / abs(unlike)))


def unlike_of(joint: SlidingDovetail, points: float) -> float | None:
    """By what share the tail comes to be longer than its socket along it, by so many points of moisture.

    The tail board moves across its width, which lies along the socket; the socket's board as it does in that direction.
    None where a wood is not known.
    """
    tail, socket = Moving.of(joint.tail_board), Moving.of(joint.board)
    if tail is None or socket is None:
        return None
    return tail.in_plane(ACROSS, points) - socket.in_plane(joint.band.angle, points)


@dataclass(frozen=True, slots=True)
class Glue:
    """A glue line. length: of `width`, the tail board's, mm. edge: from which it runs; first: that goes in first.

    known: whether it follows from the woods.
    """

    length: float
    width: float
    edge: str
    first: bool
    known: bool

    @classmethod
    def of(cls, joint: SlidingDovetail, job: Job, kit: Kit) -> Self:
        """Of a joint in its climate. Raises InputError where the climate is none: see `Seasons.of`."""
        width = joint.tail_board.width
        shares = [unlike_of(joint, season.change) for season in Seasons.of(job, kit)]
        some = [abs(share) for share in shares if share is not None]
        length = glued_length(width, max(some)) if some else width * THIRD
        return cls(length, width, glued_edge(joint), _goes_in_first(joint), bool(some))

    @property
    def whole(self) -> bool:
        """Whether all of the tail is glued."""
        return self.length >= self.width

    def where(self, voice: Voice) -> str:
        """How much of the tail, and at which edge."""
        if self.whole:
            return "all of the tail"
        return f"only {voice.about(self.length)} of the tail, from its end at the {self.edge} edge on"

    def lines(self, voice: Voice) -> list[str]:
        """What to do, a sentence each."""
        lines = []
        if self.whole:
            lines.append(
                "Glue: both boards move alike along the socket, so all of the tail may be glued, thinly; glue "
                "swells it half way in, so have it home within a minute."
            )
        else:
            why = (
                "the boards move unlike along the socket, and over more a glue line gives way or a board splits"
                if self.known
                else "the job does not say of what woods the boards are, and this much is usual"
            )
            lines.append(
                f"Glue {self.where(voice)}, which so stays flush; leave the rest without glue, so that it slides: "
                f"{why}."
            )
        if not self.whole:
            lines.append(
                "That edge goes in first: brush the glue into the far end of the socket, not on the tail, which would "
                "carry it all along."
                if self.first
                else "That edge goes in last: brush the glue on the tail there when it is nearly home, not into the "
                "mouth of the socket, which all of the tail comes by."
            )
        return lines


def _goes_in_first(joint: SlidingDovetail) -> bool:
    """Whether the edge that is glued is the one that goes in first."""
    upper_last = joint.shape.enters_at_finish == joint.place.up
    return (glued_edge(joint) == "lower") == upper_last
