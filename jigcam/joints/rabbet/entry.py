"""What a job file says of a rabbet."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from jigcam.document.fields import LARGEST, Size, a_clearance, a_length
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.board import Face
from jigcam.job.entry import BoardName, Entry


class RabbetEntry(Entry):
    """A rabbet in the frame of `face`, mm.

    board, face: that it is cut in. along: the end or edge that it follows, as the board names it. width: inward from
    there. depth: below the face. start (`from` in files): where it begins, from the lower or the left corner as seen;
    left out: at the corner. length: from there; left out: to the other corner. receives: the board that lies in it,
    as a back; without width, the rabbet is as wide as that board is thick, and `clearance` more. enters: the end or
    edge of it that lies on the cheek; left out: an end, or an edge where its length fits the rabbet better.
    clearance: how far that board stays below the edge.
    """

    ASKS_ENTERS: ClassVar[bool] = True
    WAYS: ClassVar[tuple[str, ...]] = ("direct", "hand")

    kind: Literal["rabbet"] = "rabbet"
    way: Literal["template", "direct", "hand"] = "direct"
    board: BoardName
    face: Face
    along: Literal["left", "right", "lower", "upper"]
    width: Size | None = None
    depth: Size
    start: Annotated[float, a_length("a place", 0.0, LARGEST)] | None = Field(default=None, alias="from")
    length: Size | None = None
    receives: BoardName | None = None
    enters: Literal["left", "right", "lower", "upper"] | None = None
    clearance: Annotated[float, a_clearance(10.0)] = 0.0

    @model_validator(mode="after")
    def _has_a_width(self) -> Self:
        if self.receives is None and self.width is None:
            raise Misfit(
                (
                    (),
                    InputError(
                        "the rabbet has no width",
                        found="neither receives nor width",
                        wanted="receives, the board that lies in it, or width",
                    ),
                )
            )
        if self.enters is not None and self.receives is None:
            raise Misfit(
                (
                    ("enters",),
                    InputError(
                        "a rabbet that names no board cannot say which end of it enters",
                        found=f'enters = "{self.enters}"',
                        wanted="receives, the board that lies in it, as well",
                        mend="name the board, or leave enters out",
                    ),
                )
            )
        return self

    @model_validator(mode="after")
    def _is_cut_without_a_template(self) -> Self:
        told = {"way": '"template"' if self.way == "template" else None, "bushing": self.bushing and repr(self.bushing)}
        what = "a rabbet is cut on the machine or by hand, without template or bushing"
        mend = 'way = "direct" works, and way = "hand"; or leave the key out'
        faults = [
            (
                (key,),
                InputError(what, found=found, wanted='"direct" or "hand"' if key == "way" else "no bushing", mend=mend),
            )
            for key, found in told.items()
            if found
        ]
        if faults:
            raise Misfit(*faults)
        return self
