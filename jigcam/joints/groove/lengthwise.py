"""A groove with the grain by hand: its walls are gauged and ploughed; a chisel driven along them splits the board."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from jigcam.joints.groove.walls import along_an_edge, first_wall
from jigcam.units.setting import Known

if TYPE_CHECKING:
    from jigcam.joints.groove.groove import Groove
    from jigcam.units import Voice

GAUGE: Final = 150.0
"""mm from its stock to which a marking gauge reaches (common practice, no source)."""
FENCE: Final = 120.0
"""mm to which the fence of a plough plane reaches (common practice, no source)."""
CHOP: Final = 3.0
"""mm between the cuts of a chisel across the grain, as in a mortise (common practice, no source)."""
RUN_OUT: Final = 40.0
"""mm of a stopped end that are chopped out first, so that the plough has where to run out (common practice, no
source)."""


def within(groove: Groove, reach: float) -> bool:
    """Whether every first wall of its row runs along the lower edge, no further from it than that, mm."""
    return along_an_edge(groove) and all(first_wall(each).start[1] <= reach for each in groove.row)


def gauged(groove: Groove, apart: str, voice: Voice) -> Iterator[str]:
    """Both walls by the two pins of a gauge, the stock against the lower edge. apart: how the pins get their width."""
    low = {voice.ruled(first_wall(each).start[1]) for each in groove.row}
    figure = low.pop() if len(low) == 1 else "the first wall's figure up, below"
    until = ""
    if not (groove.open_start and groove.open_finish):
        until = ", no further than the stopped ends"
        if groove.ends == "round":
            until = ", at stopped ends no further than the first wall's figures along, below, where the round begins"
    yield (
        f"Set a mortise gauge: its pins {voice.rule(groove.width)} apart, {apart}; the pin nearer to its stock at "
        f"{figure}. Scribe both walls with the stock against the lower edge{until}: only the first wall is laid out by "
        "the rule, the second comes from the pins."
    )


def lengthwise_walls(groove: Groove, stops: Sequence[str], voice: Voice) -> Iterator[str]:
    """How the waste goes, where every wall lies with the grain. stops: the stopped ends, by name."""
    depth, most = voice.ruled(groove.depth), voice.up_to(groove.width)
    chop = (
        f"with a chisel of {most} or less, its edge across the grain, in steps of about {voice.about(CHOP)} between "
        "the two lines, as in a mortise, lever the chips out and go down in layers"
    )
    yield Known("The walls lie with the grain: a chisel driven along them splits the board.")
    if len(stops) == 2:
        yield (
            f"Both ends are stopped, so no plane runs through: chop the waste {chop} to {depth}, from the middle "
            "toward both ends."
        )
    else:
        if stops:
            room = voice.about(min(RUN_OUT, groove.length / 2.0))
            yield (
                f"Chop out the last {room} at the stopped {stops[0]} first, to {depth}, {chop}: there the plough plane "
                "runs out, or starts."
            )
        guide = (
            "its fence against the lower edge"
            if within(groove, FENCE)
            else "along a batten clamped on the first line, its fence off"
        )
        yield (
            f"Plough {'the rest' if stops else 'it'} with a plough plane, {guide}, an iron of {most} or less with its "
            f"corner on the first line, the depth stop at {depth}: short strokes at the far end first, then longer "
            "ones. Where the iron is narrower than the groove, move it until its other corner is on the second line, "
            "and plough again."
        )
        yield f"Without a plough plane, chop all of the waste {chop}."
    yield "Pare the walls upright to their lines with a wide chisel, in thin slices."
