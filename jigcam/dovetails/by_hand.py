"""A dovetailed corner by hand: tails sawn first, pins marked from them, every line with its place from the edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from jigcam.dovetails.choice import DovetailChoice
from jigcam.dovetails.words import dovetail_words, layout_words
from jigcam.making.blocks import section
from jigcam.making.plan import Outcome, Pattern, Plan, turned

if TYPE_CHECKING:
    from jigcam.dovetails.joint import Dovetail
    from jigcam.drawing import Drawing
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

OTHERS: Final = (
    "The same again, from the lower edge with the same figures, before anything is glued: all corners of a case go "
    "together at once. No two come out quite alike: letter both boards of each corner, A, B and on, and mark each end "
    "of pins from the tails of its own letter."
)
"""Of the corners that a joint serves beside the first."""


@dataclass(frozen=True)
class HandDovetail(Plan):
    """A dovetailed corner made by hand, as drawn: no bit has a say in its slope."""

    joint: Dovetail

    @property
    def choice(self) -> DovetailChoice:
        """The joint as drawn, without a bit or a cut of a machine."""
        return DovetailChoice(self.joint, self.joint.layout, None, None, (), self.joint.findings, ())

    def drawings(self) -> Mapping[str, Drawing]:
        """Both boards with every line's place, and the corner put together."""
        from jigcam.dovetails.picture import scene_dovetail

        return {"joint": scene_dovetail(self.choice, units=self.voice.units)}

    @property
    def patterns(self) -> tuple[Pattern, ...]:
        """Both boards' lines."""
        tails, pins = zip(*self.joint.ends, strict=True)
        check = f"Only to check: mark the {'sockets' if self.joint.sizes.lap else 'pins'} from the tails."
        return (
            Pattern("joint", 0, self.joint.tail_board.name, turned(tails)),
            Pattern("joint", 1, self.joint.pin_board.name, (check, *turned(pins))),
        )

    def joint_words(self) -> list[Block]:
        """Boards, tails, slope, clearance."""
        return dovetail_words(self.choice, self.voice, files=False)

    def bench_words(self, number: int) -> list[Block]:
        """All of the work, and every line's place."""
        return [*dovetail_by_hand(self.joint, self.voice, number), *layout_words(self.choice, self.voice)]

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Nothing is cut by files, so nothing is measured."""
        return Outcome()


def dovetail_by_hand(joint: Dovetail, voice: Voice, number: int) -> list[Block]:
    """The work at the bench in numbered headings, from `number` on."""
    tails, pins, sizes = joint.tail_board.name, joint.pin_board.name, joint.sizes
    says = voice.rule
    ready = [
        "Shoot the ends square, and mark on both boards the outside face and the lower edge: they meet flush.",
        f"With a gauge set to {says(joint.layout.length)}, {_how_long(joint)}, scribe the baseline on {tails}, on "
        "both faces and both edges of the end.",
        f"With one set to {says(sizes.pin_length)} scribe it on "
        + (f"the inside face alone of the end of {pins}" if sizes.lap else f"both faces of the end of {pins}")
        + (": what the rabbet leaves of the tail board." if sizes.rabbet else f", the thickness of {tails}."),
    ]
    if sizes.rabbet:
        ready.append(
            f"Cut the rabbet on the inside face of {tails}, from the end to the baseline over the whole width, "
            f"{says(sizes.rabbet)} deep: saw across on the waste side of the baseline, toward the end, and plane or "
            "pare down to the depth."
        )
    lines = section(f"{number}. Make the ends ready", ready)
    number += 1
    if not joint.measured:
        lines += section(
            f"{number}. Lay out and cut the tails on {tails}",
            [
                "Mark where the tails are on the outside face, by the layout below: prick its places on the end grain, "
                "square them across, and draw the slopes with the bevel down to the baseline. Hatch the waste: it lies "
                "between the tails.",
                "Saw on the waste side of every line, square across the end and along the slope, down to the baseline "
                "and no further; leave the line.",
                "Saw out the half pins' waste at both edges along the baseline, and the waste between the tails close "
                "above it; chop to the baseline from both faces toward the middle.",
                "Pare the flanks square to the face: pins are marked from them.",
            ],
        )
        number += 1
    if sizes.lap:
        lines += section(
            f"{number}. Mark the sockets from the tails, and cut them in {pins}", _half_blind(joint, voice)
        )
        return [*lines, *_ending(joint, voice, number + 1)]
    lines += section(
        f"{number}. Mark the pins from the tails, and cut them on {pins}",
        [
            *_pose(joint, "outside"),
            "Square the lines down to the baseline on both faces; the layout below says where they should be. Hatch "
            "the waste: it is where the tails were.",
            "Saw on the waste side of every line, so that the knife's line stays on the pin, down to the baseline; "
            "saw out the waste close above it, and chop to the baseline from both faces.",
        ],
    )
    return [*lines, *_ending(joint, voice, number + 1)]


def _how_long(joint: Dovetail) -> str:
    """Where the length of the tails comes from."""
    pins = joint.pin_board.name
    return f"the thickness of {pins} less the lap" if joint.sizes.lap else f"the thickness of {pins}"


def _half_blind(joint: Dovetail, voice: Voice) -> list[str]:
    """Sockets that do not come through: marked, sawn aslant, chopped."""
    pins, says = joint.pin_board.name, voice.rule
    return [
        f"With the gauge still set to {says(joint.layout.length)}, scribe a line on the end grain of {pins} from its "
        f"inside face: {says(joint.sizes.lap)} of lap stay beyond it.",
        *_pose(joint, "inside"),
        "Square the lines down to the baseline on the inside face; the layout below says where they should be. Hatch "
        "the waste: it is where the tails were.",
        "Saw aslant on the waste side of every line, from the lap line on the end grain to the baseline on the inside "
        "face, and no further into either.",
        "Chop the sockets in turns from the inside face and from the end, and pare the corners that no saw reaches "
        "to the lines; keep the lap whole.",
    ]


def _pose(joint: Dovetail, toward: Literal["outside", "inside"]) -> list[str]:
    """How both boards are held while the tails are scribed on the end of the pin board, in the order of doing it.

    toward: which face of the pin board the person looks at. The tail board lies on the end as in the finished corner:
    over the inside face of the pin board, its own inside face down.
    """
    tails, pins = joint.tail_board.name, joint.pin_board.name
    inside = toward == "inside"
    if len(joint.ends) > 1:
        up, hand = "the end that is marked up", ""
    else:
        ((_, end),) = joint.ends
        # Seen from its outside face, lower edge down, a left end is at the left: turned up, the lower edge is at the
        # left too; from the inside face it is at the right.
        left = (end == "left") != inside
        up, hand = f"its {end} end up", f"; its lower edge is then at your {'left' if left else 'right'} hand"
    lies = "toward you" if inside else "away from you"
    meets = (
        "the ends of the tails are on the lap's line"
        if inside
        else "the baseline of the tails is on the inside edge of the end"
    )
    shoulder = ", the rabbet's shoulder against the inside face" if joint.sizes.rabbet else ""
    return [
        f"Stand {pins} upright in the vise, {up}, its {toward} face toward you{hand}. Set a block "
        f"{'before' if inside else 'behind'} it, level with its end.",
        f"Lay {tails} flat on that end and on the block, its inside face down and its outside face up, the tails over "
        f"the end and the rest of the board {lies}, its lower edge at the same hand as that of {pins}.",
        f"Shift it until the lower edges are flush, by a straight-edge held against both, and {meets}{shoulder}. Press "
        "it down, and scribe along both sides of every tail with a knife.",
    ]


def _ending(joint: Dovetail, voice: Voice, number: int) -> list[Block]:
    """The other corners, which come before the glue, and the glue."""
    lines: list[Block] = []
    if len(joint.ends) > 1:
        lines += section(f"{number}. The other corners", [OTHERS])
        number += 1
    return [*lines, *section(f"{number}. Fit and glue", _fit_words(joint, voice))]


def _fit_words(joint: Dovetail, voice: Voice) -> list[str]:
    sizes = joint.sizes
    return [
        "Try the joint once, half way: pare the pins, never the tails, where they bind"
        + (
            f"; {voice.drawn(sizes.clearance)} of room at each flank is meant, a thin shaving."
            if sizes.clearance
            else "."
        ),
        "Glue the flanks, drive the joint home with a block, check it for square, and plane it flush.",
    ]
