"""Levels: the heights of the passes down to a depth."""

from __future__ import annotations

import math


def even_levels(depth: float, most: float, top: float = 0.0) -> list[float]:
    """z of equal passes of at most `most` mm from `top` down to −depth, descending; the last is exactly −depth."""
    drop = top + depth
    count = max(1, math.ceil(drop / most - 1e-9))
    return [top - drop * number / count for number in range(1, count)] + [-depth]
