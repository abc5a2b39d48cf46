"""Bow-tie keys by hand: the key is sawn first, and its recess is cut to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import atan2, degrees
from typing import TYPE_CHECKING

from jigcam.joints.key.words import key_rows
from jigcam.making.blocks import section, table
from jigcam.making.plan import Outcome, Plan
from jigcam.template.inlay import PROUD
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.joints.key.key import Key
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

INSIDE = 1.5
"""mm that boring or routing freehand stays inside the knife's line (common practice, no source)."""


@dataclass(frozen=True)
class HandKeys(Plan):
    """Keys made and let in by hand."""

    key: Key

    def drawings(self) -> Mapping[str, Drawing]:
        """The keys on their board, and one by itself."""
        from jigcam.joints.key.picture import scene_key_by_hand

        return {"keys": scene_key_by_hand(self.key, self.voice)}

    def joint_words(self) -> list[Block]:
        """The keys as drawn."""
        return table("The keys", key_rows(self.key, self.voice))

    def bench_words(self, number: int) -> list[Block]:
        """All of the work."""
        return keys_by_hand(self.key, self.voice, number)

    @property
    def routed(self) -> bool:
        """The waste of a recess may be routed."""
        return self.kit.router is not None

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Nothing is cut by files, so nothing is measured."""
        return Outcome()


def keys_by_hand(key: Key, voice: Voice, number: int) -> list[Block]:
    """The work at the bench in numbered headings, from `number` on."""
    says = voice.rule
    several = len(key.centres) > 1
    left = sides(key.face)[0]
    flank = degrees(atan2((key.ends - key.waist) / 2.0, key.length / 2.0))
    make = [
        f"Plane stock {voice.at_least(key.depth + PROUD)} thick or more, {says(key.ends)} wide, with its grain along "
        f"it, and cut {'each key' if several else 'the key'} {says(key.length)} long, square.",
        f"Draw a line square across the middle, {says(key.length / 2.0)} from each end, and mark the waist on it, "
        f"{says((key.ends - key.waist) / 2.0)} from each edge.",
        f"Join the waist to the four corners with a knife: a bevel set to {flank:.4g}° from the grain.",
        "Saw on the waste side of these lines, outside the key, with the line left standing, and pare to them with a "
        "chisel from the ends toward the waist, square to the face."
        + (" Number the keys: each gets a recess of its own." if several else ""),
    ]
    mark = [
        f"Lay the board before you, its {key.face} face up, the lower edge toward you: the {left} is then at your left "
        "hand, and the figures above are from it and from the lower edge.",
        "Lay the key with its waist on the crack and its middle on its mark, fix it with tape that sticks on both "
        "sides, and scribe round it with a knife; then take it off and deepen the lines.",
        f"Set the marking gauge or router plane to {says(key.depth)}, the depth of the recess.",
    ]
    cut = [
        f"Bore or rout out the waste inside the lines, {voice.at_least(INSIDE)} off them and a little short of the "
        "depth.",
        "Chop to the knife's lines with a chisel, square to the face, ends first, then the flanks from the corners "
        f"toward the waist; level the bottom with a router plane set to {says(key.depth)}.",
        "Try the key: it goes in with taps, without a gap; take from the recess where it binds, never from the key's "
        "corners.",
        "Glue it in, its grain across the crack, and when the glue is dry plane it flush with the board.",
    ]
    return [
        *section(f"{number}. Make the key{'s' if several else ''}", make),
        *section(f"{number + 1}. Mark the recess{'es' if several else ''} from {'them' if several else 'it'}", mark),
        *section(f"{number + 2}. Cut the recess{'es' if several else ''} and let in the key{'s' * several}", cut),
    ]
