"""The starter of a whole case: a commented job to begin with."""

from __future__ import annotations

from jigcam.document.starter import starter_text
from jigcam.units import Unit


def starter_case(units: Unit) -> str:
    """Its text, with inches ("in") or millimetres ("mm"); as it stands, it closes, and both shipped kits make it."""
    return starter_text(__name__.rpartition(".")[0], units, "job")
