"""A finger joint by hand: one board laid out from its lower edge and cut, the other marked from it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from jigcam.joints.finger_joint.layout import OTHER
from jigcam.joints.finger_joint.words import finger_words
from jigcam.making.blocks import Heading, rows_words, section
from jigcam.making.plan import Outcome, Pattern, Plan, turned
from jigcam.units import INCH
from jigcam.units.ruled import ruled_for
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.joints.finger_joint.entry import Part
    from jigcam.joints.finger_joint.joint import FingerJoint
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice
    from jigcam.units.ruled import Ruled


SOLD: Final = {
    "in": tuple(sixteenths * INCH / 16.0 for sixteenths in (2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16)),
    "mm": (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 25.0),
}
"""mm; widths in which straight bits are sold, by units (from memory)."""
OTHERS: Final = (
    "The same again, from the lower edge with the same figures, before anything is glued: all corners of a case go "
    "together at once."
)
"""Of the corners that a joint serves beside the first."""
PARTS: Final[tuple[Part, Part]] = ("a", "b")
"""The boards, the one that is laid out and cut first."""
SAME: Final = 0.02
"""mm; a width this near to that of a bit is the bit's: a rule and a key do not tell them apart."""


@dataclass(frozen=True)
class HandFingers(Plan):
    """A finger joint made by hand."""

    joint: FingerJoint

    def drawings(self) -> Mapping[str, Drawing]:
        """Both boards with their slots, and the corner put together."""
        from jigcam.joints.finger_joint.picture import scene_fingers

        return {"joint": scene_fingers(self.joint, self.voice)}

    @property
    def patterns(self) -> tuple[Pattern, ...]:
        """Both boards' lines."""
        a_ends, b_ends = zip(*self.joint.ends, strict=True)
        check = f"Only to check: mark the fingers from those of {self.joint.a.name}."
        return (
            Pattern("joint", 0, self.joint.a.name, turned(a_ends)),
            Pattern("joint", 1, self.joint.b.name, (check, *turned(b_ends))),
        )

    def joint_words(self) -> list[Block]:
        """The joint."""
        return finger_words(self.joint, self.voice, files=False)

    def bench_words(self, number: int) -> list[Block]:
        """All of the work."""
        return fingers_by_hand(self.joint, self.voice, number)

    @property
    def routed(self) -> bool:
        """Whether the sled on the router table is offered."""
        return bool(_sled(self.joint, self.voice))

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Nothing is cut by files, so nothing is measured."""
        return Outcome()


def fingers_by_hand(it: FingerJoint, voice: Voice, number: int) -> list[Block]:
    """The work at the bench in numbered headings, from `number` on."""
    a, b, size = it.a.name, it.b.name, voice.rule
    edges = (0.0, it.layout.width)
    spans = [(slot.low, slot.high) for part in PARTS for slot in it.slots(part)]
    ruled = ruled_for(spans, voice.units, edges)
    figures = [ruled.reading(each) for span in spans for each in span if edges[0] < each < edges[1]]
    ready = [
        "Shoot the ends square, and mark on both boards the outside face and the lower edge: they meet flush.",
        f"Set a marking gauge to {size(it.depth('a'))}, the thickness of {b}, and scribe the baseline round the end of "
        f"{a}, on both faces and both edges; set it to {size(it.depth('b'))}, the thickness of {a}, for {b}.",
        f"On {a} alone, mark every line at its figure below, measured from the lower edge and not from the line before "
        "it. Square each across the end grain and down both faces to the baseline, and hatch the waste. "
        f"{ruled.worth(figures)} The fit does not hang on them: {b} is marked from {a} as it is cut.",
    ]
    cut = [
        "Saw on the waste side of every line, down to the baseline and no further; leave the line.",
        "Saw out the waste close above the baseline, and chop to it from both faces toward the middle. At an edge of "
        "the board, saw along the baseline from the edge.",
        "Pare the cheeks square to the end, and flat from face to face.",
    ]
    mark = [
        f"Stand {b} upright in the vise, its outside face toward you, with a block behind it level with its end. Lay "
        f"{a} flat on both, its outside face up, the rest of it away from you, its lower edge at the same hand: lower "
        f"edges flush, its baseline on the inside edge of the end of {b}. Scribe along both sides of every finger with "
        "a knife.",
        f"Square the lines down to the baseline on both faces; the figures for {b} say where they should be. Hatch the "
        "waste: it is where the fingers were.",
        f"Cut its slots as those of {a}, so that the knife's line stays.",
    ]
    fit = [
        f"Try the boards half way: pare {b if not it.shared else 'either board'} where they bind. "
        + (f"{voice.drawn(it.clearance)} at each cheek is meant, a thin shaving." if it.clearance else ""),
        "Glue all cheeks quickly, drive the joint home with a block, check it for square, plane the end grain flush.",
    ]
    lines = section(f"{number}. Lay out both boards", ready)
    for part in PARTS:
        lines += [
            Heading(f"On {it.board(part).name}, from its lower edge; waste lies between the two lines", minor=True),
            *_rows(it, part, ruled, voice),
        ]
    number += 1
    sled = _sled(it, voice)
    # Told before the step that it replaces: who reads on as he works would have cut the slots already.
    either = [
        f"There are two ways to the slots, and one is enough: saw and chisel, steps {number} and {number + 1}, or a "
        f"sled on the router table, step {number + 2} in their place."
    ]
    lines += section(f"{number}. Cut the slots of {a}", [*(either if sled else []), *cut])
    lines += section(f"{number + 1}. Mark {b} from {a}, and cut its slots", mark)
    number += 2
    if sled:
        lines += section(f"{number}. In place of steps {number - 2} and {number - 1}: a sled on the router table", sled)
        number += 1
    if len(it.ends) > 1:
        lines += section(f"{number}. The other corners", [OTHERS])
        number += 1
    return [*lines, *section(f"{number}. Fit and glue", [each.strip() for each in fit])]


def _sled(it: FingerJoint, voice: Voice) -> list[str]:
    """The same slots with a key that spaces them; nothing where the fingers are not all equally wide."""
    widths = [each.width for each in it.layout.intervals]
    if max(widths) - min(widths) > SLACK:
        return []
    wide, twice = voice.rule(widths[0]), voice.rule(2.0 * widths[0])
    owner = it.layout.intervals[0].owner
    first, other = it.board(owner).name, it.board(OTHER[owner]).name
    return [
        f"{_cutter(it, widths[0], voice)} It also takes a key {wide} wide in the sled's fence, {wide} from the cut to "
        "the near side of the key, and a backer behind the board.",
        f"Set the bit's height to {voice.rule(it.depth('a'))} for {it.a.name} and to {voice.rule(it.depth('b'))} for "
        f"{it.b.name}.",
        f"Cut {first} with its lower edge against the key, then with each slot over the key for the next: they come "
        f"{twice} apart.",
        f"{other} begins with a slot at its lower edge: set {first} over the key by its first slot, turned round so "
        f"that its lower edge is toward the bit, lay the lower edge of {other} against it, and cut; then take {first} "
        "away and go on from the key.",
        "Try it on offcuts: a key farther from the cut makes the fit tighter, a nearer one looser.",
    ]


def _cutter(it: FingerJoint, wide: float, voice: Voice) -> str:
    """What cuts slots so wide at one go: a bit that is sold in that width, or a dado set that is stacked to it.

    A narrower bit in two cuts will not do: the key fits finished slots alone.
    """
    if any(abs(each - wide) <= SAME for each in SOLD[voice.units]):
        return f"It takes a straight bit {voice.rule(wide)} wide on the router table, or a dado set as wide on the saw."
    even = _even_counts(it, voice)
    other = f" Or choose {even} in the job, which makes the fingers as wide as a bit." if even else ""
    return (
        f"No bit is sold {voice.rule(wide)} wide: stack a dado set to it on the table saw, with shims, until a trial "
        f"slot measures {voice.rule(wide)}.{other}"
    )


def _even_counts(it: FingerJoint, voice: Voice) -> str:
    """Counts of fingers, near to the one drawn, that make all of them as wide as a bit that is sold."""
    width, now = it.layout.width, len(it.layout.intervals)
    fits = [
        count
        for count in range(max(2, now // 2), 2 * now + 1)
        if any(abs(width / count - each) <= SAME for each in SOLD[voice.units])
    ]
    near = sorted(fits, key=lambda count: (abs(count - now), count))[:2]
    return " or ".join(f"count = {count} ({voice.rule(width / count)} each)" for count in sorted(near))


def _rows(it: FingerJoint, part: Part, ruled: Ruled, voice: Voice) -> list[Block]:
    """Each slot with its two lines."""
    rows = []
    for place, slot in enumerate(it.slots(part), start=1):
        low = "the lower edge" if slot.open_low else voice.rule(ruled.reading(slot.low).read)
        high = "the upper edge" if slot.open_high else voice.rule(ruled.reading(slot.high).read)
        rows.append((f"slot {place}", f"from {low} to {high}"))
    return rows_words(rows)
