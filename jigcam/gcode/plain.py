"""The short cut for plain lines: `G1 X1 Y2 F600`, `X3`, `G3 X4 Y5 I1 J0` and their like.

It takes a line only if it is sure that the line is right and means a motion in absolute coordinates in the XY plane
with feed per minute; every other line, and every fault, it leaves to the scanner and the executor, which must come to
the same result for the lines taken here (a test compares them).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import atan2, hypot, nan, tau

from jigcam.gcode.arcs import NOISE, mismatch_limit
from jigcam.gcode.reading import ARC, FEED, RAPID, Recorder
from jigcam.gcode.state import State
from jigcam.gcode.words import LINE_LIMIT

_NUMBER = r"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))"
_PLAIN = re.compile(r"(?:G0?([0-3])[ \t]*)?" + "".join(rf"(?:{letter}{_NUMBER}[ \t]*)?" for letter in "XYZIJF"))
_CODES = {"0": 0, "1": 10, "2": 20, "3": 30}


def run(lines: Sequence[str], first: int, state: State, recorder: Recorder) -> int:
    """Read plain lines from index `first` on; the index of the first line that is not one."""
    match, extend, codes = _PLAIN.fullmatch, recorder.rows.extend, _CODES
    motion, feed, scale = state.motion, state.feed, state.scale
    x, y, z = state.position
    shift_x, shift_y, shift_z = state.frames.shift
    limit = mismatch_limit(scale) + NOISE
    index = first
    for index in range(first, len(lines)):
        text = lines[index]
        found = match(text)
        if found is None or len(text) > LINE_LIMIT:
            break
        code, word_x, word_y, word_z, word_i, word_j, word_f = found.groups()
        now = motion if code is None else codes[code]
        new_feed = feed if word_f is None else float(word_f) * scale
        to_x = x if word_x is None else shift_x + float(word_x) * scale
        to_y = y if word_y is None else shift_y + float(word_y) * scale
        to_z = z if word_z is None else shift_z + float(word_z) * scale
        if now <= 10:
            if (word_x is None and word_y is None and word_z is None) or word_i is not None or word_j is not None:
                break
            if now == 0:
                if new_feed < 0:
                    break
                extend((index + 1, RAPID, to_x, to_y, to_z, nan, nan, nan, 0.0, 0.0))
            else:
                if new_feed <= 0:
                    break
                extend((index + 1, FEED, to_x, to_y, to_z, nan, nan, nan, 0.0, new_feed))
        else:
            if (word_x is None and word_y is None) or (word_i is None and word_j is None) or new_feed <= 0:
                break
            at_i = 0.0 if word_i is None else float(word_i) * scale
            at_j = 0.0 if word_j is None else float(word_j) * scale
            centre_x, centre_y = x + at_i, y + at_j
            start_x, start_y, end_x, end_y = x - centre_x, y - centre_y, to_x - centre_x, to_y - centre_y
            radius = hypot(start_x, start_y)
            # Written so that NaN (a place not yet given) fails the test.
            if not (radius > 0.0 and abs(radius - hypot(end_x, end_y)) <= limit):
                break
            if hypot(to_x - x, to_y - y) <= NOISE:
                sweep = tau if now == 30 else -tau
            elif now == 30:
                sweep = (atan2(end_y, end_x) - atan2(start_y, start_x)) % tau
            else:
                sweep = -((atan2(start_y, start_x) - atan2(end_y, end_x)) % tau)
            extend((index + 1, ARC, to_x, to_y, to_z, centre_x, centre_y, z, sweep, new_feed))
        motion, feed, x, y, z = now, new_feed, to_x, to_y, to_z
    else:
        index = len(lines)
    state.motion, state.feed = motion, feed
    state.position[:] = x, y, z
    return index
