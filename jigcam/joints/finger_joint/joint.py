"""A finger joint as a job asks for it, before any tool is known: boards, ends, layout, what the trade says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from jigcam.errors import Refused
from jigcam.findings import Finding, Level, stops
from jigcam.geometry import Path, Region, rectangle
from jigcam.joints.finger_joint.entry import Ends, Part
from jigcam.joints.finger_joint.layout import OTHER, FingerLayout, Slot, finger_layout
from jigcam.wood.practice import SLACK
from jigcam.wood.solid import Prism
from jigcam.wood.taken import End, Taken

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.joints.finger_joint.entry import FingerJointEntry
    from jigcam.units import Voice

MEETS: Final[dict[Ends, Ends]] = {"left": "right", "right": "left", "both": "both"}
"""Which end of `b` an end of `a` meets, with lower edges flush and outside faces outside."""
SAME_WIDTH = 0.05
"""Boards whose widths differ by less count as equally wide, mm: nobody feels it at the edge."""
NARROW, WIDE = 0.5, 1.0
"""Width of a finger in thicknesses of the thinner board, at least and at most (common practice, no source)."""
LEAST_LAST = 0.5
"""Share of a finger's width that the uppermost has at least (common practice, no source)."""
LEAST_FINGER = 2.0
"""A narrower finger snaps off across the grain when it is cut, mm (common practice, no source)."""
LOOSE = 0.125
"""Clearance at each cheek from which a glue line may fail, mm: a quarter of a millimetre in all (weakly sourced)."""
BEYOND = 25.0
"""How far solids run off the board, mm: further than the radius of any bit that fits between fingers."""


@dataclass(frozen=True, slots=True)
class FingerJoint:
    """One joint of a job, serving one corner or two. ends: for each corner the end of `a` and the end of `b` that
    meet. clearance: at each cheek; shared: whether both boards give half of it."""

    name: str
    a: Board
    b: Board
    ends: tuple[tuple[End, End], ...]
    layout: FingerLayout
    clearance: float
    shared: bool
    findings: tuple[Finding, ...] = ()

    def board(self, part: Part) -> Board:
        """One of the two boards."""
        return self.a if part == "a" else self.b

    def depth(self, part: Part) -> float:
        """How long the fingers of a board are: as the other is thick."""
        return self.board(OTHER[part]).thickness

    def slots(self, part: Part) -> tuple[Slot, ...]:
        """What is cut out of a board, clearance included."""
        share = 0.5 if self.shared else float(part == "b")
        return self.layout.slots(part, share * self.clearance)

    def upright(self, part: Part, gang: int = 1) -> Prism:
        """What is cut out of an end that stands up, in the frame (board y, depth from the outside face).

        gang: boards one behind the other.
        """
        thick = gang * self.board(part).thickness
        return Prism(self._sections(part, -BEYOND, thick + BEYOND, across=True), self.depth(part))

    def taken(self) -> tuple[Taken, ...]:
        """The slots of both boards, each in its outside face frame, right through the board."""
        found = []
        for a_end, b_end in self.ends:
            pairs: tuple[tuple[Part, End], ...] = (("a", a_end), ("b", b_end))
            for part, end in pairs:
                board, reach = self.board(part), self.depth(part)
                near = (-BEYOND, reach) if end == "left" else (board.length - reach, board.length + BEYOND)
                solid = Prism(self._sections(part, *near, across=False), board.thickness)
                found.append(Taken(self.name, board, "outside", solid, end=end, what="the slots between the fingers"))
        return tuple(found)

    def _sections(self, part: Part, low: float, high: float, *, across: bool) -> Region:
        """The slots as rectangles that run from low to high the other way; across: s is the first coordinate."""
        loops: list[Path] = []
        for slot in self.slots(part):
            s0 = slot.low - BEYOND * slot.open_low
            s1 = slot.high + BEYOND * slot.open_high
            box = (s0, low, s1, high) if across else (low, s0, high, s1)
            loops += rectangle(*box).loops
        return Region(tuple(loops))


