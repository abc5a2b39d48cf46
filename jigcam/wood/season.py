"""The seasonal movement of a board between two states of the air, and the gap that it needs."""

from __future__ import annotations

from typing import Any, Literal

from jigcam.errors import InputError
from jigcam.kit import change, equilibrium_moisture, wood
from jigcam.values import dataclass

KNOWN_RANGE = (6.0, 14.0)
"""Moisture contents in % for which the coefficients of Table 13-5 hold."""


@dataclass(frozen=True, slots=True)
class Movement:
    """Of a board `width` mm wide across the grain: moisture contents in %, changes in mm (positive: it grows)."""

    wood: str
    sawn: str
    width: float
    coefficient: float
    dry: float
    damp: float
    change: float

    @property
    def doubtful(self) -> bool:
        """Outside of the range for which the coefficients hold."""
        return min(self.dry, self.damp) < KNOWN_RANGE[0] or max(self.dry, self.damp) > KNOWN_RANGE[1]

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {
            "wood": self.wood,
            "sawn": self.sawn,
            "width_mm": round(self.width, 6),
            "coefficient_per_point": self.coefficient,
            "moisture_percent": [round(self.dry, 4), round(self.damp, 4)],
            "change_mm": round(self.change, 6),
            "gap_mm": round(abs(self.change), 6),
            "outside_known_range": self.doubtful,
        }


def movement(
    name: str, width: float, sawn: Literal["quarter", "rift", "flat"], moisture: tuple[float, float]
) -> Movement:
    """Movement by Eq. 13-2 of the Wood Handbook from the first moisture content to the second, in %.

    Raises InputError for an unknown wood or a moisture content outside 0 to 30 %, where wood stops moving.
    """
    for value in moisture:
        if not 0.0 <= value <= 30.0:
            raise InputError("not a moisture content at which wood moves", found=f"{value:g} %", wanted="0 to 30 %")
    kind = wood(name)
    coefficient = kind.across(sawn)
    return Movement(kind.name, sawn, width, coefficient, *moisture, change(width, coefficient, *moisture))


def moisture_of_air(humidity_percent: float, temperature: float) -> float:
    """Equilibrium moisture content in % of air at a relative humidity in % and a temperature in °C.

    Raises InputError outside of what air can be.
    """
    if not 0.0 <= humidity_percent <= 100.0:
        raise InputError("not a relative humidity", found=f"{humidity_percent:g}", wanted="per cent, from 0 to 100")
    return equilibrium_moisture(humidity_percent / 100.0, temperature)
