"""What a job file says of a sliding dovetail: a dovetailed socket in a face, and the tail on another board's end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from jigcam.document.fields import Flag, Position, Size, Slope, a_clearance, a_length, a_list, an_angle
from jigcam.document.positions import Key
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.board import Face
from jigcam.job.entry import BoardName, Entry

End = Literal["stopped", "open"]
TailWay = Literal["upright", "router-table", "hand"]


class SlidingDovetailEntry(Entry):
    """A sliding dovetail in the frame of `face`. mm, radians.

    socket: the board that it is cut in. face: of that board. start_point (`from` in files): its extreme start, on its
    centreline. angle: of its direction, anticlockwise from +x. length: overall, from extreme end to extreme end at the
    bottom. start, finish: an open end runs off the board; one of them has to be, for bit and tail to come in. depth:
    below the face. base: width at the bottom, at the end where the tail comes in. tail: the board that slides in.
    tail_end: the end of it that is shaped. angle_of_flank: from the upright; left out: as the bit has it. slope: the
    same as 1:n. taper: how much narrower the far end is than the one where the tail comes in, all on the left of the
    way from start to finish. preclear: a straight bit goes first. tail_way: how the tail is cut. clearance: between the
    flanks of socket and tail, square to each; it is taken from the tail.
    """

    CALLED: ClassVar[Mapping[str, str]] = {
        "tails": "tail",
        "tails_end": "tail_end",
        "board": "socket",
        "receives": "tail",
        "width": "base",
    }

    BY_BIT: ClassVar[frozenset[str]] = frozenset({"slope", "angle_of_flank"})

    kind: Literal["sliding-dovetail"] = "sliding-dovetail"
    way: Literal["template", "direct", "hand"] = "direct"
    clearance: Annotated[float, a_clearance(2.0)] = 0.05
    socket: BoardName
    face: Face
    start_point: Annotated[tuple[Position, Position], a_list(2, "two lengths, [x, y]")] = Field(alias="from")
    angle: Annotated[float, an_angle("a direction", -360.0, 360.0)]
    length: Size
    start: End = "open"
    finish: End = "open"
    depth: Size
    base: Size
    tail: BoardName
    tail_end: Literal["left", "right"]
    angle_of_flank: Annotated[float, an_angle("the angle of a flank", 1.0, 30.0)] | None = None
    slope: Slope | None = None
    taper: Annotated[float, a_length("a taper", 0.0, 20.0)] = 0.0
    preclear: Flag = True
    tail_way: TailWay = "upright"

    @property
    def flank(self) -> float | None:
        """Angle of the flanks from the upright, rad; None where the bit decides."""
        return self.slope if self.angle_of_flank is None else self.angle_of_flank

    @model_validator(mode="after")
    def _can_be_read_one_way(self) -> Self:
        if faults := list(self._faults()):
            raise Misfit(*faults)
        return self

    def _faults(self) -> Iterator[tuple[Key, InputError]]:
        if self.start == self.finish == "stopped":
            what = "a sliding dovetail that is stopped at both ends can neither be cut nor put together"
            mend = 'write start = "open" or finish = "open": there the bit comes in, and then the tail'
            yield ("finish",), InputError(what, found='"stopped" twice', wanted="one open end", mend=mend)
        if self.angle_of_flank is not None and self.slope is not None:
            what = "the lean of the flanks is given twice"
            yield ("slope",), InputError(what, found="angle_of_flank and slope", wanted="one of them")
        if self.tail == self.socket:
            what = "a board does not slide into itself"
            yield ("tail",), InputError(what, found=repr(self.tail), wanted="another board than the one of the socket")
        if self.way == "hand" and self.tail_way == "router-table":
            what = "where the socket is cut by hand, so is the tail"
            mend = 'leave tail_way out, or write way = "direct" for a socket with flanks as a bit has them'
            yield ("tail_way",), InputError(what, found='"router-table"', wanted='"hand"', mend=mend)
        if self.bushing is not None and self.way != "template":
            what = "only by a template is a sliding dovetail cut with a guide bushing"
            yield ("bushing",), InputError(what, found=repr(self.bushing), wanted="no bushing", mend="leave it out")
