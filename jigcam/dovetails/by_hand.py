"""A dovetailed corner by hand: tails sawn first, pins marked from them, every line with its place from the edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.dovetails.choice import DovetailChoice
from jigcam.dovetails.words import dovetail_words, layout_words
from jigcam.making.blocks import section
from jigcam.making.plan import Outcome, Plan

if TYPE_CHECKING:
    from jigcam.dovetails.joint import Dovetail
    from jigcam.drawing import Drawing
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice


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
        number += 1
        lines += section(f"{number}. Fit and glue", _fit_words(joint, voice))
        return [*lines, *_other_corner(joint, number)]
    lines += section(
        f"{number}. Mark the pins from the tails, and cut them on {pins}",
        [
            f"Hold {pins} upright, its outside face toward you, and lay {tails} on its end as they will go together: "
            "lower edges flush, the baseline on the inside edge of the end"
            + (", the rabbet's shoulder against the inside face" if sizes.rabbet else "")
            + ". Scribe along both sides of every tail with a knife.",
            "Square the lines down to the baseline on both faces; the layout below says where they should be. Hatch "
            "the waste: it is where the tails were.",
            "Saw on the waste side of every line, so that the knife's line stays on the pin, down to the baseline; "
            "saw out the waste close above it, and chop to the baseline from both faces.",
        ],
    )
    lines += section(f"{number + 1}. Fit and glue", _fit_words(joint, voice))
    return [*lines, *_other_corner(joint, number + 1)]


def _how_long(joint: Dovetail) -> str:
    """Where the length of the tails comes from."""
    pins = joint.pin_board.name
    return f"the thickness of {pins} less the lap" if joint.sizes.lap else f"the thickness of {pins}"


def _half_blind(joint: Dovetail, voice: Voice) -> list[str]:
    """Sockets that do not come through: marked, sawn aslant, chopped."""
    tails, pins, says = joint.tail_board.name, joint.pin_board.name, voice.rule
    return [
        f"With the gauge still set to {says(joint.layout.length)}, scribe a line on the end grain of {pins} from its "
        f"inside face: {says(joint.sizes.lap)} of lap stay beyond it.",
        f"Hold {pins} upright, its inside face toward you, and lay {tails} on its end, the ends of the tails on that "
        "line, lower edges flush. Scribe along both sides of every tail with a knife.",
        "Square the lines down to the baseline on the inside face; the layout below says where they should be. Hatch "
        "the waste: it is where the tails were.",
        "Saw aslant on the waste side of every line, from the lap line on the end grain to the baseline on the inside "
        "face, and no further into either.",
        "Chop the sockets in turns from the inside face and from the end, and pare the corners that no saw reaches "
        "to the lines; keep the lap whole.",
    ]


def _other_corner(joint: Dovetail, number: int) -> list[Block]:
    if len(joint.ends) < 2:
        return []
    return section(f"{number + 1}. The other corner", ["The same again, from the lower edge with the same figures."])


def _fit_words(joint: Dovetail, voice: Voice) -> list[str]:
    sizes = joint.sizes
    return [
        "Try the joint once, half way: pare the pins, never the tails, where they bind"
        + (
            f"; {voice.exact(sizes.clearance)} of room at each flank is meant, a thin shaving."
            if sizes.clearance
            else "."
        ),
        "Glue the flanks, drive the joint home with a block, check it for square, and plane it flush.",
    ]
