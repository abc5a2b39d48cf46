"""A shared sheet laid again: moved on along rows, laid on mates, and which of its openings are used where it lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from jigcam.geometry import compose, mirror_x
from jigcam.template.laying import STRAIGHT, as_move, is_turned, laid_by
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.making.opening_plan import OpeningPlan
    from jigcam.template import TemplatePlan
    from jigcam.template.laying import Move, Site
    from jigcam.units import Voice

SAME_PLACE = 1e-3
"""mm, and the like in sines; moves that differ by less are one, so that one laying serves two openings."""


@dataclass(frozen=True, slots=True)
class Use:
    """An opening that is used once more, where the sheet lies elsewhere.

    joint: whose opening; cut: what is cut there, as "mortise 2 of 3"; site: what the sheet is laid on. moves: that
    bring the opening there, as they are seen, the likeliest first; they all come to the same cut. place: which of the
    joint's it is, by row and number.
    """

    joint: str
    cut: str
    site: Site
    moves: tuple[Move, ...]
    place: tuple[int, int] = (0, 0)

    @property
    def named(self) -> str:
        """With its joint."""
        return f"{self.cut} of {self.joint}"


@dataclass(frozen=True, slots=True)
class LaidAgain:
    """The sheet in one more place. uses: the openings that are used there, in the order of the work."""

    site: Site
    move: Move
    uses: tuple[Use, ...]

    @property
    def turned(self) -> bool:
        """Whether the face that was milled up is down."""
        return is_turned(self.move)

    @property
    def joints(self) -> tuple[str, ...]:
        """Whose openings are used."""
        return tuple(dict.fromkeys(use.joint for use in self.uses))

    @property
    def title(self) -> str:
        """What is cut in what."""
        return f"{', '.join(use.named for use in self.uses)}, in the {self.site.where} of {self.site.board}"

    def step(self, home: Site) -> tuple[float, float] | None:
        """How far the sheet is only shifted on what it was laid out for, mm; None where it is laid otherwise."""
        (a, b, dx), (d, e, dy) = self.move
        shifted = max(abs(a - 1.0), abs(b), abs(d), abs(e - 1.0)) < STRAIGHT
        return (dx, dy) if shifted and _same_site(self.site, home) else None


def layings(uses: Sequence[Use], home: Site) -> tuple[LaidAgain, ...]:
    """Few layings for all uses: one move that serves several openings is taken before one that serves fewer.

    In the order of the uses, those on the sheet's own site first. home: what the sheet was laid out for.
    """
    rest = sorted(uses, key=lambda use: not _same_site(use.site, home))
    found: list[LaidAgain] = []
    while rest:
        first = rest[0]
        served = [[use for use in rest if _serves(use, first.site, move)] for move in first.moves]
        most = max(range(len(served)), key=lambda number: (len({use.joint for use in served[number]}), -number))
        found.append(LaidAgain(first.site, first.moves[most], tuple(served[most])))
        rest = [use for use in rest if use not in served[most]]
    return tuple(found)


def face_texts(laid: Iterable[LaidAgain], home: Site, *, both_hands: bool) -> tuple[str, ...] | None:
    """What is engraved of the faces of a sheet: which of them is up for what; None: as on a sheet that stays."""
    up, down = (["as drawn"], ["opposite hand"]) if both_hands else ([home.board], [])
    before = len(up), len(down)
    for each in laid:
        if each.step(home) is None:
            (down if each.turned else up).append(f"{each.site.board} {each.site.where}")
    up, down = list(dict.fromkeys(up)), list(dict.fromkeys(down))
    if (len(up), len(down)) == before:
        return None
    return (f"this face up: {', '.join(up)}", *([f"turn over: {', '.join(down)}"] if down else []))


def laying_words(laying: LaidAgain, home: Site, members: Sequence[OpeningPlan], voice: Voice) -> Iterator[str]:
    """How the sheet is laid there and what is done, a sentence each. members: the joints of the sheet."""
    plan, by_name = members[0].template, {each.name: each for each in members}
    used = [by_name[name] for name in laying.joints]
    if laying.site.end:
        yield from used[0].held_words(laying.move, laying.uses[0])
    marked = "engraved" if plan.marker else "marked"
    moved_on = laying.step(home) is not None
    if laying.turned:
        yield f"Turn the sheet over like the page of a book, left for right: the {marked} face is down."
    elif not moved_on:
        yield f"The {marked} face is up."
    start = "Move the sheet on without turning it" if moved_on else "Lay the sheet"
    yield f"{start}: {'; '.join(_parts(laying, plan, voice))}. Clamp it as before."
    for use in laying.uses:
        yield from by_name[use.joint].again_words(use)
    several, alone = len(used) > 1, len(used) < len(members)
    yield (
        f"Cut in the opening{'s' * several} of {' and '.join(laying.joints)}{' alone' * alone}, as before"
        f"{', each at its own settings' * several}."
    )


def mirrored_words(laying: LaidAgain, home: Site, plan: TemplatePlan, joints: Sequence[str], voice: Voice) -> str:
    """The same on the mirrored board, the sheet turned over. joints: those that are cut for both hands."""
    move = as_move(compose(np.array(laying.move), mirror_x(home.size[0])))
    parts, _ = laid_by(plan, move, home, voice, moved=True)
    named = ", ".join(use.named for use in laying.uses if use.joint in joints)
    return f"For {named}: {'; '.join(parts)}."


def _parts(laying: LaidAgain, plan: TemplatePlan, voice: Voice) -> list[str]:
    parts, known = laid_by(plan, laying.move, laying.site, voice)
    if known < 2:
        parts.append("the centreline of each opening and its sights on lines drawn through the middles said below")
    return parts


def _serves(use: Use, site: Site, move: Move) -> bool:
    """Whether a sheet that lies so has this opening where the use wants it."""
    return _same_site(use.site, site) and any(_alike(move, each) for each in use.moves)


def _same_site(one: Site, other: Site) -> bool:
    return (one.board, one.where) == (other.board, other.where)


def _alike(one: Move, other: Move) -> bool:
    return bool(np.allclose(one, other, rtol=0.0, atol=SAME_PLACE))
