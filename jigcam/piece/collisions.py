"""Boards that stand in one place: wood of two boards where only one can be, beyond what their joints take away.

Two boards whose boxes overlap are cut along lines on which each lies at one depth of its own: where their faces are
not parallel, the line in which a plane of one board and one of the other cross, else a grid in the plane of both. The
planes lie in the slabs between the depths that matter to the joints (`Body`), so that nothing is missed that is a slab
high; along a line the sections are exact, looked at every `PITCH`. How a board fills its own groove, whose ends are
round as the bit leaves them, is the joint's to say: see `Seat`. World: that of a part, mm.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from jigcam.findings import Finding
from jigcam.piece.body import slabs_of
from jigcam.piece.boxes import TOUCH
from jigcam.piece.place import place_words
from jigcam.piece.ways import listed

if TYPE_CHECKING:
    from jigcam.geometry import Region
    from jigcam.piece.assembly import PartAssembly
    from jigcam.piece.body import Body
    from jigcam.piece.space import Contact, Placed
    from jigcam.units import Voice
    from jigcam.wood import Hand
    from jigcam.wood.meeting import Motion

FloatArray = npt.NDArray[np.float64]
Bodies = Mapping[tuple[str, "Hand"], Sequence["Body"]]
"""What the joints take, by the name of the board and its hand."""

SURE: Final = 0.1
"""Wood nearer than this to a face or to the wall of a joint may be play, or how a joint's ends are rounded, mm."""
PITCH: Final = 1.0
"""Between places along a line, mm."""
APART: Final = 10.0
"""Places further from each other are told apart, mm."""
PLACES: Final = 400
"""Places along a line, or on a grid's side, at the most."""
PARALLEL: Final = 1e-6
"""Faces at a smaller angle than this are parallel, rad."""


@dataclass(frozen=True, eq=False)
class SolidBoard:
    """A board in space without what its joints take. motion: from its body frame to the world."""

    placed: Placed
    bodies: tuple[Body, ...]
    _sections: dict[tuple[int, float], tuple[Region, FloatArray]] = field(default_factory=dict, repr=False)

    @classmethod
    def of(cls, placed: Placed, bodies: Bodies, joints: Collection[str]) -> SolidBoard:
        """A copy with its joints: of the opposite hand those as drawn, mirrored; of one that is like another board,
        those by which it meets others. joints: their names."""
        board = placed.copy.board
        name = board.like or board.name
        own = bodies.get((name, "as drawn")) or bodies.get((name, "opposite"), ())
        return cls(placed, tuple(body for body in own if board.like is None or body.taken.joint in joints))

    @property
    def sizes(self) -> FloatArray:
        """Length, width, thickness, mm."""
        board = self.placed.copy.board
        return np.array([board.length, board.width, board.thickness])

    def depths(self) -> list[float]:
        """Depths from the outside face on either side and in the middle of each slab in which nothing begins."""
        levels = tuple(sorted({0.0, self.sizes[2], *(depth for body in self.bodies for depth in body.depths)}))
        found: list[float] = []
        for low, high in slabs_of(levels):
            if high - low > 2.0 * SURE:
                found += [low + SURE, (low + high) / 2.0, high - SURE]
        return found

    def _section(self, body: Body, depth: float) -> tuple[Region, FloatArray]:
        """What a body takes at a depth, not cut off at the board's sides, and the bounds of all that is near it."""
        key = (id(body), depth)
        if key not in self._sections:
            section = body.taken.section(depth)
            bounds = np.zeros(4) if section.is_empty else np.array(section.bounds) + SURE * np.array([-1, -1, 1, 1])
            self._sections[key] = section, bounds
        return self._sections[key]

    def flat(self, points: FloatArray) -> FloatArray:
        """(k, 2) points of the world seen square at the outside face, as the board is drawn: of the opposite hand
        mirrored back."""
        own = self.placed.motion.inverse()(points)[:, :2]
        return np.column_stack([self.sizes[0] - own[:, 0], own[:, 1]]) if self.placed.copy.opposite else own

    def wood(self, points: FloatArray, depth: float) -> npt.NDArray[np.bool_]:
        """(k,) whether there surely is wood at points (k, 3) of the world that lie at a depth."""
        flat = self.flat(points)
        sure: npt.NDArray[np.bool_] = np.all((flat > SURE) & (flat < self.sizes[:2] - SURE), axis=1)
        for body in self.bodies:
            if body.depths[0] - SURE < depth < body.depths[-1] + SURE:
                section, box = self._section(body, depth)
                rows = np.flatnonzero(sure & np.all((flat > box[:2]) & (flat < box[2:]), axis=1))
                if len(rows):
                    sure[rows] = section.signed_distance(flat[rows]) < -SURE
        return sure


