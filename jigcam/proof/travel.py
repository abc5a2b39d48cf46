"""Where the tip of the tool goes: the motions of a text as strokes in the plane with heights.

Frame: the file frame, mm, z zero on the top of the stock, z up. A motion becomes one stroke or more: arcs of more than
half a turn are split, arcs in upright planes become chords within `CHORD`. A motion with an unknown coordinate has no
stroke.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from jigcam.gcode import ARC
from jigcam.proof.envelope import Envelope
from jigcam.proof.strokes import Strokes
from jigcam.values import dataclass

CHORD = 5e-4
"""Gap between an arc in an upright plane and its chords, mm."""
STEP = 5e-4
"""Change of the tool's radius at one height within one piece of a sloping stroke, mm."""
MOST_PIECES = 1024
"""Pieces of one sloping stroke at most."""


@dataclass(frozen=True)
class Travel:
    """n strokes of the tip.

    z0, z1: (n,) heights at start and end; motion: (n,) the number of the motion each belongs to, ascending.
    """

    strokes: Strokes
    z0: np.ndarray
    z1: np.ndarray
    motion: np.ndarray

    def __len__(self) -> int:
        return len(self.motion)

    @cached_property
    def lowest(self) -> np.ndarray:
        """(n,) least height of the tip on each stroke."""
        lowest: np.ndarray = np.minimum(self.z0, self.z1)
        return lowest

    @cached_property
    def highest(self) -> np.ndarray:
        """(n,) greatest height of the tip on each stroke."""
        highest: np.ndarray = np.maximum(self.z0, self.z1)
        return highest

    def take(self, index: np.ndarray) -> Travel:
        """The strokes at those places (numbers or a mask)."""
        return Travel(self.strokes.take(index), self.z0[index], self.z1[index], self.motion[index])

    @classmethod
    def joined(cls, parts: Sequence[Travel]) -> Travel:
        """All strokes of the parts, in order."""
        if not parts:
            return cls(Strokes.empty(), np.empty(0), np.empty(0), np.empty(0, np.intp))
        columns = (np.concatenate([getattr(part, name) for part in parts]) for name in ("z0", "z1", "motion"))
        return cls(Strokes.joined([part.strokes for part in parts]), *columns)

    def height_at(self, index: np.ndarray, points: np.ndarray) -> np.ndarray:
        """(k,) height of the tip on strokes `index` at points (k, 2) on them; of a plunge its lower end."""
        start: np.ndarray = self.z0[index]
        rise = self.z1[index] - start
        if not rise.any():
            return start
        strokes = self.strokes
        length = np.hypot(*(strokes.b[index] - strokes.a[index]).T)
        chord = np.hypot(*(points - strokes.a[index]).T)
        share = chord / np.where(length > 0.0, length, 1.0)
        arc = strokes.arc[index]
        if arc.any():
            # The chord from the start subtends twice the angle whose sine is chord / 2r.
            half = np.clip(chord / (2.0 * np.where(arc, strokes.radius[index], 1.0)), 0.0, 1.0)
            share = np.where(arc, 2.0 * np.arcsin(half) / np.where(arc, np.abs(strokes.sweep[index]), 1.0), share)
        moving = (length > 0.0) | arc
        heights: np.ndarray = np.where(moving, start + np.clip(share, 0.0, 1.0) * rise, self.lowest[index])
        return heights

    def below(self, z: float) -> Travel:
        """The parts of the strokes on which the tip is at or below z."""
        some = self.take(np.flatnonzero(self.lowest <= z))
        across = some.highest > z
        if not across.any():
            return some
        rise = np.where(across, some.z1 - some.z0, 1.0)
        share = np.where(across, (z - some.z0) / rise, 0.0)
        t0 = np.where(across & (some.z0 > z), share, 0.0)
        t1 = np.where(across & (some.z1 > z), share, 1.0)
        part = (
            some.strokes.between(t0[across], t1[across])
            if across.all()
            else some.strokes.take(across).between(t0[across], t1[across])
        )
        strokes = Strokes.joined([some.strokes.take(~across), part])
        order = np.argsort(np.concatenate([np.flatnonzero(~across), np.flatnonzero(across)]), kind="stable")
        z0 = np.where(across & (some.z0 > z), z, some.z0)
        z1 = np.where(across & (some.z1 > z), z, some.z1)
        return Travel(strokes.take(order), z0, z1, some.motion)

    def pieces(self, envelope: Envelope, z: float) -> tuple[Travel, np.ndarray, np.ndarray]:
        """The strokes below z in pieces on which the tool's radius at height z hardly changes.

        Returns the pieces and the least and greatest radius of the tool at z on each, mm.
        """
        some = self.below(z)
        sloping = some.z0 != some.z1
        if not sloping.any():
            radius = envelope.radius(z - some.z0)
            return some, radius, radius
        change = np.zeros(len(some))
        standing = some.strokes.length == 0.0
        change[sloping] = envelope.change(z - some.highest[sloping], z - some.lowest[sloping])
        counts = np.clip(np.ceil(change / STEP), 1, MOST_PIECES).astype(np.intp)
        counts[standing] = 1
        owner = np.repeat(np.arange(len(some)), counts)
        rank = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
        t0, t1 = rank / counts[owner], (rank + 1) / counts[owner]
        rise = (some.z1 - some.z0)[owner]
        z0, z1 = some.z0[owner] + t0 * rise, some.z0[owner] + t1 * rise
        pieces = Travel(some.strokes.take(owner).between(t0, t1), z0, z1, some.motion[owner])
        least, most = envelope.extremes(z - pieces.highest, z - pieces.lowest)
        # A level piece has one radius, also at a height where the profile jumps.
        level, exact = pieces.z0 == pieces.z1, envelope.radius(z - pieces.z0)
        least, most = np.where(level, exact, least), np.where(level, exact, most)
        # A plunge clears all of the widest disc that passes the height.
        return pieces, np.where(standing[owner], most, least), most


