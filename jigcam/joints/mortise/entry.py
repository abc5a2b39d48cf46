"""The entry of a mortise: one or a row of them, in a face or an end of a board, and the row of the other board."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import ValidationInfo, model_validator

from jigcam.document.fields import Position, Size, a_list, an_angle, said_length
from jigcam.document.model import Model
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.board import Face
from jigcam.job.entry import BoardName, Entry
from jigcam.job.repeat import Repeat
from jigcam.wood.taken import End

Place = Annotated[tuple[Position, Position], a_list(2, "two lengths, [x, y]")]
Direction = Annotated[float, an_angle("a direction", -360.0, 360.0)]


def _one_side(face: object, end: object) -> None:
    """Raises Misfit unless just one of both is named."""
    if (face is None) == (end is None):
        fault = InputError(
            "a mortise lies in one face or in one end",
            found="neither face nor end" if face is None else "face and end",
            wanted='face = "outside" or "inside", or end = "left" or "right"',
        )
        raise Misfit(((), fault))


class MateEntry(Model):
    """Where the mortises of the other board lie, which take the other half of the tenons. mm, radians.

    board: the other one. face, end: that they lie in. at: the centre of the one that belongs to the first. angle: of
    their length, anticlockwise from +x. In a row the next one lies as it lies in the
    first board, seen from the other side: angle + 180° turns the row about. depth: left out: as in the first board.
    """

    board: BoardName
    face: Face | None = None
    end: End | None = None
    at: Place
    angle: Direction = 0.0
    depth: Size | None = None

    @model_validator(mode="after")
    def _lies_somewhere(self) -> Self:
        _one_side(self.face, self.end)
        return self


class MortiseEntry(Entry):
    """Mortises for loose tenons. mm, radians.

    In a `face` they lie in its frame; in an `end` x is the distance from the board's lower edge and y the depth from
    its outside face. board: that they are cut in. face, end: the one that they lie in. at: the centre of the first.
    angle: of its length, anticlockwise from +x. length: overall, round ends included. width: across, final. depth:
    below the face or end. clearance: play of the tenon in all, across and along. repeat: a row of them. mate: the other
    board.
    """

    SHARES: ClassVar[bool] = True

    kind: Literal["mortise"] = "mortise"
    board: BoardName
    face: Face | None = None
    end: End | None = None
    at: Place
    angle: Direction = 0.0
    length: Size
    width: Size
    depth: Size
    repeat: Repeat | None = None
    mate: MateEntry | None = None

    @model_validator(mode="after")
    def _is_one(self, info: ValidationInfo) -> Self:
        _one_side(self.face, self.end)
        faults: list[tuple[tuple[Any, ...], InputError]] = []
        if self.length <= self.width:
            faults.append(
                (
                    ("length",),
                    InputError(
                        "a mortise with round ends is longer than wide",
                        found=said_length(self.length, info),
                        wanted=f"more than the width of {said_length(self.width, info)}",
                    ),
                )
            )
        if self.clearance >= self.width / 2.0:
            faults.append(
                (
                    ("clearance",),
                    InputError(
                        "the clearance leaves little of the tenon",
                        found=said_length(self.clearance, info),
                        wanted=f"less than half of the width of {said_length(self.width, info)}",
                    ),
                )
            )
        if faults:
            raise Misfit(*faults)
        return self
