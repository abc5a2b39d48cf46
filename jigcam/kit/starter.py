"""The starter kit: a commented file to begin with."""

from __future__ import annotations

from jigcam.document.starter import starter_text
from jigcam.units import Unit


def starter_kit(units: Unit) -> str:
    """Its text, with inches ("in") or millimetres ("mm"); as it stands, it loads."""
    return starter_text(__name__.rpartition(".")[0], units, "kit")
