"""The entry of bow-tie keys: let in across a crack to keep it from opening, recess and key from one opening."""

from __future__ import annotations

from math import pi
from typing import Annotated, ClassVar, Literal, Self

from pydantic import ValidationInfo, model_validator

from jigcam.document.fields import Name, Position, Size, a_clearance, a_list, a_whole_number, an_angle, said_length
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.board import Face
from jigcam.job.entry import BoardName, Entry


class KeyEntry(Entry):
    """Bow-tie keys in the frame of `face`, alike, at even steps along a crack. mm, radians.

    board, face: that is cracked. at: middle of the first key, on the crack. angle: of the key's length and grain, which
    cross the crack, anticlockwise from +x; further keys lie to the right of that direction, along the crack. length: of
    a key. ends: its width at its ends. waist: its width in its middle. depth: of the recess. count: how many. spacing:
    from middle to middle. bit: for recess and key. bushing: for the recess, the larger one. plug: the bushing for the
    key. clearance: in all, between key and recess; a kit's bushings decide it, and the nearest are taken.
    """

    TOOLS: ClassVar[dict[str, Literal["bit", "bushing"]]] = {**Entry.TOOLS, "plug": "bushing"}

    kind: Literal["key"] = "key"
    board: BoardName
    face: Face
    at: Annotated[tuple[Position, Position], a_list(2, "two lengths, [x, y]")]
    angle: Annotated[float, an_angle("a direction", -360.0, 360.0)] = pi / 2.0
    length: Size
    ends: Size
    waist: Size
    depth: Size
    count: Annotated[int, a_whole_number("a number of keys", 1, 50)] = 1
    spacing: Size | None = None
    clearance: Annotated[float, a_clearance(1.0)] = 0.0
    plug: Name | None = None

    @model_validator(mode="after")
    def _is_a_bow_tie(self, info: ValidationInfo) -> Self:
        if self.waist >= self.ends:
            raise Misfit(
                (
                    ("waist",),
                    InputError(
                        "the waist is not narrower than the ends",
                        found=said_length(self.waist, info),
                        wanted=f"less than the ends, {said_length(self.ends, info)}",
                    ),
                )
            )
        if self.count > 1 and self.spacing is None:
            raise Misfit(
                (
                    ("spacing",),
                    InputError("several keys need a spacing", found="nothing", wanted="a length from middle to middle"),
                )
            )
        if self.way == "direct":
            raise Misfit(
                (
                    ("way",),
                    InputError(
                        "a key and its recess are cut with two bushings in one opening",
                        found='"direct"',
                        wanted='way = "template", or no way',
                        mend="leave way out",
                    ),
                )
            )
        return self