def travel_of(motions: np.ndarray) -> Travel:
    """The strokes of all motions (dtype MOTION) whose coordinates are known."""
    known = np.isfinite(motions["start"]).all(axis=1) & np.isfinite(motions["end"]).all(axis=1)
    number = np.flatnonzero(known)
    rows = motions[number]
    upright = (rows["kind"] == ARC) & (rows["plane"] != 0)
    flat = ~upright
    start, end = rows["start"][flat], rows["end"][flat]
    sweep = np.where(rows["kind"][flat] == ARC, rows["sweep"][flat], 0.0)
    counts = np.maximum(1, np.ceil(np.abs(sweep) / np.pi - 1e-12)).astype(np.intp)
    centre = np.nan_to_num(rows["centre"][flat][:, :2])
    parts = [_split(start, end, centre, sweep, counts, number[flat])]
    if upright.any():
        parts += [_chords(row, k) for row, k in zip(rows[upright], number[upright], strict=True)]
    if len(parts) == 1:
        return parts[0]
    whole = Travel.joined(parts)
    return whole.take(np.argsort(whole.motion, kind="stable"))


def _split(
    start: np.ndarray, end: np.ndarray, centre: np.ndarray, sweep: np.ndarray, counts: np.ndarray, number: np.ndarray
) -> Travel:
    if (counts == 1).all():
        return Travel(
            Strokes.turns(start[:, :2], end[:, :2], centre, sweep), start[:, 2].copy(), end[:, 2].copy(), number
        )
    owner = np.repeat(np.arange(len(counts)), counts)
    rank = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    of = counts[owner]
    angle0, angle1 = sweep[owner] * rank / of, sweep[owner] * (rank + 1) / of
    spoke = (start[:, :2] - centre)[owner]

    def turned(angle: np.ndarray) -> np.ndarray:
        cosine, sine = np.cos(angle), np.sin(angle)
        x, y = spoke.T
        points: np.ndarray = centre[owner] + np.column_stack([cosine * x - sine * y, sine * x + cosine * y])
        return points

    a = np.where((rank == 0)[:, None], start[owner, :2], turned(angle0))
    b = np.where((rank == of - 1)[:, None], end[owner, :2], turned(angle1))
    rise = (end[:, 2] - start[:, 2])[owner]
    z0, z1 = start[owner, 2] + rise * rank / of, start[owner, 2] + rise * (rank + 1) / of
    return Travel(Strokes.turns(a, b, centre[owner], sweep[owner] / of), z0, z1, number[owner])


def _chords(row: np.ndarray, number: int) -> Travel:
    """One arc in an upright plane as chords. Plane 1 is zx, 2 is yz; the axis across it moves evenly."""
    u, v, w = ((2, 0, 1), (1, 2, 0))[int(row["plane"]) - 1]
    start, end, centre, sweep = row["start"], row["end"], row["centre"], float(row["sweep"])
    spoke = np.array([start[u] - centre[u], start[v] - centre[v]])
    radius = max(float(np.hypot(*spoke)), CHORD)
    count = max(2, int(np.ceil(abs(sweep) / (2.0 * np.arccos(1.0 - CHORD / (2.0 * radius))))))
    share = np.linspace(0.0, 1.0, count + 1)
    angle = sweep * share
    points = np.empty((count + 1, 3))
    points[:, u] = centre[u] + np.cos(angle) * spoke[0] - np.sin(angle) * spoke[1]
    points[:, v] = centre[v] + np.sin(angle) * spoke[0] + np.cos(angle) * spoke[1]
    points[:, w] = start[w] + share * (end[w] - start[w])
    points[-1] = end
    return Travel(
        Strokes.lines(points[:-1, :2], points[1:, :2]), points[:-1, 2], points[1:, 2], np.full(count, number, np.intp)
    )
