"""What the entries of all kinds of joint have in common."""

from __future__ import annotations

from typing import Annotated, ClassVar, Final, Literal

from pydantic import field_validator

from jigcam.document.fields import Name, a_clearance, a_known
from jigcam.document.model import Model
from jigcam.errors import InputError, nearest
from jigcam.units.parse import shown

BoardName = Annotated[str, a_known("board", "boards")]
"""The name of one of the job's boards."""

MEANT: Final = {
    "template": ("router", "hand router", "hand held router", "handheld router", "bushing", "jig"),
    "direct": ("cnc", "machine", "mill", "gcode", "g code"),
    "hand": ("by hand", "saw", "chisel", "manual", "hand tools"),
}
"""What people write for a way."""


class Entry(Model):
    """One of the job's joints, as asked for. Kinds add their own keys.

    name: of the joint, and of its folder. kind: of joint. way: by a template for the hand-held router, cut directly on
    the CNC, or by hand, without files. clearance: the room that the mate has. bit, bushing: names in the kit; left out:
    jigcam chooses and says why. template: the name of a sheet that has the openings of all joints of one board's face
    that name it; left out: a sheet of its own.

    TOOLS are the keys that name a tool of the kit; SHARES says whether joints of the kind can share a sheet;
    ASKS_ENTERS whether the end or edge of the board that it receives has to be said where that board's sizes are to
    fit. WAYS are those in which the kind is made. BY_BIT are keys that follow
    from the bit where they are left out.
    """

    TOOLS: ClassVar[dict[str, Literal["bit", "bushing"]]] = {"bit": "bit", "bushing": "bushing"}
    SHARES: ClassVar[bool] = False
    ASKS_ENTERS: ClassVar[bool] = False
    BY_BIT: ClassVar[frozenset[str]] = frozenset()
    WAYS: ClassVar[tuple[str, ...]] = ("template", "direct", "hand")

    name: Name
    kind: str
    way: Literal["template", "direct", "hand"] = "template"
    clearance: Annotated[float, a_clearance(10.0)] = 0.1
    bit: Name | None = None
    bushing: Name | None = None
    template: Name | None = None

    @field_validator("way", mode="before")
    @classmethod
    def _is_a_way(cls, value: object) -> object:
        """Answers a way that there is not with those of the kind, and with the one that was meant."""
        if not isinstance(value, str) or value in ("template", "direct", "hand"):
            return value
        slip = value.lower().replace("-", " ")
        meant = next((way for way, words in MEANT.items() if slip in words), "") or nearest(slip, cls.WAYS)
        if meant == "template" and "template" not in cls.WAYS:
            mend = "it is not cut by the hand-held router: no template serves it"
        elif meant == "template" and slip in MEANT["template"]:
            mend = 'the hand-held router works in a template: way = "template"'
        else:
            mend = f'did you mean "{meant}"?' if meant else ""
        wanted = "one of " + ", ".join(f'"{way}"' for way in cls.WAYS)
        raise InputError(f"way cannot be {shown(value)}", found=shown(value), wanted=wanted, mend=mend)
