"""The wood that a dovetailed corner takes from each board, exact, in the frame of every setup it can be cut in.

The corner is known in its own frame: *s* from the common lower edge, *u* from the end of the tail board inward (depth
from the outside face of the pin board), *v* from the end of the pin board inward (depth from the outside face of the
tail board). A setup looks down one of the last two:

* tails upright: frame (s, v), depth u; spaces widen with depth, as a dovetail bit cuts them;
* tails flat: face frame, depth v; the section is the same all the way down;
* pins upright: frame (s, u), depth v; the section is the same all the way down;
* pins flat: outside face frame, depth u; sockets narrow with depth.

Where a lap hides the ends of the tails, u is the depth from the outside face of the pin board less the lap.

Solids run `BEYOND` past every edge where the cut leaves the board, with parallel sides, so that a bit that passes the
mouth can come and go.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from jigcam.dovetails.layout import Flank, Layout, Strip
from jigcam.geometry import Region, polygon, union
from jigcam.wood.solid import Prism, Solid

End = Literal["left", "right"]
Face = Literal["outside", "inside"]
Outline = tuple[tuple[float, float], ...]

BEYOND = 25.0
"""How far solids run off the board, mm: further than the radius of any bit that fits between tails."""


@dataclass(frozen=True, slots=True)
class Drafted:
    """A solid with matching outlines at its face and at its bottom, and straight walls between them.

    top, bottom: outlines, anticlockwise, as many and with as many corners as each other; corner k of a top outline
    runs straight to corner k of its bottom. Outlines do not overlap at any depth. depth: mm, positive.
    """

    top: tuple[Outline, ...]
    bottom: tuple[Outline, ...]
    depth: float

    def outlines_at(self, share: float) -> tuple[Outline, ...]:
        """The outlines at a share of the depth."""
        return tuple(
            tuple((x0 + share * (x1 - x0), y0 + share * (y1 - y0)) for (x0, y0), (x1, y1) in zip(*each, strict=True))
            for each in zip(self.top, self.bottom, strict=True)
        )

    def down_to(self, depth: float) -> Drafted:
        """Its upper part, down to a depth (mm) that is no more than its own."""
        return Drafted(self.top, self.outlines_at(depth / self.depth), depth)

    def section(self, z: float) -> Region:
        """The region removed at height z (mm, −depth ≤ z ≤ 0); nothing above the face or below the bottom."""
        if not -self.depth <= z <= 0.0:
            return Region.empty()
        outlines = self.outlines_at(-z / self.depth)
        return Region(tuple(loop for outline in outlines for loop in polygon(outline).loops))

    def levels(self) -> tuple[float, ...]:
        """Face and bottom, where the sloped walls begin and end."""
        return 0.0, -self.depth


@dataclass(frozen=True, slots=True)
class Together:
    """Several solids cut in one setup from one face, such as a rabbet and what is cleared below it."""

    solids: tuple[Solid, ...]

    @property
    def depth(self) -> float:
        """The depth of the deepest."""
        return max(solid.depth for solid in self.solids)

    def section(self, z: float) -> Region:
        """All that any of them removes at height z."""
        return union(*(solid.section(z) for solid in self.solids))

    def levels(self) -> tuple[float, ...]:
        """The levels of all, descending."""
        return tuple(sorted({z for solid in self.solids for z in solid.levels()}, reverse=True))


@dataclass(frozen=True, slots=True)
class FromBehind:
    """A solid that was taken from one face of a board, in the frame of its other face.

    length, thickness: of the board, mm. It reaches from its own depth to the face that is down.
    """

    solid: Solid
    length: float
    thickness: float

    @property
    def depth(self) -> float:
        """Through to the other face."""
        return self.thickness

    def section(self, z: float) -> Region:
        """The solid's section at the same place in the wood."""
        return self.solid.section(-self.thickness - z).transformed(((-1.0, 0.0, self.length), (0.0, 1.0, 0.0)))

    def levels(self) -> tuple[float, ...]:
        """Those of the solid, descending in this frame."""
        return tuple(sorted((-self.thickness - z for z in self.solid.levels()), reverse=True))


def along_grain(distance: float, end: End, face: Face, length: float) -> float:
    """Face frame x of a point `distance` from an end: the left end is at 0 seen from outside, `length` from inside."""
    return distance if (end == "left") == (face == "outside") else length - distance


def tails_upright(layout: Layout, thickness: float, pare: float) -> Drafted:
    """The spaces between the tails, frame (s, v), end grain up. thickness: of the tail board, mm."""
    reach = layout.length - pare
    strips = [space.grown(-pare, layout.length) for space in layout.spaces]
    top = tuple(_box(*_bounds(strip, 0.0), -BEYOND, thickness + BEYOND) for strip in strips)
    bottom = tuple(_box(*_bounds(strip, reach / layout.length), -BEYOND, thickness + BEYOND) for strip in strips)
    return Drafted(top, bottom, reach)


def tails_cleared(layout: Layout, thickness: float, pare: float, room: float, depth: float) -> Drafted:
    """What a straight bit clears of the spaces before a dovetail bit cuts them, in the frame of tails upright.

    room: left on each flank where the space is narrowest, at the end. depth: below the end grain. mm.
    """
    outlines = []
    for space in layout.spaces:
        low, high = _bounds(space.grown(-pare, layout.length), 0.0)
        narrow = (low if space.lower.edge else low + room, high if space.upper.edge else high - room)
        outlines.append(_box(*narrow, -BEYOND, thickness + BEYOND))
    return Drafted(tuple(outlines), tuple(outlines), depth)