@dataclass(frozen=True, eq=False)
class Seat:
    """The straight cut that a joint takes in a board for another one, and its lengthening: what stands beyond a stopped
    end is notched, as the joint says.

    across: (2,) unit vector square to it, board frame. low, high: along this, and in depth.
    """

    solid: SolidBoard
    across: FloatArray
    low: tuple[float, float]
    high: tuple[float, float]

    @classmethod
    def of(cls, contact: Contact, solid: SolidBoard) -> Iterator[Seat]:
        """Every cut of a joint that a board slides or stands in; none for other joints, and where it
        fills the cut as drawn."""
        if contact.meeting.free is None or contact.meeting.exact:
            return
        along = np.asarray(contact.meeting.free[0], float)[:2]
        # Cuts are given as drawn: see `SolidBoard.flat`.
        along = along * (-1.0, 1.0) if solid.placed.copy.opposite else along
        across = np.array([-along[1], along[0]])
        for body in solid.bodies:
            if body.taken.joint == contact.meeting.joint:
                outline = np.vstack([loop.points(SURE) for part in body.shadow.parts for loop in part.loops])
                low, high = float((outline @ across).min()), float((outline @ across).max())
                yield cls(solid, across, (low, body.depths[0]), (high, body.depths[-1]))

    def holds(self, points: FloatArray, depth: float) -> npt.NDArray[np.bool_]:
        """(k,) whether points (k, 3) of the world that lie at a depth are in it."""
        if not self.low[1] - SURE < depth < self.high[1] + SURE:
            return np.zeros(len(points), bool)
        own = self.solid.flat(points) @ self.across
        inside: npt.NDArray[np.bool_] = (own > self.low[0] - SURE) & (own < self.high[0] + SURE)
        return inside


def shared_wood(
    a: SolidBoard, b: SolidBoard, shift: FloatArray | None = None, seats: Sequence[Seat] = ()
) -> FloatArray:
    """(k, 3) places at which wood of two boards would be at once; none where they go together. shift: of b, mm.

    The places are those of b after it is shifted. seats: cuts of either for the other; in these nothing is looked at.
    """
    by = np.zeros(3) if shift is None else np.asarray(shift, float)
    first, second = a.placed.motion, b.placed.motion.moved(by)
    found = [np.zeros((0, 3))]
    out, other = first.turned([0.0, 0.0, 1.0]), second.turned([0.0, 0.0, 1.0])
    line = np.cross(out, other)
    flat = float(np.linalg.norm(line)) < PARALLEL
    for depth in a.depths():
        if flat:
            base = first([0.0, 0.0, -depth])
            its = float((second([0.0, 0.0, 0.0]) - base) @ other)
            levels = [its] if 0.0 < its < b.sizes[2] else []
        else:
            levels = b.depths()
        for level in levels:
            points = _grid(a, b, first, second, depth) if flat else _line(a, b, first, second, depth, level)
            for seat in seats:
                points = points[~(seat.holds(points, depth) if seat.solid is a else seat.holds(points - by, level))]
            if len(points):
                both = a.wood(points, depth)
                both[both] = b.wood(points[both] - by, level)
                found.append(points[both])
    return np.concatenate(found)


def _line(a: SolidBoard, b: SolidBoard, first: Motion, second: Motion, depth: float, level: float) -> FloatArray:
    """Places along the line that lies at a depth of either board, within both."""
    out, other = first.turned([0.0, 0.0, 1.0]), second.turned([0.0, 0.0, 1.0])
    way = np.cross(out, other)
    way /= np.linalg.norm(way)
    heights = np.array([out @ first([0.0, 0.0, -depth]), other @ second([0.0, 0.0, -level]), 0.0])
    start = np.linalg.solve(np.array([out, other, way]), heights)
    low, high = -np.inf, np.inf
    for motion, sizes in ((first, a.sizes), (second, b.sizes)):
        back = motion.inverse()
        at, step = back(start)[:2], back.turned(way)[:2]
        for axis in range(2):
            if abs(step[axis]) < PARALLEL:
                if not 0.0 < at[axis] < sizes[axis]:
                    return np.zeros((0, 3))
                continue
            ends = sorted(((0.0 - at[axis]) / step[axis], (sizes[axis] - at[axis]) / step[axis]))
            low, high = max(low, ends[0]), min(high, ends[1])
    if high - low < 2.0 * SURE:
        return np.zeros((0, 3))
    count = min(max(int((high - low) / PITCH), 3), PLACES)
    places: FloatArray = start + np.linspace(low + SURE, high - SURE, count)[:, None] * way
    return places


