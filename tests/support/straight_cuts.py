"""What a straight bit clears along straight moves, by a small reading of G-code of its own: for boards on end."""

from __future__ import annotations

import re

import numpy as np

Moves = list[tuple[np.ndarray, np.ndarray]]


def straight_moves(text: str) -> Moves:
    """Start and end of each motion of a file without arcs, mm."""
    scale = 25.4 if "G20" in text else 1.0
    now, moves = np.array([0.0, 0.0, 99.0]), []
    for line in re.sub(r"\(.*?\)", "", text).splitlines():
        assert not re.search(r"G0?[23]\b", line)
        words = {letter: float(value) for letter, value in re.findall(r"([XYZ])(-?[\d.]+)", line)}
        if words:
            after = now.copy()
            for place, letter in enumerate("XYZ"):
                after[place] = scale * words[letter] if letter in words else now[place]
            moves.append((now, after))
            now = after
    return moves


def gone(moves: Moves, radius: float, point: np.ndarray) -> bool:
    """Whether a straight bit passed a point: within its radius, at its height or below; moves are level or plumb."""
    for start, end in moves:
        if min(start[2], end[2]) > point[2]:
            continue
        way, there = (end - start)[:2], point[:2] - start[:2]
        length = float(way @ way)
        share = min(1.0, max(0.0, float(there @ way) / length)) if length else 0.0
        if np.hypot(*(there - share * way)) < radius:
            return True
    return False
