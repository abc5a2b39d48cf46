"""The two boards of a finger joint put together as their files cut them, and the gap at every cheek and baseline.

Corner frame: *s* from the common lower edge; *u* from the end of `a` inward, which is depth from the outside face of
`b`; *v* from the end of `b` inward, which is depth from the outside face of `a`. mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from jigcam.findings import Finding
from jigcam.proof.assembly import PlacedFile, begins

if TYPE_CHECKING:
    from jigcam.joints.finger_joint.joint import FingerJoint
    from jigcam.units import Voice
    from jigcam.wood.taken import End

AS_DRAWN = 0.02
"""A gap this near to the drawn one is as drawn, mm."""
TOUCH = 2e-3
"""Interference up to this is what the last digits of two files make of no gap, mm."""
MARGIN = 0.25
"""How far from edges and corners contacts are looked at, mm."""
WITHIN = 1.5
"""How far from the drawn place a wall is looked for, mm."""
PLACES = 5
"""Places along each direction of a contact."""
S, U, V = 0, 1, 2


@dataclass(frozen=True)
class TouchFit:
    """The gap at one contact, square to it, mm; negative where wood is in the way. drawn: what was asked for."""

    name: str
    kind: Literal["cheek", "baseline"]
    gap: np.ndarray
    drawn: float

    @property
    def span(self) -> tuple[float, float]:
        """The least and the most."""
        return float(self.gap.min()), float(self.gap.max())

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        return {"contact": self.name, "kind": self.kind, "drawn_mm": _rounded(self.drawn), **_spread([self])}


@dataclass(frozen=True)
class MeshFit:
    """One corner put together. a, b: which boards' ends, in words."""

    a: str
    b: str
    contacts: tuple[TouchFit, ...]

    def of(self, kind: str) -> list[TouchFit]:
        """The contacts of a kind."""
        return [each for each in self.contacts if each.kind == kind]

    def span(self, kind: str) -> tuple[float, float]:
        """The least and the most of a kind of contact, mm."""
        spans = [each.span for each in self.of(kind)]
        return min(least for least, _ in spans), max(most for _, most in spans)

    def as_dict(self) -> dict[str, Any]:
        """For the manifest: the cheeks in one, and every contact by itself."""
        return {"a": self.a, "b": self.b, **_cheeks([self]), "contacts": [each.as_dict() for each in self.contacts]}


@dataclass(frozen=True)
class FingersFit:
    """All corners of a joint, put together as their files cut them."""

    corners: tuple[MeshFit, ...]

    @property
    def drawn(self) -> float:
        """The clearance of a cheek."""
        return self.corners[0].of("cheek")[0].drawn

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        return {**_cheeks(self.corners), "corners": [corner.as_dict() for corner in self.corners]}

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        spans = [corner.span("cheek") for corner in self.corners]
        span = voice.span(min(least for least, _ in spans), max(most for _, most in spans))
        return [f"cheeks {span} apart, {voice.exact(self.drawn)} drawn"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        return [
            f"{corner.a} in {corner.b}: {voice.span(*corner.span('cheek'))} between the cheeks as cut, "
            f"{voice.exact(self.drawn)} drawn; {voice.span(*corner.span('baseline'))} at the baselines"
            for corner in self.corners
        ]


def corner_fit(joint: FingerJoint, a_end: End, b_end: End, a: PlacedFile, b: PlacedFile) -> MeshFit:
    """The gaps of one corner. a, b: the files of its two ends, placed in the corner frame."""
    names = f"{joint.a.name}, {a_end} end", f"{joint.b.name}, {b_end} end"
    return MeshFit(*names, (*_at_cheeks(joint, a, b), *_at_baselines(joint, a, b)))


def _at_cheeks(joint: FingerJoint, a: PlacedFile, b: PlacedFile) -> Iterator[TouchFit]:
    """Where a finger of one board stands beside one of the other."""
    us, vs = _inner(0.0, joint.b.thickness), _inner(0.0, joint.a.thickness)
    for low, high in joint.layout.cheeks:
        places = np.array([(low.high, u, v) for u in us for v in vs])
        sense = 1.0 if low.owner == "a" else -1.0  # from the wood of a to that of b
        gap = begins([a], places, S, -sense, WITHIN) + begins([b], places, S, sense, WITHIN)
        yield TouchFit(f"fingers {low.number} and {high.number}", "cheek", gap, joint.clearance)


def _at_baselines(joint: FingerJoint, a: PlacedFile, b: PlacedFile) -> Iterator[TouchFit]:
    """The floor of each slot against the inside face of the other board, which is as sawn."""
    us, vs = _inner(0.0, joint.b.thickness), _inner(0.0, joint.a.thickness)
    for each in joint.layout.intervals:
        ss = _inner(each.low, each.high)
        if each.owner == "b":  # a slot of a
            places = np.array([(s, joint.b.thickness, v) for s in ss for v in vs])
            gap = begins([a], places, U, 1.0, WITHIN)
        else:
            places = np.array([(s, u, joint.a.thickness) for s in ss for u in us])
            gap = begins([b], places, V, 1.0, WITHIN)
        yield TouchFit(f"baseline at finger {each.number}", "baseline", gap, 0.0)


def fit_findings(corner: MeshFit, name: str, voice: Voice) -> list[Finding]:
    """What a maker has to know."""
    found, where = [], f"{name}, {corner.a}"
    for each in corner.contacts:
        least, most = each.span
        says = f"{each.name}: a gap of {voice.span(least, most)}, drawn {voice.exact(each.drawn)}"
        if least < -TOUCH:
            found.append(Finding("stop", "does-not-fit", where, says))
        elif max(abs(least - each.drawn), abs(most - each.drawn)) > AS_DRAWN:
            found.append(Finding("caution", "fit-off", where, says))
    return found


def _cheeks(corners: tuple[MeshFit, ...] | list[MeshFit]) -> dict[str, Any]:
    """The cheeks of corners in one, mm."""
    cheeks = [each for corner in corners for each in corner.of("cheek")]
    return {**_spread(cheeks), "clearance_drawn_mm": _rounded(cheeks[0].drawn)}


def _spread(fits: list[TouchFit]) -> dict[str, Any]:
    """Over all places of some contacts."""
    gaps = np.concatenate([each.gap for each in fits])
    tightest = min(fits, key=lambda each: each.span[0])
    return {
        "least_mm": _rounded(gaps.min()),
        "median_mm": _rounded(np.median(gaps)),
        "most_mm": _rounded(gaps.max()),
        "where_contact": tightest.name,
    }


def _inner(low: float, high: float) -> np.ndarray:
    """Places a little within two ends."""
    margin = MARGIN if high - low > 4.0 * MARGIN else 0.25 * (high - low)
    return np.linspace(low + margin, high - margin, PLACES)


def _rounded(mm: float) -> float:
    """To a tenth of a micron, and never a negative nothing."""
    return round(float(mm), 4) + 0.0