def _grid(a: SolidBoard, b: SolidBoard, first: Motion, second: Motion, depth: float) -> FloatArray:
    """Places in a plane parallel to the faces of both boards, over what they share of it."""
    back = first.inverse()
    corners = np.array([(x, y, 0.0) for x in (0.0, b.sizes[0]) for y in (0.0, b.sizes[1])])
    its = back(second(corners))[:, :2]
    low, high = np.maximum(its.min(axis=0), 0.0), np.minimum(its.max(axis=0), a.sizes[:2])
    if bool((high - low < 2.0 * SURE).any()):
        return np.zeros((0, 3))
    sides = [
        np.linspace(
            low[axis] + SURE, high[axis] - SURE, min(max(int((high - low)[axis] / PITCH / 4.0), 3), PLACES // 4)
        )
        for axis in range(2)
    ]
    plan = np.stack(np.meshgrid(*sides, indexing="ij"), axis=-1).reshape(-1, 2)
    return first(np.column_stack([plan, np.full(len(plan), -depth)]))


def collision_findings(parts: Sequence[PartAssembly], bodies: Bodies, voice: Voice) -> list[Finding]:
    """A stop for every two boards of a part that would have to share wood."""
    return [finding for part in parts for finding in _found(part, bodies, voice)]


def _found(part: PartAssembly, bodies: Bodies, voice: Voice) -> Iterator[Finding]:
    overlap = part.boxes.overlap
    solids = solids_of(part, bodies)
    for a, b in combinations(range(len(solids)), 2):
        if overlap[a, b] <= TOUCH:
            continue
        places = shared_wood(solids[a], solids[b], seats=[*seats_between(part, solids, a, b)])
        if len(places):
            yield _finding(part, a, b, places, voice)


def solids_of(part: PartAssembly, bodies: Bodies) -> list[SolidBoard]:
    """The boards of a part, each with the joints that are cut in it."""
    met = {each.copy: {c.meeting.joint for c in part.contacts if each.copy in (c.a, c.b)} for each in part.placed}
    return [SolidBoard.of(placed, bodies, met[placed.copy]) for placed in part.placed]


def seats_between(part: PartAssembly, solids: Sequence[SolidBoard], a: int, b: int) -> Iterator[Seat]:
    """The cuts of either of two boards, by number, for the other."""
    for hold, contact in zip(part.holds, part.contacts, strict=True):
        if {hold.a, hold.b} == {a, b}:
            yield from Seat.of(contact, solids[hold.a])


def _together(places: FloatArray) -> FloatArray:
    """Those of the places that lie near each other, the first of several such groups along each axis."""
    for axis in range(3):
        places = places[np.argsort(places[:, axis], kind="stable")]
        gaps = np.flatnonzero(np.diff(places[:, axis]) > APART)
        places = places[: gaps[0] + 1] if len(gaps) else places
    return places


def _finding(part: PartAssembly, a: int, b: int, places: FloatArray, voice: Voice) -> Finding:
    first, second = part.placed[a], part.placed[b]
    own = _together(first.motion.inverse()(places))
    middle = own.mean(axis=0)
    names = first.copy.name, second.copy.name
    joints = [*dict.fromkeys(hold.joint for hold in part.holds if {hold.a, hold.b} == {a, b})]
    mend = "move a joint of one of them, make one shorter or narrower, or notch it there"
    if joints:
        wide, high = sorted(own.max(axis=0) - own.min(axis=0) + 2.0 * SURE)[:0:-1]
        room = f"{voice.about(float(wide))} x {voice.about(float(high))}"
        size = f"beyond {listed(joints)}: wood of both over about {room}"
    else:
        size = f"they overlap by {voice.length(float(part.boxes.overlap[a, b]))}"
        mend = f"no joint of the job holds them: write the one in which they meet, if they do; else {mend}"
    place = place_words((float(middle[0]), float(middle[1])), first.copy.board, voice)
    says = f"{names[1]} and {names[0]} would have to be in one place, {size}, in {names[0]} {place}; {mend}"
    return Finding("stop", "boards-collide", f"{names[0]} and {names[1]}", says)
