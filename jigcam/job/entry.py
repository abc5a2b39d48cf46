"""What the entries of all kinds of joint have in common."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from jigcam.document.fields import Name, a_clearance, a_known
from jigcam.document.model import Model

BoardName = Annotated[str, a_known("board", "boards")]
"""The name of one of the job's boards."""


class Entry(Model):
    """One of the job's joints, as asked for. Kinds add their own keys.

    name: of the joint, and of its folder. kind: of joint. way: by a template for the hand-held router, cut directly on
    the CNC, or by hand, without files. clearance: the room that the mate has. bit, bushing: names in the kit; left out:
    jigcam chooses and says why. template: the name of a sheet that has the openings of all joints of one board's face
    that name it; left out: a sheet of its own.

    TOOLS are the keys that name a tool of the kit; SHARES says whether joints of the kind can share a sheet;
    ASKS_ENTERS whether the end or edge of the board that it receives has to be said where that board's sizes are to
    fit.
    """

    TOOLS: ClassVar[dict[str, Literal["bit", "bushing"]]] = {"bit": "bit", "bushing": "bushing"}
    SHARES: ClassVar[bool] = False
    ASKS_ENTERS: ClassVar[bool] = False

    name: Name
    kind: str
    way: Literal["template", "direct", "hand"] = "template"
    clearance: Annotated[float, a_clearance(10.0)] = 0.1
    bit: Name | None = None
    bushing: Name | None = None
    template: Name | None = None
