"""One sheet with the openings of several joints of a board's face: their distances are held by the sheet.

Every opening keeps its own cut, ride, depth and, where it has to, its own pair; sheet, blank, fence, lines, holes and
marks are those of all. One pair serves all openings where the kit has one that is as good for each of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, combinations

from jigcam.findings import Finding, stops
from jigcam.kit import Bit, Bushing, Kit
from jigcam.template.advice import SEPARATE, choice_findings, refusal
from jigcam.template.bare import BareOpening, need_of, opened, refused
from jigcam.template.pairs import Need, Verdict, rank_pairs
from jigcam.template.plan import TemplatePlan, furnished
from jigcam.template.sheet import STAYS, Step
from jigcam.template.wall import SheetWall, wall_between
from jigcam.units import Voice
from jigcam.wood.solid import Cut

LEAST_WALL = 6.0
"""mm; a thinner wall of sheet between two openings breaks or bends under the bushing (1/4 in: common practice, no
source)."""
GOOD_WALL = 12.0
"""mm; under this, about the thickness of the sheet, the router is held lightly to the wall (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """An opening that is wanted in a sheet. bit, bushing: that its joint names; None: to be chosen.

    both_hands: the cut is also wanted in the mirrored board. steps: by which the sheet is moved for it.
    """

    cut: Cut
    bit: Bit | None = None
    bushing: Bushing | None = None
    both_hands: bool = False
    steps: tuple[Step, ...] = STAYS


@dataclass(frozen=True, slots=True)
class Neighbours:
    """Two openings of a sheet, by their joints. wall: of sheet between them; wood: between their cuts, face frame."""

    joints: tuple[str, str]
    wall: SheetWall
    wood: SheetWall


@dataclass(frozen=True, slots=True)
class SharedSheet:
    """A sheet with several openings. openings: the plan of each, in which all but its own cut, pair, opening, ride,
    stack and corners is the sheet's. neighbours: every two of them. findings: of the sheet itself; none of them stops.
    """

    name: str
    openings: tuple[TemplatePlan, ...]
    neighbours: tuple[Neighbours, ...]
    findings: tuple[Finding, ...]

    @property
    def first(self) -> TemplatePlan:
        """One of the plans, for what they have in common."""
        return self.openings[0]

    @property
    def both_pairs(self) -> bool:
        """Whether its openings want more than one pair of bit and bushing."""
        return len({str(each.pair) for each in self.openings}) > 1


@dataclass(frozen=True, slots=True)
class _Choice:
    """What an opening may be routed with. asked: of the pairs that its joint allows, best first; all of them work."""

    wanted: Wanted
    need: Need
    asked: tuple[Verdict, ...]
    everything: tuple[Verdict, ...]

    @property
    def best(self) -> Verdict:
        return self.asked[0]

    def of(self, key: str) -> Verdict | None:
        """The verdict on a pair that works; None where the joint does not allow it, or it does not work."""
        return next((each for each in self.asked if each.ok and str(each.pair) == key), None)

    def rank(self, key: str) -> tuple[bool, int]:
        """Of a pair that works: whether it is warned of more than the best, and its place."""
        place = next(number for number, each in enumerate(self.asked) if str(each.pair) == key)
        return len(self.asked[place].findings) > len(self.best.findings), place


def plan_shared(
    name: str, wanted: Sequence[Wanted], kit: Kit, voice: Voice | None = None, faces: Sequence[str] | None = None
) -> SharedSheet:
    """The sheet of that name, with the openings in the order of `wanted`; all are cut in one face of one board.

    voice: of texts and findings; None: the kit's. faces: see `plan_template`. Raises `Refused` where an opening finds
    no pair, where two openings break into each other or leave too thin a wall, and as `plan_template` does.
    """
    voice = voice or kit.voice
    choices = _choices(wanted, kit, voice)
    openings, alike = _openings(choices)
    neighbours = _neighbours(openings)
    said = [*_pairs_said(name, openings, alike=alike), *_wall_findings(name, neighbours, voice)]
    if stops(said):
        raise refused(name, [*(finding for each in openings for finding in each.findings), *said])
    steps = tuple(dict.fromkeys(step for each in wanted for step in each.steps))
    plans, of_sheet = furnished(name, openings, kit, voice, faces, steps)
    own = tuple(replace(plan, steps=each.steps) for plan, each in zip(plans, wanted, strict=True))
    return SharedSheet(name, own, neighbours, (*said, *of_sheet))


def _choices(wanted: Sequence[Wanted], kit: Kit, voice: Voice) -> list[_Choice]:
    """All pairs judged for each opening. Raises `Refused` with all that find none."""
    choices: list[_Choice] = []
    faults: list[Finding] = []
    for each in wanted:
        joint, need = each.cut.joint, need_of(each.cut, voice)
        everything = rank_pairs(kit, need, where=joint)
        bits = None if each.bit is None else (each.bit,)
        bushings = None if each.bushing is None else (each.bushing,)
        asked = rank_pairs(kit, need, bits=bits, bushings=bushings, where=joint)
        if not asked or not asked[0].ok:
            faults += refusal(joint, asked, everything, named=bits is not None or bushings is not None)
        choices.append(_Choice(each, need, asked, everything))
    if faults:
        raise refused(", ".join(dict.fromkeys(each.where for each in faults)), faults)
    return choices


def _openings(choices: Sequence[_Choice]) -> tuple[list[BareOpening], bool]:
    """The openings, and whether one pair makes all: the first candidates that leave good walls, or the first at all."""
    candidates = _candidates(choices)
    first = next(candidates)
    good = (each for each in chain([first], candidates) if _least_wall(each[0]) >= LEAST_WALL)
    return next(good, first)


def _candidates(choices: Sequence[_Choice]) -> Iterator[tuple[list[BareOpening], bool]]:
    """The openings by every pair that makes all of them and is the best for them together; each with its own best pair;
    then by those pairs that are warned of more than the best are. With whether it is one pair."""
    common = [key for key in (str(each.pair) for each in choices[0].asked) if all(each.of(key) for each in choices)]
    ranks = {key: [each.rank(key) for each in choices] for key in common}
    ranked = sorted(common, key=lambda key: sum(place for _, place in ranks[key]))
    warned = [key for key in ranked if any(more for more, _ in ranks[key])]
    for key in ranked:
        if key not in warned:
            yield [_opened(each, each.of(key), alike=True) for each in choices], True
    yield [_opened(each, each.best, alike=False) for each in choices], False
    for key in warned:
        yield [_opened(each, each.of(key), alike=True) for each in choices], True


def _opened(choice: _Choice, verdict: Verdict | None, *, alike: bool) -> BareOpening:
    assert verdict is not None, "only pairs that work for this opening are tried"
    wanted = choice.wanted
    named = wanted.bit is not None and wanted.bushing is not None
    why = "chosen as it makes all openings of the sheet" if alike else ""
    said = choice_findings(wanted.cut.joint, verdict, choice.asked, choice.need, named=named, why=why)
    findings = [*verdict.findings, *said]
    return opened(wanted.cut, verdict, choice.everything, findings, both_hands=wanted.both_hands)


def _least_wall(openings: Sequence[BareOpening]) -> float:
    return min((wall_between(a.opening, b.opening).size for a, b in combinations(openings, 2)), default=LEAST_WALL)


def _neighbours(openings: Sequence[BareOpening]) -> tuple[Neighbours, ...]:
    return tuple(
        Neighbours((a.cut.joint, b.cut.joint), wall_between(a.opening, b.opening), wall_between(a.region, b.region))
        for a, b in combinations(openings, 2)
    )


def _pairs_said(name: str, openings: Sequence[BareOpening], *, alike: bool) -> Iterator[Finding]:
    """A note on the openings' pairs together."""
    if len(openings) == 1:
        return
    if alike:
        depths = {round(each.verdict.stack.depth, 3) for each in openings}
        kept = "nothing is set anew between them" if len(depths) == 1 else "only the depth is set anew between them"
        yield Finding("note", "one-pair", name, f"{openings[0].verdict.pair} makes all its openings: {kept}")
        return
    each_its = "; ".join(f"{each.cut.joint}: {each.verdict.pair}" for each in openings)
    says = (
        f"no one pair of the kit is right for all its openings, so bit or bushing is changed between them: {each_its}"
    )
    yield Finding("note", "several-pairs", name, says)


def _wall_findings(name: str, neighbours: Sequence[Neighbours], voice: Voice) -> Iterator[Finding]:
    """What stays of the sheet between its openings: stops, cautions, and where it is good, how much it is."""
    for each in neighbours:
        a, b = each.joints
        size, wood = each.wall.size, voice.length(each.wood.size)
        if size < LEAST_WALL:
            state = (
                "break into each other"
                if size <= 0.0
                else f"leave a wall of {voice.length(size)} of sheet between them"
            )
            says = (
                f"the openings of {a} and {b} {state}, and a wall that guides a bushing wants "
                f"{voice.length(LEAST_WALL)} (common practice): {SEPARATE}, or draw the joints, now {wood} apart, "
                f"{voice.at_least(LEAST_WALL - size)} further apart"
            )
            yield Finding("stop", "sheet-wall", name, says)
        elif size < GOOD_WALL:
            says = (
                f"only {voice.length(size)} of sheet stays between the openings of {a} and {b}: it bends under a heavy "
                "hand, so press the router lightly against it there, and take the last pass in small bites"
            )
            yield Finding("caution", "sheet-wall", name, says)
        else:
            says = f"{voice.length(size)} of sheet stays between the openings of {a} and {b}, which are {wood} apart"
            yield Finding("note", "sheet-wall", name, says)