def tails_flat(layout: Layout, depth: float, pare: float, *, end: End, face: Face, board_length: float) -> Drafted:
    """The spaces between the tails, face frame of the named face, down to `depth` (mm)."""
    reach = layout.length - pare
    outlines = []
    for space in layout.spaces:
        strip = space.grown(-pare, layout.length)
        mouth, floor = _bounds(strip, 0.0), _bounds(strip, reach / layout.length)
        along = [
            (-BEYOND, mouth[0]),
            (0.0, mouth[0]),
            (reach, floor[0]),
            (reach, floor[1]),
            (0.0, mouth[1]),
            (-BEYOND, mouth[1]),
        ]
        outlines.append(_in_face(along, end, face, board_length))
    return Drafted(tuple(outlines), tuple(outlines), depth)


def pins_upright(layout: Layout, clearance: float, pin_length: float, pare: float, lap: float = 0.0) -> Drafted:
    """The sockets between the pins, frame (s, depth from the outside face), end grain up.

    pin_length: mm, along the grain of the pin board. lap: left at the outside face, mm; the depth is then u + lap.
    """
    outlines = []
    for socket in layout.sockets(clearance - pare):
        if lap:
            (low, high), (in_low, in_high) = _bounds(socket, pare / layout.length), _bounds(socket, 1.0)
            inside = lap + layout.length
            outlines.append(
                _anticlockwise(
                    [
                        (low, lap + pare),
                        (high, lap + pare),
                        (in_high, inside),
                        (in_high, inside + BEYOND),
                        (in_low, inside + BEYOND),
                        (in_low, inside),
                    ]
                )
            )
            continue
        out, inn = _bounds(socket, 0.0), _bounds(socket, 1.0)
        outlines.append(
            _anticlockwise(
                [
                    (out[0], -BEYOND),
                    (out[1], -BEYOND),
                    (out[1], 0.0),
                    (inn[1], layout.length),
                    (inn[1], layout.length + BEYOND),
                    (inn[0], layout.length + BEYOND),
                    (inn[0], layout.length),
                    (out[0], 0.0),
                ]
            )
        )
    return Drafted(tuple(outlines), tuple(outlines), pin_length - pare)


def sockets_in(
    face: Face, layout: Layout, clearance: float, pin_length: float, pare: float, *, end: End, board_length: float
) -> Drafted:
    """The sockets in the frame of a face: of the outside, through the board, or of the inside, as far as the lap."""
    if face == "outside":
        return pins_flat(layout, clearance, pin_length, pare, end=end, board_length=board_length)
    top, bottom = (
        tuple(
            _in_face(_box(-BEYOND, pin_length - pare, *_bounds(socket, share)), end, face, board_length)
            for socket in layout.sockets(clearance - pare)
        )
        for share in (1.0, 0.0)
    )
    return Drafted(top, bottom, layout.length)


def pins_flat(
    layout: Layout, clearance: float, pin_length: float, pare: float, *, end: End, board_length: float
) -> Drafted:
    """The sockets between the pins, outside face up: through the board, narrowing with depth."""
    sockets = layout.sockets(clearance - pare)

    def outlines(share: float) -> tuple[Outline, ...]:
        return tuple(
            _in_face(_box(-BEYOND, pin_length - pare, *_bounds(socket, share)), end, "outside", board_length)
            for socket in sockets
        )

    return Drafted(outlines(0.0), outlines(1.0), layout.length)


def pins_inside(
    layout: Layout, clearance: float, pin_length: float, pare: float, *, end: End, board_length: float, depth: float
) -> Drafted:
    """What may be cleared from the inside face of the pin board: the sockets at their narrowest, `depth` deep (mm)."""
    outlines = tuple(
        _in_face(_box(-BEYOND, pin_length - pare, *_bounds(socket, 1.0)), end, "inside", board_length)
        for socket in layout.sockets(clearance - pare)
    )
    return Drafted(outlines, outlines, depth)


def undercut_beside(
    sides: Iterable[tuple[Flank, Flank]], layout: Layout, reach: float, *, end: End, board_length: float
) -> Drafted:
    """Bands between pairs of sides (t from the lower edge), inside face up, from the end as far as `reach` (mm)."""
    bands = [Strip(*pair) for pair in sides]

    def outlines(share: float) -> tuple[Outline, ...]:
        return tuple(
            _in_face(_box(-BEYOND, reach, *_bounds(band, share)), end, "inside", board_length) for band in bands
        )

    return Drafted(outlines(1.0), outlines(0.0), layout.length)


def rabbet(layout: Layout, depth: float, *, end: End, board_length: float) -> Prism:
    """The registration rabbet on the inside face of the tail board: over the length of the tails and the whole width.

    It is never pared: the hand work is measured from it.
    """
    box = _box(-BEYOND, layout.length, -BEYOND, layout.width + BEYOND)
    return Prism(polygon(_in_face(box, end, "inside", board_length)), depth)


def _bounds(strip: Strip, share: float) -> tuple[float, float]:
    """s of both sides at a share of the length; a side that is the board's edge runs off the board."""
    lower = strip.lower.at(share) - (BEYOND if strip.lower.edge else 0.0)
    upper = strip.upper.at(share) + (BEYOND if strip.upper.edge else 0.0)
    return lower, upper


def _box(x0: float, x1: float, y0: float, y1: float) -> Outline:
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def _in_face(points: Iterable[tuple[float, float]], end: End, face: Face, length: float) -> Outline:
    """Points (distance from the end, s) in the face frame, anticlockwise."""
    return _anticlockwise([(along_grain(e, end, face, length), s) for e, s in points])


def _anticlockwise(points: list[tuple[float, float]]) -> Outline:
    turned = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True))
    return tuple(points if turned > 0.0 else reversed(points))
