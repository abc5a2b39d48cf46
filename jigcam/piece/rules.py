"""What the trade has to say of two joints in one board. Each rule says numbers in the job's units and what mends it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import hypot
from typing import TYPE_CHECKING, Final

from jigcam.findings import Finding, Level, Rule
from jigcam.geometry import difference
from jigcam.piece.place import board_words, place_words
from jigcam.wood.practice import PRACTICE, SLACK

if TYPE_CHECKING:
    from jigcam.piece.between import Between, Web
    from jigcam.piece.body import Body
    from jigcam.units import Voice

RULES: Final[Mapping[str, Rule]] = {
    "same-place": Rule(("stop",), "Two joints take the same wood.", "Move one of them."),
    "cuts-cross": Rule(("caution",), "A cut crosses another one of the same face.", "Notch a part, or stop one short."),
    "broken-through": Rule(("stop",), "Cuts from opposite faces meet.", "Move one of them, or cut both less deep."),
    "core": Rule(("stop", "caution"), "Little stays between cuts from opposite faces.", "Cut both less deep."),
    "web": Rule(("stop", "caution"), "Little stays between two cuts side by side.", "Move one of them."),
    "in-end-joint": Rule(("stop", "caution", "note"), "A cut runs into tails or pins.", "Stop it before them."),
    "reference-gone": Rule(
        ("caution",),
        "In any order a joint takes what a later clamping bears on.",
        "Mark its place before, or move one.",
    ),
    "boards-collide": Rule(("stop",), "Two boards would share wood beyond their joint.", "Move one of them."),
    "locked": Rule(("stop",), "No order brings these boards together.", "Change the joint that it names."),
    "stray-cut": Rule(("stop",), "The files cut wood that no joint takes.", "Have them made anew."),
    "does-not-close": Rule(("stop",), "Boards of these sizes do not go together.", "Give the board the size it says."),
    "stays-off": Rule(("caution", "note"), "A board stays off the bottom of its groove.", "None, if it is meant so."),
    "stands-out": Rule(("caution",), "A board reaches out of the open end of its groove.", "Cut it shorter."),
    "nothing-comes": Rule(("caution",), "A place of a joint takes no board.", "Name boards that are cut otherwise."),
    "not-joined": Rule(("caution",), "A board is in no joint.", "Say which board it is like, or take it out."),
    "enters-unsaid": Rule(("caution",), "Either end of a board may enter a groove.", "Say which in enters."),
    "thinner-as-cut": Rule(("stop",), "The files leave less between two joints than drawn.", "Have it made anew."),
}
"""The findings of this package, by name."""


def between_findings(pair: Between, voice: Voice) -> Iterator[Finding]:
    """What two cuts of a board come to, as drawn."""
    if pair.volume:
        yield _shared(pair, voice)
    elif pair.web is not None:
        yield from _thin(pair, pair.web, voice)


def where_of(pair: Between) -> str:
    """The board and both joints, for a finding."""
    a, b = pair.a.taken, pair.b.taken
    joints = a.joint if a.joint == b.joint else f"{a.joint} and {b.joint}"
    return f"{board_words(a.board, a.hand)}: {joints}"


def _mend(pair: Between) -> str:
    """How two cuts come further apart: those of one joint by its keys."""
    a, b = pair.a.taken, pair.b.taken
    if a.joint != b.joint:
        return "move one of them" if a.face == b.face else "move one of them, or cut both less deep"
    return "make the pitch of repeat longer" if a.face == b.face else "cut it less deep, or in one face only"


def _apart(pair: Between) -> str:
    """What is changed by what is lacking between two cuts side by side."""
    return "make the pitch of repeat longer" if pair.a.taken.joint == pair.b.taken.joint else "move one of them"


def _shared(pair: Between, voice: Voice) -> Finding:
    """Both take the same wood."""
    a, b = pair.a.taken, pair.b.taken
    spot = place_words(_middle(pair), a.board, voice)
    part = f"{pair.share:.0%}"
    if pair.share >= PRACTICE.same_place or (a.end and b.end):
        smaller = a if pair.a.volume <= pair.b.volume else b
        larger = b if smaller is a else a
        says = (
            f"two joints are in one place, {spot}: {part} of the wood of {smaller.joint} is taken by {larger.joint} "
            f"too; {_mend(pair)}"
        )
        return Finding("stop", "same-place", where_of(pair), says)
    if a.face == b.face and pair.alongside:
        x0, y0, x1, y1 = pair.shared.bounds
        way = voice.about(hypot(x1 - x0, y1 - y0))
        both = f"{a.what} of {a.joint} and {b.what} of {b.joint}"
        says = f"{both} lie in each other for {way} of their way, {spot}: no wood stays between them; {_mend(pair)}"
        return Finding("stop", "same-place", where_of(pair), says)
    if a.face != b.face:
        deep = pair.common[-1] - pair.common[0]
        says = (
            f"{a.what} of {a.joint} from the {a.face} face and {b.what} of {b.joint} from the {b.face} face break into "
            f"each other, {spot}: together they are {voice.rule(deep)} deeper than {a.board.name} is thick, "
            f"{voice.rule(a.board.thickness)}; {_mend(pair)}"
        )
        return Finding("stop", "broken-through", where_of(pair), says)
    ends, by = _ending(pair), _overlap(pair)
    if ends is not None:
        one, into = (a, b) if ends is pair.a else (b, a)
        apart = voice.at_least(by + PRACTICE.web)
        says = (
            f"{one.what} of {one.joint} runs {voice.length(by)} into {into.what} of {into.joint} on the {a.face} face, "
            f"{spot}: let what goes into the first end at what lies in the other, as a drawer's back that stands on "
            f"its bottom does; where it has to go on, move one of them by {apart} or more, and "
            f"{voice.length(PRACTICE.web)} of wood stays between them"
        )
        return Finding("caution", "cuts-cross", where_of(pair), says)
    says = (
        f"{a.what} of {a.joint} and {b.what} of {b.joint} cross on the {a.face} face, {spot}: only one of the parts "
        "that go into them can run on there: where neither has a groove of its own for the other, notch one; fill the "
        "cut that is made first with a strip of waste while the other is made, so that its edges do not break out"
    )
    return Finding("caution", "cuts-cross", where_of(pair), says)


def _ending(pair: Between) -> Body | None:
    """The one of two cuts that ends in the other, and does not go on beyond it; None where they cross."""
    ending = [
        one
        for one, other in ((pair.a, pair.b), (pair.b, pair.a))
        if len(difference(one.shadow, other.shadow).parts) == 1
    ]
    # Where neither is cut in two, the longer one along the way in which they overlap least comes in by its end.
    x0, y0, x1, y1 = pair.shared.bounds
    axis = 0 if x1 - x0 < y1 - y0 else 1
    return max(ending, key=lambda body: body.shadow.bounds[axis + 2] - body.shadow.bounds[axis], default=None)


def _overlap(pair: Between) -> float:
    """How far two cuts lie in each other, mm: the lesser way out."""
    x0, y0, x1, y1 = pair.shared.bounds
    return min(x1 - x0, y1 - y0)


def _thin(pair: Between, web: Web, voice: Voice) -> Iterator[Finding]:
    """What stays between two cuts."""
    if web.behind:
        yield from _core(pair, web, voice)
        return
    a, b = pair.a.taken, pair.b.taken
    # From opposite faces, each is the other's ground: a thin web between them is all that holds the board together.
    limit, least = PRACTICE.web, PRACTICE.least_web if a.face == b.face or a.end or b.end else PRACTICE.least_core
    if web.size >= limit - SLACK:
        return
    spot = place_words(web.place, a.board, voice)
    stays = f"only {voice.length(web.size)} of wood stays" if web.size > SLACK else "no wood stays"
    level: Level = "stop" if web.size < least - SLACK else "caution"
    wanted = (
        f"under {voice.length(limit)} it may break out" if level == "caution" else f"{voice.length(limit)} is usual"
    )
    says = (
        f"{stays} between {a.what} of {a.joint} and {b.what} of {b.joint}, {spot}: {wanted} (common practice); "
        f"{_apart(pair)} by {voice.length(limit - web.size)} or more"
    )
    yield Finding(level, "web", where_of(pair), says)


def _core(pair: Between, web: Web, voice: Voice) -> Iterator[Finding]:
    """What stays behind cuts from opposite faces."""
    a, b = pair.a.taken, pair.b.taken
    thickness = a.board.thickness
    limit = PRACTICE.core * thickness
    if web.size >= limit - SLACK:
        return
    spot = place_words(web.place, a.board, voice)
    depths = f"{voice.rule(a.solid.depth)} and {voice.rule(b.solid.depth)} deep in {voice.rule(thickness)}"
    both = f"{a.what} of {a.joint} and {b.what} of {b.joint}, from opposite faces and {depths}"
    if web.size <= SLACK:
        says = f"{both}, meet {spot}: the board is cut through; {_mend(pair)}"
        yield Finding("stop", "broken-through", where_of(pair), says)
        return
    stop = web.size < PRACTICE.least_core - SLACK
    wanted = (
        f"at least {voice.length(PRACTICE.least_core)} has to be left"
        if stop
        else f"a third of the board, {voice.length(limit)}, is usual (common practice)"
    )
    stays = voice.length(web.size)
    says = f"{both}, leave {stays} between them {spot}: {wanted}; {_mend(pair)}"
    yield Finding("stop" if stop else "caution", "core", where_of(pair), says)


def _middle(pair: Between) -> tuple[float, float]:
    x0, y0, x1, y1 = pair.shared.bounds
    return (x0 + x1) / 2.0, (y0 + y1) / 2.0
