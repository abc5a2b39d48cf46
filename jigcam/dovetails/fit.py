"""The two boards of a dovetailed corner put together as their files cut them, and the gap at every contact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.dovetails.mates import WITHIN, MateContact, contacts, frame_of
from jigcam.findings import Finding
from jigcam.proof.assembly import PlacedFile, begins

if TYPE_CHECKING:
    from jigcam.dovetails.choice import DovetailChoice
    from jigcam.dovetails.cuts import EndCut
    from jigcam.units import Voice

AS_DRAWN = 0.02
"""A gap this near to the drawn one is as drawn, mm."""
TOUCH = 2e-3
"""Interference up to this is what the last digits of two files make of no gap, mm."""


@dataclass(frozen=True)
class ContactFit:
    """The gap at one contact, square to it, mm; negative where wood is in the way."""

    contact: MateContact
    gap: np.ndarray

    @property
    def least(self) -> float:
        """Where it is tightest."""
        return float(self.gap.min())

    @property
    def most(self) -> float:
        """Where it is loosest."""
        return float(self.gap.max())

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        return {
            "contact": self.contact.name,
            "kind": self.contact.kind,
            "drawn_mm": _rounded(self.contact.drawn),
            **_spread([self]),
        }


def fit_corner(
    plan: DovetailChoice, tails: Sequence[tuple[EndCut, PlacedFile]], pins: Sequence[tuple[EndCut, PlacedFile]]
) -> tuple[ContactFit, ...]:
    """The gaps of one corner. tails, pins: the cuts of its two ends with their files; no tails where they were
    measured. Each file's frame is given by `placed`. What no file cuts, a face or an end as sawn, is where it is drawn.
    """
    every = contacts(plan)
    gaps = [np.zeros(len(contact.places)) for contact in every]
    rabbeted = plan.joint.sizes.rabbet > 0.0
    for files, toward, kinds in (
        ([file for _, file in tails], -1.0, ("flank", "baseline", "shoulder") if rabbeted else ("flank", "baseline")),
        ([file for _, file in pins], 1.0, ("flank", "shoulder", "lap")),
    ):
        if not files:
            continue
        # Contacts that look the same way are looked at together: a height is then cut only once.
        for way in sorted({(contact.axis, contact.sense) for contact in every}):
            rows = [k for k, c in enumerate(every) if (c.axis, c.sense) == way and c.kind in kinds]
            if rows:
                places = np.concatenate([every[k].places for k in rows])
                found = begins(files, places, way[0], toward * way[1], WITHIN)
                for k, part in zip(rows, np.split(found, np.cumsum([len(gaps[k]) for k in rows])[:-1]), strict=True):
                    gaps[k] += part
    return tuple(ContactFit(c, gap * c.across) for c, gap in zip(every, gaps, strict=True))


def placed(cut: EndCut, placement: Sequence[Sequence[float]]) -> np.ndarray:
    """3×4: from the corner frame to a file. placement: of its program, 2×3."""
    plane = np.eye(3, 4)
    plane[:2, [0, 1, 3]] = np.asarray(placement, float)
    frame = np.vstack([frame_of(cut), [0.0, 0.0, 0.0, 1.0]])
    return np.asarray(plane @ frame)


def fit_findings(fits: Sequence[ContactFit], where: str, *, pared: bool, voice: Voice) -> list[Finding]:
    """What a maker has to know. pared: whether wood is left on purpose, so that the boards do not go together yet.

    voice: in which findings speak.
    """
    if pared:
        return []
    found = []
    for each in fits:
        gap, drawn = voice.span(each.least, each.most), voice.exact(each.contact.drawn)
        says = f"{each.contact.name}: a gap of {gap}, drawn {drawn}"
        if each.least < min(0.0, each.contact.drawn) - TOUCH:
            found.append(Finding("stop", "does-not-fit", where, says))
        elif max(abs(each.least - each.contact.drawn), abs(each.most - each.contact.drawn)) > AS_DRAWN:
            found.append(Finding("caution", "fit-off", where, says))
    return found


@dataclass(frozen=True)
class CornerFit:
    """One corner put together. tails, pins: which boards' ends, in words."""

    tails: str
    pins: str
    contacts: tuple[ContactFit, ...]

    def as_dict(self) -> dict[str, Any]:
        """For the manifest: the flanks in one, and every contact by itself."""
        return {
            "tails": self.tails,
            "pins": self.pins,
            **_flanks(self.contacts),
            "contacts": [each.as_dict() for each in self.contacts],
        }

    @property
    def span(self) -> tuple[float, float]:
        """The least and the most between flanks as cut, mm."""
        flanks = [each for each in self.contacts if each.contact.kind == "flank"]
        return min(each.least for each in flanks), max(each.most for each in flanks)

    @property
    def drawn(self) -> float:
        """The clearance of a flank as drawn, less what is to be pared, mm."""
        return self.contacts[0].contact.drawn

    def line(self, voice: Voice) -> str:
        """For people."""
        return (
            f"{self.tails} in {self.pins}: {voice.span(*self.span)} between the flanks as cut, "
            f"{voice.exact(self.drawn)} drawn"
        )


@dataclass(frozen=True)
class DovetailFit:
    """All corners of a joint, put together as their files cut them."""

    corners: tuple[CornerFit, ...]

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        every = [contact for corner in self.corners for contact in corner.contacts]
        return {**_flanks(every), "corners": [corner.as_dict() for corner in self.corners]}

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        spans = [corner.span for corner in self.corners]
        span = voice.span(min(least for least, _ in spans), max(most for _, most in spans))
        drawn = " and ".join(dict.fromkeys(voice.exact(corner.drawn) for corner in self.corners))
        return [f"flanks {span} apart, {drawn} drawn"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        return [corner.line(voice) for corner in self.corners]


def _flanks(fits: Sequence[ContactFit]) -> dict[str, Any]:
    """The flanks of some contacts in one, mm."""
    return {
        **_spread([each for each in fits if each.contact.kind == "flank"]),
        "clearance_drawn_mm": _rounded(fits[0].contact.drawn),
    }


def _spread(fits: Sequence[ContactFit]) -> dict[str, Any]:
    """Over all places of some contacts; where: (x, y, z) of the least in the corner's frame, and its contact."""
    gaps = np.concatenate([each.gap for each in fits])
    tightest = min(fits, key=lambda each: each.least)
    where = tightest.contact.places[int(tightest.gap.argmin())]
    return {
        "least_mm": _rounded(gaps.min()),
        "median_mm": _rounded(np.median(gaps)),
        "most_mm": _rounded(gaps.max()),
        "where": [_rounded(value) for value in where],
        "where_contact": tightest.contact.name,
    }


def _rounded(mm: float) -> float:
    """To a tenth of a micron, and never a negative nothing."""
    return round(float(mm), 4) + 0.0
