"""The template for a groove on the setup sheet, and the work at the bench with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.groove.laying import Laying
from jigcam.joints.groove.words import groove_words, last_words
from jigcam.making.blocks import section
from jigcam.making.template_words import sheet_table, strip_words
from jigcam.template.hand import fitting_line, hand_lines
from jigcam.template.turning import laying_line, turning_lines

if TYPE_CHECKING:
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice
    from jigcam.wood import Hand

SAID = frozenset(
    {
        "hand-feed",
        "turn-over",
        "index-line",
        "sights",
        "fence",
        "stop-block",
        "screws",
        "marks-by-hand",
        "round-the-edge",
        "notch",
    }
)
"""Rules whose findings the words of a groove by template have said."""


def template_words(groove: Groove, plan: TemplatePlan, kit: Kit, voice: Voice, number: int) -> list[Block]:
    """The work at the bench with the template, for each hand."""
    row, both = len(groove.row), groove.both_faces
    if row > 1 or both:
        return _laid_again(groove, plan, kit, voice, number)
    lines = [
        *strip_words(number, plan, voice),
        *section(
            f"{number + 1}. Cut the groove with the hand-held router",
            [laying_line(plan, voice), fitting_line(plan), *hand_lines(plan, voice, kit.the_router.base_radius)],
        ),
    ]
    if groove.opposite_hand:
        number += 1
        lines += section(
            f"{number + 1}. The same for the opposite hand, in the mirrored board",
            [*turning_lines(plan, voice), "Then as before, at the same settings."],
        )
    return [*lines, *last_words(groove, kit, voice, number + 2)]


def _laid_again(groove: Groove, plan: TemplatePlan, kit: Kit, voice: Voice, number: int) -> list[Block]:
    """The same where one sheet is laid again and again: along a row, and on the other face."""
    lines = strip_words(number, plan, voice)
    before: Laying | None = None
    hands: tuple[Hand, ...] = ("as drawn", "opposite") if groove.opposite_hand else ("as drawn",)
    for hand in hands:
        for face in groove.faces:
            laying = Laying(groove, plan, face, hand, voice, before)
            which = "the first groove" if laying.count > 1 else "the groove"
            how = ["Then as before."]
            if before is None:
                how = [fitting_line(plan), *hand_lines(plan, voice, kit.the_router.base_radius)]
            number += 1
            title = f"{number}. Cut {which} in {laying.board} with the hand-held router"
            lines += section(title, [*laying.first(), *how])
            if laying.count > 1:
                number += 1
                lines += section(f"{number}. The other grooves in {laying.board}", laying.others())
            before = laying
    return [*lines, *last_words(groove, kit, voice, number + 1)]


def template_joint_words(groove: Groove, plan: TemplatePlan, kit: Kit, voice: Voice) -> list[Block]:
    """The joint, and the template for it."""
    return [*groove_words(groove, kit, voice), *sheet_table(plan, kit, voice)]
