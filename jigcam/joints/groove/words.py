"""A groove's part of the setup sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.groove.rounding import Rounding
from jigcam.joints.groove.rules import notch_places, rounded_part
from jigcam.making.blocks import section, table
from jigcam.making.words import board_words
from jigcam.wood.practice import PRACTICE, SLACK

if TYPE_CHECKING:
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.units import Voice
    from jigcam.wood import Mate


def groove_words(groove: Groove, kit: Kit, voice: Voice, title: str = "The joint") -> list[Block]:
    """The joint itself, and what its mate needs. title: of the table."""
    (x, y), (x1, y1) = groove.centreline.start, groove.centreline.end
    mate = groove.mate
    left = "left" if groove.face == "outside" else "right"
    rows = [
        ("board", board_words(groove.board, groove.face, voice)),
        (
            "seen",
            f"square at the {groove.face} face, lower edge down: the board's {left} end is then on the left",
        ),
        (
            "starts at",
            f"{voice.rule(x)} along the grain from that {left} end, {voice.rule(y)} from the lower edge, on the "
            "centreline",
        ),
        (
            "ends at",
            f"{voice.rule(x1)} along the grain, {voice.rule(y1)} from the lower edge: "
            f"{voice.angle(groove.band.angle)} anticlockwise from the grain",
        ),
        ("length", f"{voice.rule(groove.length)}, from extreme end to extreme end"),
        ("width", voice.rule(groove.width)),
        ("depth", voice.rule(groove.depth)),
    ]
    if groove.others:
        dx, dy = groove.steps[1]
        by = [f"{voice.rule(dx)} along the grain"] if dx else []
        by += [f"{voice.rule(dy)} from the lower edge upward"] if dy else []
        starts = "; ".join(
            f"{number}: {voice.rule(each.band.x)} along, {voice.rule(each.band.y)} up"
            for number, each in enumerate(groove.row, start=1)
        )
        rows.append(("again", f"{len(groove.row)} in all, each {' and '.join(by)} from the one before"))
        rows.append(("starts", starts))
    if groove.both_faces:
        left_between = voice.rule(groove.board.thickness - 2.0 * groove.depth)
        rows.append(
            (
                "behind it",
                f"the same in the {groove.faces[1]} face, at the same places from the same end; {left_between} of "
                "wood stays between",
            )
        )
    if mate.board:
        rows.append(
            (
                "receives",
                f"{mate.board}, {voice.rule(mate.thickness)} thick, with {voice.length(mate.clearance)} of clearance "
                "in all",
            )
        )
        if work := mate_rows(mate, kit, voice):
            done = ", ".join(name for name, _ in work)
            rows.append(("then", f"what is done to it when the groove is cut, at the end of this sheet: {done}"))
    return table(title, rows)


def mate_words(groove: Groove, kit: Kit, voice: Voice) -> tuple[str, list[str]] | None:
    """The last step: what is done to the board that enters, once there is a groove to try it in. Title, sentences."""
    rows = mate_rows(groove.mate, kit, voice, both=groove.opposite_hand)
    if not rows or not groove.mate.board:
        return None
    return f"Make {groove.mate.board} ready to go in", [f"{name.capitalize()}: {says}." for name, says in rows]


def last_words(groove: Groove, kit: Kit, voice: Voice, number: int) -> list[Block]:
    """The same under a heading of that number; nothing where the board goes in as it is."""
    work = mate_words(groove, kit, voice)
    return section(f"{number}. {work[0]}", work[1]) if work else []


def mate_rows(mate: Mate, kit: Kit, voice: Voice, *, both: bool = False) -> list[tuple[str, str]]:
    """What is done to the board that enters, in the order in which it is done. both: it enters the other hand too."""
    rows = []
    part = "end" if mate.by_end else "edge"
    entering = f"each of the two entering {part}s of {mate.board}," if both else f"the entering end of {mate.board}"
    if mate.notch > PRACTICE.extended:
        rows.append(
            (
                "notch",
                f"{voice.rule(mate.notch)} in all from {entering} {notch_places(mate)}, "
                f"{voice.rule(mate.enters)} deep: a tongue of {voice.rule(mate.tongue)} stays",
            )
        )
    elif mate.notch > SLACK:
        rows.append(("plane", f"{mate.board} to {voice.rule(mate.tongue)}, so that it goes between the ends"))
    if mate.edge_radius > 0.0:
        rounding = f"{Rounding.of(mate, kit).words(voice)}; at least as far as it goes in, {voice.rule(mate.enters)}"
        if mate.notch > PRACTICE.extended:
            # A round-over bit is wider than the tongue is long: it meets the shoulder before it has come round.
            more = voice.rule((mate.thickness + mate.clearance) / 2.0)
            rounding = (
                "with chisel and file, as the shoulder keeps a bit out; or leave the tongue square and notch "
                f"{more} more at each round end, which the shoulder covers"
            )
        rows.append(
            (
                "round over",
                f"{rounded_part(mate)}, from both faces at half the thickness, to a radius of "
                f"{voice.rule(mate.edge_radius)}, {rounding}",
            )
        )
    if mate.room > 0.0:
        less = voice.rule(2.0 * voice.ruled_up(mate.room))
        rows.append(
            (
                "room",
                f"cut {mate.board} so wide that {voice.at_least(mate.room)} stays free before the bottom of each of "
                f"its two grooves, {less} narrower than from bottom to bottom; a cut list of the job has it taken off",
            )
        )
    if mate.floats:
        rows.append(("leave unglued", f"{mate.board or 'what it takes'} floats"))
    return rows
