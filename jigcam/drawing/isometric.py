"""Isometric pictures: three axes at equal angles, each in the same scale.

*Space*: x to the right, y away from who stands before the piece, z up, mm. *Picture*: u to the right, v up, w toward
the eye, mm along the axes. The eye is in front, above and to the right.

Source: ISO 5456-3, section 5.2, isometric axonometry (from memory): two axes lie at 30° to the horizontal and the third
stands upright, all in the scale 1 : 1 : 1, so that a length along an axis is drawn as long as it is; the true
projection, shorter by √(2/3), is not what is drawn.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt
from typing import Final

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

SLOPE: Final = radians(30.0)
"""Of the two axes that do not stand upright, to the horizontal."""
ENLARGED: Final = sqrt(1.5)
"""How much larger the picture is than the true projection on a plane."""

_PICTURE: Final = np.array(
    [
        [cos(SLOPE), cos(SLOPE), 0.0],
        [-sin(SLOPE), sin(SLOPE), 1.0],
        [ENLARGED / sqrt(3.0), -ENLARGED / sqrt(3.0), ENLARGED / sqrt(3.0)],
    ]
)


def pictured(points: npt.ArrayLike) -> FloatArray:
    """Points of space (n, 3) in the picture, (n, 3): u, v, and w toward the eye. Ways are carried over alike.

    >>> pictured([(100, 0, 0), (0, 100, 0), (0, 0, 100)]).round(3)[:, :2].tolist()
    [[86.603, -50.0], [86.603, 50.0], [0.0, 100.0]]
    """
    carried: FloatArray = np.asarray(points, float) @ _PICTURE.T
    return carried
