"""The starter kit: a commented file to begin with."""

from __future__ import annotations

from importlib.resources import files

from jigcam.units import Unit


def starter_kit(units: Unit) -> str:
    """Its text, with inches ("in") or millimetres ("mm"); as it stands, it loads."""
    return (files(__package__) / f"starter{'-mm' if units == 'mm' else ''}.toml").read_text("utf-8")
