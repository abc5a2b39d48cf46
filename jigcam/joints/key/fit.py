"""A key in its recess, both as the milled opening leaves them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.findings import Finding
from jigcam.making.axes import MEND, axes_line
from jigcam.proof.fit import SEAT
from jigcam.template.inlay import FIT, plug_in
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.geometry import Region
    from jigcam.joints.key.template import KeyTemplate
    from jigcam.proof import Ride
    from jigcam.units import Voice

ALONG = 0.5
"""Between places along a key at which its clearance is taken, mm."""


@dataclass(frozen=True)
class Room:
    """From a key's outline to its recess all along it, at one side, mm, to a tenth of a micron.

    where: (x, y) of the least, face frame.
    """

    least: float
    median: float
    most: float
    where: tuple[float, float]
    seats: bool

    @classmethod
    def between(cls, recess: Region, plug: Region) -> Room:
        """Measured at corners and along all edges of the key. Neither may be empty."""
        points = np.vstack(
            [
                np.vstack([loop.points(TOLERANCES.curve), loop.at(np.arange(0.0, loop.length, ALONG))[0]])
                for loop in plug.loops
            ]
        )
        room = recess.signed_distance(points)
        x, y = points[int(room.argmin())].tolist()
        return cls(
            round(float(room.min()), 4) + 0.0,
            round(float(np.median(room)), 4) + 0.0,
            round(float(room.max()), 4) + 0.0,
            (round(x, 3), round(y, 3)),
            bool(room.min() >= -SEAT),
        )

    def as_dict(self) -> dict[str, Any]:
        """For the manifest."""
        return {
            "least_mm": self.least,
            "median_mm": self.median,
            "most_mm": self.most,
            "where": list(self.where),
            "seats": self.seats,
        }


@dataclass(frozen=True)
class KeyAxesApart:
    """Key and recess with the axes apart, mm: held one way both shift alike; turned, each may come out larger or
    smaller by twice that."""

    eccentricity: float
    tightest: Room
    loosest: Room

    @property
    def shifted(self) -> float:
        """With the router held one way."""
        return self.eccentricity

    @property
    def room(self) -> tuple[float, float]:
        """The least and the most room of the key, in all, where the router turns."""
        return 2.0 * self.tightest.least, 2.0 * self.loosest.most

    def as_dict(self) -> dict[str, Any]:
        """For the manifest."""
        low, high = self.room
        return {
            "eccentricity_mm": round(self.eccentricity, 4),
            "held": {"shifted_mm": round(self.shifted, 4)},
            "turned": {
                "tightest": {**self.tightest.as_dict(), "total_mm": round(low, 4)},
                "loosest": {**self.loosest.as_dict(), "total_mm": round(high, 4)},
            },
        }


@dataclass(frozen=True)
class KeyFit:
    """A key in its recess. play: of the bushing in the opening, None where it was not measured."""

    template: KeyTemplate
    room: Room
    play: float | None
    apart: KeyAxesApart | None

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        inlay = self.template.inlay
        facts: dict[str, Any] = {
            **self.room.as_dict(),
            "gap_mm": round(inlay.gap, 4) + 0.0,
            "gap_least_mm": round(2.0 * self.room.least, 4),
            "gap_most_mm": round(2.0 * self.room.most, 4),
            "recess_bushing": inlay.recess.bushing.name,
            "plug_bushing": inlay.plug.bushing.name,
            "corner_radius_mm": round(inlay.recess.bit.radius, 4),
            "keys": len(self.template.key.centres),
            "play_mm": None if self.play is None else round(self.play, 4),
        }
        if self.apart is not None:
            facts["axes_apart"] = self.apart.as_dict()
        return facts

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        gap = voice.span(2.0 * self.room.least, 2.0 * self.room.most)
        return [f"the key has {gap} of room, {voice.exact(self.template.inlay.gap)} meant"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        gap = voice.span(2.0 * self.room.least, 2.0 * self.room.most)
        return [
            f"the key has {gap} of room in all in its recess, both as cut; {voice.exact(self.template.inlay.gap)} is "
            "meant",
            axes_line(self.apart, voice),
        ]


def key_fit(
    plan: KeyTemplate, ridden: Ride, opening: Region, plug: Region, voice: Voice
) -> tuple[KeyFit, list[Finding]]:
    """The key in its recess, with what is to be said. opening: as milled; plug: the key that comes of it; mm."""
    inlay, where = plan.inlay, plan.key.name
    # The key's outline lies within the recess by half the gap, all round.
    room = Room.between(ridden.cut, plug)
    findings = []
    if room.most - room.least > 2.0 * TOLERANCES.left or abs(room.least - inlay.gap / 2.0) > TOLERANCES.left:
        says = (
            f"key and recess differ by {voice.span(2.0 * room.least, 2.0 * room.most)} across, and "
            f"{voice.exact(inlay.gap)} is meant"
        )
        findings.append(Finding("stop", "key-and-recess", plan.template.cut.joint, says))
    apart = _apart(plan, ridden, opening)
    if apart is not None:
        low, high = apart.room
        if low < min(0.0, inlay.gap) - 2.0 * SEAT or high > inlay.gap + FIT:
            findings.append(Finding("caution", "axes-apart", where, _apart_words(apart, inlay.gap, voice.length)))
    return KeyFit(plan, room, ridden.play_mm, apart), findings


def _apart(plan: KeyTemplate, ridden: Ride, opening: Region) -> KeyAxesApart | None:
    """None where the axes are one."""
    e = ridden.eccentricity_mm
    if e <= 0.0:
        return None
    bit, bushing = plan.inlay.plug.bit.diameter, plan.inlay.plug.bushing.outside
    largest, smallest = plug_in(opening, bit, bushing - 2.0 * e), plug_in(opening, bit, bushing + 2.0 * e)
    tightest = _lacking(plan, largest, bit) if ridden.sure.is_empty else Room.between(ridden.sure, largest)
    loosest = _empty(plan, ridden.envelope) if smallest.is_empty else Room.between(ridden.envelope, smallest)
    return KeyAxesApart(e, tightest, loosest)


def _lacking(plan: KeyTemplate, plug: Region, bit: float) -> Room:
    """Where axes are so far apart that no wood of the recess goes for sure: turning moves the cut of the bit, and does
    not close it, so that what a key lacks there is its own width but for the bit's, half on each side."""
    lack = -0.5 * max(0.0, _widest(plan, plug) - bit)
    return Room(round(lack, 4) + 0.0, round(lack, 4) + 0.0, round(lack, 4) + 0.0, plan.key.centres[0], lack >= -SEAT)


def _empty(plan: KeyTemplate, recess: Region) -> Room:
    """Where axes are so far apart that nothing of a key may be left: all of its recess is room, half on each side."""
    room = round(0.5 * _widest(plan, recess), 4)
    return Room(room, room, room, plan.key.centres[0], True)


def _widest(plan: KeyTemplate, region: Region) -> float:
    """How wide a key or recess is at its ends, square to its length, mm."""
    across = np.array([-np.sin(plan.key.angle), np.cos(plan.key.angle)])
    return float(np.ptp(np.vstack([loop.points() for loop in region.loops]) @ across))


def _apart_words(apart: KeyAxesApart, gap: float, says: Callable[[float], str]) -> str:
    low, high = apart.room
    return (
        f"bushing and bit are {says(apart.eccentricity)} out of line, as measured: where the router turns, the key may "
        f"have from {says(low)} to {says(high)} of room in its recess, and {says(gap)} is meant; held one way, recess "
        f"and key shift alike: {MEND}"
    )
