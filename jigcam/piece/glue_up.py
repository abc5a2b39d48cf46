"""Gluing a piece up, in words: what is tried dry, in which order, where clamps press, what stays unglued across the
grain, and what the year does to the whole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import numpy as np

from jigcam.piece.order_words import clamp_lines, meeting_in
from jigcam.piece.seasonal import PieceSeason, SeasonalChange
from jigcam.piece.ways import listed, side_words
from jigcam.units.setting import Known
from jigcam.wood.seasons import SHOWS, Moving

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.piece.assembly import PartAssembly
    from jigcam.units import Voice
    from jigcam.wood.seasons import Seasons

EDGES: Final = ("length", "width", "thickness")
"""Of a board, along x, y and z of its body frame."""
GLUE_TAKES: Final = SHOWS
"""A glue line may have to give so much between its boards over the year, mm; more breaks it (common practice)."""
TELLS: Final = 0.25
"""A whole piece that grows by less keeps its size, mm."""


def glue_lines(part: PartAssembly, job: Job, seasons: Seasons) -> list[str]:
    """Sentences for a part of several boards, what is done and then what is good to know; none for a board alone."""
    return [*glue_steps(part, job, seasons), *glue_facts(part, job, seasons)]


def glue_steps(part: PartAssembly, job: Job, seasons: Seasons) -> list[str]:
    """What is done in gluing up, and what is left without glue."""
    if not part.steps:
        return []
    floating = {entry.name for entry in job.joints if getattr(entry, "floats", False)}
    lines = [
        "dry first: put all of it together without glue, in this order, and take it apart again the other way round",
        *(
            f"{'and ' if number else 'glue in that order, in one go; '}{line}"
            for number, line in enumerate(clamp_lines(part, floating))
        ),
    ]
    slid = [*dict.fromkeys(_slid_in(part))]
    # Where no ring of corners keeps the sides apart all round, the clamps would bend them inward where nothing stands.
    ring = sum(contact.meeting.corner for contact in part.contacts) > 2
    pressed = [name for name in slid if not ring and _is_pressed(name, part, floating)]
    if pressed:
        lines.append(
            f"slid in with glue before the clamps press, which draw {'it' if len(pressed) == 1 else 'them'} home too: "
            f"{listed(pressed)}"
        )
    if ring:
        # A ring of corners: its sides say nothing of its angles.
        lines.append(
            "before the glue sets measure both diagonals of the case, from inner corner to inner corner, before and "
            "behind: they are equal where it is square; if not, set the clamps aslant, to press along the longer one "
            "(common practice)"
        )
    loose = [name for name in slid if name not in pressed]
    if loose:
        lines.append(f"slides in when the clamps are off: {listed(loose)}")
    laid = [*dict.fromkeys(each.b.name for each in part.contacts if each.meeting.late)]
    if laid:
        lines.append(
            f"laid in from outside when the clamps are off: {listed(laid)}; screw or tack it there, so that it can be "
            "taken out, and glue no solid wood across the grain (common practice)"
        )
    loose = [*dict.fromkeys(each.b.name for each in part.contacts if each.meeting.joint in floating)]
    if loose:
        lines.append(f"no glue at all: {listed(loose)}, which {'floats' if len(loose) == 1 else 'float'} in the groove")
    if _moving(part):
        dry, damp = (PieceSeason(part, season) for season in seasons)
        lines += _unglued(part, dry, damp, floating, job.voice)
    return lines


def glue_facts(part: PartAssembly, job: Job, seasons: Seasons) -> list[str]:
    """What the year does to the glued part: there is nothing in it to be done."""
    if not part.steps:
        return []
    lines = [*_over_the_year(part, seasons, job.voice)] if _moving(part) else []
    unknown = [*dict.fromkeys(each.copy.board.name for each in part.placed if Moving.of(each.copy.board) is None)]
    if unknown:
        lines.append(f"of {listed(unknown)} no wood is named: how much it moves is not reckoned")
    return lines


def _moving(part: PartAssembly) -> bool:
    """Whether it is known of any of the boards how much it moves."""
    return any(Moving.of(each.copy.board) is not None for each in part.placed)


def _slid_in(part: PartAssembly) -> Iterator[str]:
    """Boards that no clamp draws home, as all their joints slide along their cuts, and on which no others wait."""
    for number, step in enumerate(part.steps):
        meets = [*meeting_in(step, part)]
        slides = all(
            each.meeting.free is not None
            and abs(float(step.direction @ part.motion_of(each.a).turned(each.meeting.free[0]))) > 0.99
            for each in meets
        )
        later = {
            copy for other in part.steps[number + 1 :] for each in meeting_in(other, part) for copy in (each.a, each.b)
        }
        if slides and not later & set(step.moves):
            yield from (copy.name for copy in step.moves)


def _is_pressed(name: str, part: PartAssembly, floating: set[str]) -> bool:
    """Whether clamps draw a board home though it slides in: glued into a cut out of whose face it comes too, as in a
    dado. A joint that only slides together holds its boards by itself, and what floats takes no pressure."""
    return any(
        each.b.name == name
        and each.meeting.joint not in floating
        and each.meeting.free is not None
        and any(abs(float(np.dot(way, each.meeting.free[0]))) < 0.5 for way in each.meeting.apart)
        for each in part.contacts
    )


def _over_the_year(part: PartAssembly, seasons: Seasons, voice: Voice) -> Iterator[str]:
    dry, damp = (PieceSeason(part, season) for season in seasons)
    told = False
    for a, b in zip(dry.changes, damp.changes, strict=True):
        if a.gap is not None and b.gap is not None and max(abs(a.gap), abs(b.gap)) > GLUE_TAKES / 2.0:
            told = True
            yield f"{a.line.contact.where}: the gap {_way(a.gap, voice)} when dry and {_way(b.gap, voice)} when damp"
    if not told:
        most = voice.length(GLUE_TAKES / 2.0)
        yield Known(f"no gap between boards opens or closes by more than {most} over the year")
    first = part.placed[0].copy.name
    for axis in np.flatnonzero(np.maximum(np.abs(dry.size), np.abs(damp.size)) > TELLS):
        yield Known(
            f"the whole, along the {EDGES[axis]} of {first}: {_signed(dry.size[axis], voice)} when {dry.season}, "
            f"{_signed(damp.size[axis], voice)} when {damp.season}"
        )


def _unglued(
    part: PartAssembly, dry: PieceSeason, damp: PieceSeason, floating: set[str], voice: Voice
) -> Iterator[str]:
    """Joints whose boards slide on each other across the grain: glued where they are held, loose elsewhere."""
    said: dict[tuple[str, str], tuple[list[str], SeasonalChange, float]] = {}
    for a, b in zip(dry.changes, damp.changes, strict=True):
        most = abs(a.slides - b.slides)
        contact = a.line.contact
        # In a corner both have their width along the joint: what differs is how they are sawn, and glue bears that.
        if most > GLUE_TAKES and contact.meeting.joint not in floating and not contact.meeting.corner:
            key = (contact.meeting.joint, contact.b.name)
            said.setdefault(key, ([], a, most))[0].append(contact.a.name)
    for (joint, name), (holders, change, most) in said.items():
        contact = change.line.contact
        yield (
            f"across the grain, no glue all along: {name} in {listed(holders)} ({joint}) slides up to "
            f"{voice.length(most)} over the year; glue it only {_held_words(part, change)}"
        )


def _held_words(part: PartAssembly, change: SeasonalChange) -> str:
    line = change.line
    off = line.held - line.ends.mean(axis=0)
    if float(np.abs(off).max()) < 1e-6:
        return "a hand's breadth in the middle"
    b = next(each for each in part.placed if each.copy == line.contact.b)
    return f"a hand's breadth next to its {side_words(off, b)}"


def _way(gap: float, voice: Voice) -> str:
    if abs(gap) < 5e-3:
        return "stays"
    return f"{'opens' if gap > 0.0 else 'closes'} by {voice.length(abs(gap))}"


def _signed(value: float, voice: Voice) -> str:
    """How much something grows or shrinks."""
    if abs(value) < 5e-3:
        return "as it is"
    return f"{'+' if value > 0.0 else '-'}{voice.length(abs(float(value)))}"
