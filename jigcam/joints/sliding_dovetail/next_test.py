"""What to set for the next test piece of a sliding dovetail, in words and numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigcam.errors import InputError
from jigcam.joints.sliding_dovetail.by_template import choose_tools
from jigcam.joints.sliding_dovetail.choice import choose_bits
from jigcam.joints.sliding_dovetail.table_words import fit_lines, tail_on_table
from jigcam.joints.sliding_dovetail.trial import NextTrial, clearance_of, play_by_depth, play_by_fence, play_of
from jigcam.making.gcode_file import tidy

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.joints.sliding_dovetail.router_table import TableTail
    from jigcam.kit import Kit
    from jigcam.units import Voice

FITS = 0.02
"""Play that is this near to what is asked for is left alone, mm: no fence is set finer by hand (from memory)."""


@dataclass(frozen=True, slots=True)
class TableTest:
    """What a router table is to be set to. tail: as its setup sheet has it."""

    joint: str
    trial: NextTrial
    tail: TableTail
    voice: Voice

    def out_of_fence(self, faces: int) -> float:
        """How far the bit is to stand out for the shoulder, mm, where it stood as the setup sheet says."""
        return self.tail.cuts[0].last + self.trial.further(faces)

    def lines(self) -> list[str]:
        """The verdict, then what to set: for both faces, for one, and by the bit's height."""
        says, trial = self.voice.exact, self.trial
        lines = [_verdict(self.joint, trial, self.voice)]
        if abs(trial.excess) < FITS:
            return [*lines, "It fits: leave bit and fence as they are, and cut the tails."]
        loose = trial.excess > 0.0
        way = "over the bit, toward you" if loose else "back, away from you"
        both, one = (
            f"{says(abs(trial.further(faces)))} {way}: the bit then stands {says(self.out_of_fence(faces))} out of it, "
            f"where it stood {says(self.tail.cuts[0].last)} as the setup sheet says"
            for faces in (2, 1)
        )
        piece = "Take a new test piece." if loose else "The same test piece can be run again."
        lines += [
            f"To cut both faces: move the fence {both}. {piece}",
            f"To cut one face so and leave the other at its setting: move it {one}. The tail then comes to lie "
            f"{says(abs(trial.excess) / 2.0)} off the middle of its board.",
            "Before you loosen the fence, clamp a block where it is to go, a feeler of that size between them; a fence "
            "that turns about one end moves at the bit by less than at its free end, in proportion to the distances.",
        ]
        if self.deeper_works:
            shallow = "deeper" if loose else "less deep"
            lines.append(
                f"Or by the bit, where the sockets are still to be cut: {says(abs(trial.deeper))} {shallow}, the tail "
                "by as much longer or shorter, and the fence left alone."
            )
        return [*lines, *fit_lines(trial.angle, self.voice)]

    @property
    def deeper_works(self) -> bool:
        """Whether the depth can make up for it: by a quarter of it at the most, or the joint is another one."""
        return abs(self.trial.deeper) <= self.tail.bit.height / 4.0

    def as_dict(self) -> dict[str, Any]:
        """Lengths in mm; fence: how much further the bit is to stand out of it."""
        trial = self.trial
        return {
            **_as_dict(self.joint, trial),
            "fits": abs(trial.excess) < FITS,
            "fence_both_faces_mm": tidy(trial.further(2)),
            "fence_one_face_mm": tidy(trial.further(1)),
            "out_of_fence_mm": {
                "sheet": tidy(self.tail.cuts[0].last),
                "both_faces": tidy(self.out_of_fence(2)),
                "one_face": tidy(self.out_of_fence(1)),
            },
            "socket_deeper_mm": tidy(trial.deeper) if self.deeper_works else None,
            "play_per_mm_of_fence": {"both_faces": play_by_fence(1.0, 2), "one_face": play_by_fence(1.0, 1)},
            "play_per_mm_of_depth": tidy(play_by_depth(1.0, trial.angle)),
        }


