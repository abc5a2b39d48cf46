"""The entry of a groove: stopped or open, square or sloping; also a dado or a housing."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, ValidationInfo, model_validator

from jigcam.document.fields import LARGEST, Flag, Position, Size, a_list, an_angle, said_length
from jigcam.document.plausible import no_slip_of_units
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.entry import BoardName, Entry
from jigcam.job.repeat import Repeat

End = Literal["stopped", "open"]
Part = Literal["left", "right", "lower", "upper"]


class GrooveEntry(Entry):
    """A groove in the frame of `face`. mm, radians.

    board: that it is cut in. start_point (`from` in files): its extreme start, on its centreline. angle: of its
    direction, anticlockwise from +x. length: overall, from extreme end to extreme end. depth: below the face. receives:
    the board whose thickness, plus `clearance`, is its width. enters: the end or edge of that board that goes in; left
    out: an end, or an edge where its length fits the groove. width: instead of receives, the final width, clearance
    included. clearance: in all, across the groove. start, finish: an open end runs off the board. ends: round ones seat
    a rounded edge, square ones are left for the chisel. opposite_hand: cut it in the mirrored board too. floats: what
    it receives is not glued, as a panel that has to move. face: of "both" the frame is that of the outside, and the
    same groove lies behind it in the inside, as housings in a divider do. repeat: the same again.
    """

    SHARES: ClassVar[bool] = True

    kind: Literal["groove"] = "groove"
    board: BoardName
    face: Literal["outside", "inside", "both"]
    start_point: Annotated[tuple[Position, Position], a_list(2, "two lengths, [x, y]")] = Field(alias="from")
    angle: Annotated[float, an_angle("a direction", -360.0, 360.0)]
    length: Size
    depth: Annotated[Size, no_slip_of_units("a depth", most_in=6.5, least_mm=1, largest=LARGEST)]
    receives: BoardName | None = None
    width: Size | None = None
    enters: Part | None = None
    start: End = "stopped"
    finish: End = "stopped"
    ends: Literal["round", "square"] = "round"
    opposite_hand: Flag = False
    floats: Flag = False
    repeat: Repeat | None = None

    @model_validator(mode="after")
    def _has_a_width(self, info: ValidationInfo) -> Self:
        if self.receives is None and self.width is None:
            raise Misfit(
                (
                    (),
                    InputError(
                        "the groove has no width",
                        found="neither receives nor width",
                        wanted="receives, the board that it takes, or width",
                    ),
                )
            )
        if self.width is not None and self.clearance >= self.width:
            raise Misfit(
                (
                    ("clearance",),
                    InputError(
                        "the clearance is as wide as the groove",
                        found=said_length(self.clearance, info),
                        wanted=f"less than the width of {said_length(self.width, info)}",
                    ),
                )
            )
        return self
