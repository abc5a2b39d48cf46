"""The kinds of joint that a job can ask for. A new kind adds its module here, and nowhere else in this package."""

from __future__ import annotations

from typing import Final

from jigcam.job.entry import Entry
from jigcam.job.groove import GrooveEntry
from jigcam.job.key import KeyEntry
from jigcam.job.through_dovetail import ThroughDovetailEntry

KINDS: Final[dict[str, type[Entry]]] = {
    "groove": GrooveEntry,
    "key": KeyEntry,
    "through-dovetail": ThroughDovetailEntry,
}
"""Entry of each kind, by the name that the key `kind` gives it."""
