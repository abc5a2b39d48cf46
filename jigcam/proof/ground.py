"""Ground already cut: whether a motion passes only where earlier motions have taken the wood away."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

import numpy as np

from jigcam.geometry import Path, Region, intersection, swept
from jigcam.proof.cleared import Cleared, Ways, cleared
from jigcam.proof.following import SAME_WAY, followed
from jigcam.proof.left import thickest_left
from jigcam.proof.outline import Outline, bounds_of
from jigcam.proof.strokes import Strokes
from jigcam.proof.sweeps import Work, sweeps
from jigcam.proof.target import INSIDE, Target
from jigcam.proof.travel import Travel
from jigcam.values import dataclass

TOUCH = 0.02
"""Wood thinner than this in the way is not met, mm."""
HEIGHTS = 5
"""Heights at which the way of a bit with a profile is looked at."""
SURELY = 0.75
"""Share of that thickness within which ground counts as cleared at the first look."""
AT_ONCE = 2_000
"""Strokes that are looked at for the first time in one go."""


@dataclass(frozen=True)
class Encounter:
    """A stroke of the travel (its place in it) meets standing wood of some thickness (mm) at x, y, z."""

    stroke: int
    thickness: float
    x: float
    y: float
    z: float


class Ground:
    """What all motions of a text cut, asked in time order."""

    def __init__(self, target: Target, works: Mapping[int, Work]) -> None:
        self.target = target
        self.works = works
        self._cutting = {tool: work.travel.take(np.flatnonzero(work.cuts)) for tool, work in works.items()}
        self._cuts = [Cleared(work.envelope, self._cutting[tool]) for tool, work in works.items()]

    def meetings(self, tool: int, index: np.ndarray, most: int) -> list[Encounter]:
        """The first `most` of the strokes `index` of a tool's travel that meet wood that still stands by then."""
        work = self.works[tool]
        strokes = work.travel.take(index)
        clipped = strokes.below(-INSIDE)
        doubtful = np.flatnonzero(strokes.lowest <= -INSIDE)
        # A bit that is nowhere narrower above than below leaves by the room that it made: straight up is always clear.
        out = (clipped.strokes.length == 0.0) & (clipped.z1 >= clipped.z0) & (not work.envelope.bit.undercuts)
        rows = np.flatnonzero(~out)
        found: list[Encounter] = []
        rows = rows[~self._same_way(tool, clipped.take(rows))]
        for row in self._doubtful(rows, lambda some: self._way_is_clear(work, clipped.take(some))):
            meeting = self._meeting(work, clipped.take(np.array([row])), int(index[doubtful[row]]))
            if meeting is not None:
                found.append(meeting)
                if len(found) >= most:
                    break
        return found

    def shank_meetings(self, tool: int, most: int) -> list[Encounter]:
        """The first `most` strokes on which what is above the cutting edges meets wood that no edge has taken yet."""
        work = self.works[tool]
        envelope, travel = work.envelope, work.travel
        cutting = envelope.bit.cutting_length
        deep = np.flatnonzero(travel.lowest + cutting < -2.0 * INSIDE)
        found: list[Encounter] = []
        met = Strokes.empty()
        deep = deep[~self._cleared_above(tool, travel.take(deep))]
        for row in self._doubtful(deep, lambda some: self._shank_is_clear(work, travel.take(some))):
            one = travel.take(np.array([row]))
            if len(met) and met.distance(one.strokes.b, met.tree.nearest(one.strokes.b))[0] < SAME_WAY:
                continue
            z = float(one.lowest[0]) + cutting + INSIDE
            high = np.array([-float(one.lowest[0])])
            radius = float(envelope.extremes(np.array([cutting + INSIDE]), high)[1][0])
            meeting = self._standing(one, radius, z, int(row), edges_only=True)
            if meeting is not None:
                found.append(meeting)
                met = Strokes.joined([met, one.strokes])
                if len(found) >= most:
                    break
        return found

    def skims(self, tool: int, index: np.ndarray, most: int) -> list[int]:
        """The first `most` of the strokes `index`, just above the face, that run over wood that still stands there.

        The way is as wide as the cutter is, whatever its tip.
        """
        work = self.works[tool]
        some = work.travel.take(index)
        sunk = Travel(some.strokes, np.full(len(some), -2.0 * INSIDE), np.full(len(some), -2.0 * INSIDE), some.motion)
        # A bit as wide at its tip as anywhere has cleared the whole way where it went before; a pointed one has not.
        blunt = float(work.envelope.radius(np.array([2.0 * INSIDE]))[0]) > work.envelope.widest - INSIDE
        known = self._same_way(tool, sunk) if blunt else np.zeros(len(sunk), bool)
        found: list[int] = []
        for row in self._doubtful(np.flatnonzero(~known), lambda some: self._face_is_clear(work, sunk.take(some))):
            if self._standing(some.take(np.array([row])), work.envelope.widest, -2.0 * INSIDE, int(row)) is not None:
                found.append(int(index[row]))
                if len(found) >= most:
                    break
        return found

    def _doubtful(self, rows: np.ndarray, clear: Callable[[np.ndarray], np.ndarray]) -> Iterator[int]:
        """Those of some strokes that have to be looked at one by one: the rest is known to be clear."""
        for k in range(0, len(rows), AT_ONCE):
            some = rows[k : k + AT_ONCE]
            yield from some[~clear(some)].tolist()

    def _way_is_clear(self, work: Work, some: Travel) -> np.ndarray:
        """(k,) whether earlier motions took all that the bit meets on strokes below the face, for certain."""
        envelope, low = work.envelope, some.lowest + INSIDE
        straight = envelope.straight_to >= float(-some.lowest.min())
        clear = np.ones(len(some), bool)
        for share in (0.0,) if straight else np.linspace(0.0, 1.0, HEIGHTS):
            z = low + share * (-INSIDE - low)
            clear &= self._is_clear(Ways(some, envelope.widest_up_to(z - some.lowest), z))
        return clear

    def _shank_is_clear(self, work: Work, some: Travel) -> np.ndarray:
        """(k,) the same of what is above the edges, and of wood that edges took."""
        cutting = work.envelope.bit.cutting_length + INSIDE
        radius = work.envelope.extremes(np.full(len(some), cutting), -some.lowest)[1]
        return self._is_clear(Ways(some, radius, some.lowest + cutting, edges=True))

    def _face_is_clear(self, work: Work, some: Travel) -> np.ndarray:
        """(k,) the same at the face, as wide as the cutter is."""
        return self._is_clear(Ways(some, np.full(len(some), work.envelope.widest), some.z0))

    def _is_clear(self, ways: Ways) -> np.ndarray:
        return cleared(ways, self._cuts, self.target.stock, SURELY * TOUCH)

    def _same_way(self, tool: int, some: Travel) -> np.ndarray:
        """(k,) whether one earlier stroke of the same bit went as low along the whole of each stroke.

        A bit that is nowhere narrower than below has then cleared all the way; one that is (a dovetail) only if the
        stroke is level and the earlier one was just as low.
        """
        result = np.zeros(len(some), bool)
        if not len(some):
            return result
        work, earlier = self.works[tool], _near(self._cutting[tool], some)
        widens = work.envelope.widens_to(float(-some.lowest.min()))
        i, higher, lower = followed(earlier, some, some.lowest, SAME_WAY)
        ok = (higher <= SAME_WAY) & (widens | ((some.z0 == some.z1)[i] & (lower >= -SAME_WAY)))
        result[i[ok]] = True
        return result

    def _done(self, tool: int, way: Region, motion: int) -> Work:
        """What a bit cut near a region before a motion."""
        work, cutting = self.works[tool], self._cutting[tool]
        if way.is_empty or not len(cutting):
            near = np.empty(0, np.intp)
        else:
            x0, y0, x1, y1 = bounds_of(way)
            reach = work.envelope.largest
            box = np.array([[x0 - reach, y0 - reach, x1 + reach, y1 + reach]])
            near = np.sort(cutting.strokes.box_tree.meeting(box)[1])
        near = near[cutting.motion[near] < motion]
        return Work(work.envelope, cutting.take(near), np.ones(len(near), bool))

    def _cleared_above(self, tool: int, some: Travel) -> np.ndarray:
        """(k,) whether one earlier stroke of the same bit took with its edges what is above those of each stroke.

        Only told of bits with upright edges, and where nothing above them that comes below the face is any thicker.
        """
        work, result = self.works[tool], np.zeros(len(some), bool)
        envelope, cutting = work.envelope, work.envelope.bit.cutting_length
        if not len(some) or envelope.straight_to < cutting:
            return result
        above = envelope.extremes(np.full(len(some), cutting + INSIDE), -some.lowest)[1]
        earlier = _near(self._cutting[tool], some)
        z = some.lowest + cutting + INSIDE
        i, higher, lower = followed(earlier, some, z, 0.0)
        result[i[(higher <= 0.0) & (lower + cutting >= 0.0)]] = True
        cleared: np.ndarray = result & (above <= envelope.radii[0])
        return cleared

    def _meeting(self, work: Work, one: Travel, number: int) -> Encounter | None:
        depth = -float(one.lowest[0])
        straight = work.envelope.straight_to >= depth
        low = float(one.lowest[0]) + INSIDE
        heights = [low] if straight else list(np.linspace(low, -INSIDE, HEIGHTS))
        for z in heights:
            part = one.below(z)
            if len(part):
                radius = float(work.envelope.widest_up_to(z - part.lowest)[0])
                meeting = self._standing(part, radius, z, number)
                if meeting is not None:
                    return meeting
        return None

    def _standing(
        self, one: Travel, radius: float, z: float, number: int, *, edges_only: bool = False
    ) -> Encounter | None:
        """Wood at height z that stands in the way of a disc along one stroke when its turn comes.

        edges_only: the wood that earlier motions took with their cutting edges, not what their shanks would have.
        """
        way = intersection(way_of(one.strokes, radius), self.target.stock.region)
        earlier = []
        for tool, work in self.works.items():
            done = self._done(tool, way, int(one.motion[0]))
            if edges_only:
                reaching = np.flatnonzero(done.travel.lowest + work.envelope.bit.cutting_length >= z)
                done = done.take(reaching)
            earlier += sweeps(done, z, way)
        left = thickest_left(Outline(way), earlier, TOUCH / 4.0)
        if left.size > TOUCH and left.place is not None:
            return Encounter(number, left.size, float(left.place[0]), float(left.place[1]), z)
        return None


def _near(travel: Travel, some: Travel) -> Travel:
    """The strokes that come near the bounds of some others."""
    if not len(some):
        return travel
    low = some.strokes.boxes[:, :2].min(axis=0) - SAME_WAY
    high = some.strokes.boxes[:, 2:].max(axis=0) + SAME_WAY
    boxes = travel.strokes.boxes
    return travel.take(np.flatnonzero((boxes[:, :2] <= high).all(axis=1) & (boxes[:, 2:] >= low).all(axis=1)))


def way_of(strokes: Strokes, radius: float) -> Region:
    """All that a disc passes over along one stroke."""
    a, b, sweep = strokes.a[0], strokes.b[0], float(strokes.sweep[0])
    return swept(Path(np.array([[*a, np.tan(sweep / 4.0)], [*b, 0.0]])), radius)