def finger_joint(entry: FingerJointEntry, job: Job) -> FingerJoint:
    """The joint of an entry, judged by the rules of the trade: see its findings.

    Raises Refused where there are no two fingers. Raises InputError where the entry names a board that the job does not
    have (a job from a file has been checked).
    """
    a, b = job.board(entry.a), job.board(entry.b)
    layout = finger_layout(a.width, entry.first, count=entry.count, finger=entry.finger)
    shared = entry.clearance_from == "both"
    drawn = FingerJoint(entry.name, a, b, _corners(entry.a_end), layout, entry.clearance, shared)
    findings = (*_pairing(entry), *_findings(drawn, job.voice))
    if stops(findings) and len(layout.intervals) < 2:
        raise Refused(f"{entry.name}: the joint cannot be laid out", findings)
    return FingerJoint(entry.name, a, b, drawn.ends, layout, entry.clearance, shared, findings)


def _corners(a_end: Ends) -> tuple[tuple[End, End], ...]:
    if a_end == "left":
        return (("left", "right"),)
    return (("right", "left"),) if a_end == "right" else (("left", "right"), ("right", "left"))


def _pairing(entry: FingerJointEntry) -> Iterator[Finding]:
    """A stop for ends that cannot meet with lower edges flush and outside faces outside."""
    if entry.b_end != MEETS[entry.a_end]:
        says = (
            f"{_end(entry.a_end)} of {entry.a} cannot meet {_end(entry.b_end)} of {entry.b}: with lower edges flush "
            f'it would turn a face inside out; write b_end = "{MEETS[entry.a_end]}" or a_end = "{MEETS[entry.b_end]}"'
        )
        yield Finding("stop", "finger-ends", entry.name, says)


def _end(end: Ends) -> str:
    return "both ends" if end == "both" else f"the {end} end"


def _findings(it: FingerJoint, voice: Voice) -> Iterator[Finding]:
    """What the trade has to say about it."""
    says = voice.length

    def told(level: Level, rule: str, what: str) -> Finding:
        return Finding(level, rule, it.name, what)

    a, b, fingers = it.a, it.b, it.layout.intervals
    if abs(a.width - b.width) > SAME_WIDTH:
        what = f"{a.name} is {says(a.width)} wide and {b.name} {says(b.width)}: the boards of a corner are equally wide"
        yield told("stop", "finger-widths", f"{what}; plane the wider one, or write both as measured")
    if len(fingers) < 2:
        what = f"a finger of {says(fingers[0].width)} is as wide as the boards: there is no second one"
        yield told("stop", "finger-alone", f"{what}; write a narrower one, or write count = 3 and leave finger out")
        return
    usual, last = fingers[0].width, fingers[-1].width
    thin = min(a.thickness, b.thickness)
    if min(usual, last) < LEAST_FINGER:
        what = f"a finger is {says(min(usual, last))} wide"
        cure = "take fewer fingers" if usual == last else "choose a width that divides the board more evenly"
        yield told("stop", "finger-thin", f"{what}: under {says(LEAST_FINGER)} it snaps off; {cure}")
    elif last < LEAST_LAST * usual - SLACK:
        even = max(2, round(it.layout.width / usual))
        yield told(
            "caution",
            "finger-last",
            f"the uppermost finger is {says(last)} wide, under half of {says(usual)}; write count = {even} and leave "
            f"finger out, which makes all {says(it.layout.width / even)}",
        )
    if not NARROW * thin - SLACK <= usual <= WIDE * thin + SLACK:
        how = "narrower" if usual < thin else "wider"
        yield told(
            "caution",
            "finger-width",
            f"a finger is {says(usual)} wide, {how} than usual: from half of the thinner board to all of it, "
            f"{says(NARROW * thin)} to {says(WIDE * thin)}",
        )
    if len(fingers) % 2 == 0:
        low, high = (it.board(fingers[place].owner).name for place in (0, -1))
        what = f"{low} has the finger at the lower edge and {high} the one at the upper edge"
        yield told("note", "finger-even", f"{what}; an odd number gives both edges to one board")
    if it.clearance == 0.0 or it.clearance > LOOSE + SLACK:
        how = "no clearance: glue swells the wood, and the joint may seize half way"
        if it.clearance:
            how = f"{says(it.clearance)} of clearance at each cheek: glue lines that thick may fail"
        yield told("caution", "finger-clearance", f"{how}; {voice.exact(0.05)} is usual")
    parts: tuple[Part, ...] = ("a", "b")
    for part in parts:
        if it.depth(part) > 2.0 * it.board(part).thickness + SLACK:
            board = it.board(part)
            yield told(
                "caution",
                "finger-long",
                f"the fingers of {board.name} are {says(it.depth(part))} long and {says(board.thickness)} thick: over "
                "twice as long as thick they break easily before they are glued",
            )
