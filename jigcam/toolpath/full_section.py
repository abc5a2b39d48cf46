"""Feeds of a dovetail bit that may cut its full section: it goes in at the full depth, whatever was cleared before."""

from __future__ import annotations

from dataclasses import replace
from math import floor, tan

from jigcam.kit import Bit, Machine
from jigcam.toolpath.feeds import Feeds, choose
from jigcam.units import Voice

QUIET = 0.45
"""Share of the spindle's power that a dovetail bit may ask for on the way in, were nothing cleared before it."""
WORK = 0.08
"""Work to remove a volume of hardwood in thin chips, J/mm³ (from memory)."""


def full_section_feeds(bit: Bit, wood: str | None, depth: float, machine: Machine, voice: Voice) -> Feeds:
    """Feeds at a depth (mm), slow enough for the bit's full section even where the clearing file was left out."""
    feeds = choose(bit, wood, machine, depth, voice=voice, at_once=True)
    section = depth * (bit.diameter - depth * tan(bit.angle))
    most = floor(QUIET * machine.power * 60.0 / (WORK * section) / 10.0) * 10.0
    if feeds.feed <= most:
        return feeds
    reason = f"Feed at most {voice.feed(most)}: the bit cuts its full section on the way in."
    return replace(feeds, feed=most, chip=most / (feeds.rpm * bit.flutes), reasons=(*feeds.reasons, reason))