@dataclass(frozen=True, slots=True)
class MachineTest:
    """What the job is to say, where the machine cuts the tail. clearance: as it is now, square to each flank, mm."""

    joint: str
    trial: NextTrial
    clearance: float
    voice: Voice

    @property
    def next_clearance(self) -> float:
        """What it is to say for the next test piece, mm."""
        return self.clearance - clearance_of(self.trial.excess, self.trial.angle)

    def lines(self) -> list[str]:
        """The verdict, then what to write."""
        says = self.voice.exact
        lines = [_verdict(self.joint, self.trial, self.voice)]
        if abs(self.trial.excess) < FITS:
            return [*lines, "It fits: run the files as they are."]
        return [
            *lines,
            f'The machine cuts the whole tail: write clearance = "{says(self.next_clearance)}" in the job, where '
            f"it is {says(self.clearance)}, make the files anew and run those of the tail on a new test piece.",
        ]

    def as_dict(self) -> dict[str, Any]:
        """Lengths in mm; clearance: square to each flank, as the job is to say it."""
        fits = abs(self.trial.excess) < FITS
        return {
            **_as_dict(self.joint, self.trial),
            "fits": fits,
            "clearance_mm": {"now": tidy(self.clearance), "next": tidy(self.next_clearance)},
        }


def next_test(
    joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job, kit: Kit, play: float
) -> TableTest | MachineTest:
    """What to set after a test piece with that play, mm.

    Raises InputError where the tail is cut by hand, or no setting gives what is wanted; `Refused` where the joint
    cannot be cut with the kit.
    """
    if entry.way == "hand" or entry.tail_way == "hand":
        raise InputError(
            "a tail that is cut by hand has nothing to set",
            where=job.where(),
            found=f"{entry.name!r}, its tail sawn and planed",
            wanted='tail_way = "router-table" or "upright"',
            mend="plane the tail until it goes in, a shaving from each flank in turn",
        )
    if entry.way == "template":
        sloped, tools = choose_tools(joint, entry, kit, job.voice)
        bit = kit.bit(tools.socket.bit.name)
    else:
        drawn = choose_bits(joint, entry, kit, job.voice)
        sloped, bit = drawn.joint, drawn.bit
    shape = sloped.shape
    trial = NextTrial(play, play_of(shape.clearance, shape.flank), shape.flank)
    if entry.tail_way == "upright":
        made = MachineTest(entry.name, trial, shape.clearance, job.voice)
        if made.next_clearance < 0.0:
            raise _beyond(
                play,
                job.voice,
                "the socket is wider than drawn, or the bit thicker: measure both, and correct the bit in the kit",
            )
        return made
    tail = tail_on_table(sloped, bit)
    table = TableTest(entry.name, trial, tail, job.voice)
    if table.out_of_fence(1) <= 0.0 or tail.cuts[1].last + table.out_of_fence(1) >= tail.thickness:
        raise _beyond(play, job.voice, "measure again, and compare bit, fence and board with the setup sheet")
    return table


def _beyond(play: float, voice: Voice, mend: str) -> InputError:
    return InputError(
        "no setting makes up for that much", found=voice.exact(play), wanted="the play of one test piece", mend=mend
    )


def _verdict(joint: str, trial: NextTrial, voice: Voice) -> str:
    says = voice.exact
    asked = f"play {says(trial.found)} found, {says(trial.wanted)} asked for, over both flanks"
    if abs(trial.excess) < FITS:
        return f"{joint}: {asked}"
    return f"{joint}: too {'loose' if trial.excess > 0.0 else 'tight'} by {says(abs(trial.excess))} ({asked})"


def _as_dict(joint: str, trial: NextTrial) -> dict[str, Any]:
    return {
        "joint": joint,
        "play_mm": {"found": tidy(trial.found), "asked": tidy(trial.wanted)},
        "too_loose_mm": tidy(trial.excess),
    }
