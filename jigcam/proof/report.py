"""What a proof says: numbers, places and findings."""

from __future__ import annotations

from dataclasses import field
from typing import Any

from jigcam.findings import Finding, stops
from jigcam.values import dataclass


@dataclass(frozen=True)
class Place:
    """A worst place: its size (mm), where (x, y, z) and the motion that made it (−1 for none)."""

    size: float
    x: float
    y: float
    z: float
    motion: int = -1


@dataclass(frozen=True)
class LayerResult:
    """The worst in one layer, mm, and over what area, mm²: 0 where it is within the tolerance."""

    low: float
    high: float
    gouge: float
    left: float
    chisel: float
    gouge_area: float = 0.0
    left_area: float = 0.0


@dataclass(frozen=True)
class Corner:
    """A corner out of reach of the bits, for the chisel: where (file frame) and how much stands there, mm."""

    x: float
    y: float
    z: float
    size: float

    def as_dict(self) -> dict[str, float]:
        """For the manifest."""
        return {"x": round(self.x, 3), "y": round(self.y, 3), "z": round(self.z, 3), "size_mm": round(self.size, 3)}


@dataclass(frozen=True)
class Proof:
    """gouge_mm: the deepest cut beyond the drawing. left_mm: the thickest wood left inside it, corners apart.

    layers: the same, layer by layer of the drawing. motions: how many were judged. gouges, lefts: the worst places.
    """

    gouge_mm: float
    left_mm: float
    left_for_chisel: tuple[Corner, ...]
    findings: tuple[Finding, ...]
    layers: tuple[LayerResult, ...] = ()
    loads: dict[str, Any] = field(default_factory=dict)
    motions: int = 0
    gouges: tuple[Place, ...] = ()
    lefts: tuple[Place, ...] = ()

    @property
    def ok(self) -> bool:
        """Nothing in it refuses the file."""
        return not stops(self.findings)

    def as_dict(self) -> dict[str, Any]:
        """For `--json` and the manifest: lengths in mm."""
        return {
            "gouge_mm": round(self.gouge_mm, 4),
            "left_mm": round(self.left_mm, 4),
            "left_for_chisel": [corner.as_dict() for corner in self.left_for_chisel],
            "layers": [
                {
                    "from_z": round(r.high, 4),
                    "to_z": round(r.low, 4),
                    "gouge_mm": round(r.gouge, 4),
                    "left_mm": round(r.left, 4),
                    "chisel_mm": round(r.chisel, 4),
                    "gouge_mm2": round(r.gouge_area, 3),
                    "left_mm2": round(r.left_area, 3),
                }
                for r in self.layers
            ],
            "loads": self.loads,
            "motions": self.motions,
            "findings": [finding.as_dict() for finding in self.findings],
        }
