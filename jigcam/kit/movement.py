"""How wood moves with the air: moisture content in equilibrium, and the change of size that follows.

Both equations are from the Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-282, 2021). They speak of averages
over many boards; a single board may well differ by a fifth.
"""

from __future__ import annotations

from jigcam.errors import InputError


def equilibrium_moisture(humidity: float, temperature: float) -> float:
    """Moisture content in % that wood takes in still air, by Eq. 4-5.

    humidity: relative, as a part of one (0.65), 0 to 1. temperature: °C, within −30 to 120, for which the constants
    were fitted or may be stretched. Raises InputError outside of these.
    """
    if not 0.0 <= humidity <= 1.0:
        raise InputError(
            "not a relative humidity",
            found=f"{humidity:g}",
            wanted="a part of one, from 0 to 1",
            mend=f"{humidity / 100:g}?" if 1.0 < humidity <= 100.0 else "",
        )
    if not -30.0 <= temperature <= 120.0:
        raise InputError(
            "not a temperature of air", found=f"{temperature:g}", wanted="degrees Celsius, from -30 to 120"
        )
    t, h = temperature, humidity
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    layered = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + layered)


def change(width: float, coefficient: float, moisture_from: float, moisture_to: float) -> float:
    """Change of a size, in its unit, between two moisture contents in %, by Eq. 13-2: D·C·(M₂ − M₁).

    coefficient: per percentage point, from Table 13-5; good between 6 and 14 %. Positive: the board grows.
    """
    return width * coefficient * (moisture_to - moisture_from)
