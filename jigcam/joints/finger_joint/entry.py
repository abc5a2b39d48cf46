"""What a job file says of a finger joint: two boards, the ends that meet, and how wide the fingers are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, Literal, Self

from pydantic import model_validator

from jigcam.document.fields import Size, a_clearance, a_whole_number
from jigcam.document.positions import Key
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.job.entry import BoardName, Entry

Ends = Literal["left", "right", "both"]
Part = Literal["a", "b"]


class FingerJointEntry(Entry):
    """A finger joint. mm.

    a, b: the boards; a_end, b_end: the ends that meet, "both" where a board is alike at its two ends, so that one entry
    serves two corners. count: fingers of both boards together, equally wide. finger: instead of count, the width of
    each, of which the uppermost takes what is left. first: the board that has the finger at the lower edge. clearance:
    at each cheek. clearance_from: the board that it is taken from, or half from each. gang: boards of a kind that are
    clamped one behind the other and cut in one go.
    """

    CALLED: ClassVar[Mapping[str, str]] = {"tails": "a", "tails_end": "a_end", "pins": "b", "pins_end": "b_end"}
    WAYS: ClassVar[tuple[str, ...]] = ("direct", "hand")

    kind: Literal["finger-joint"] = "finger-joint"
    way: Literal["template", "direct", "hand"] = "direct"
    clearance: Annotated[float, a_clearance(1.0)] = 0.05
    a: BoardName
    a_end: Ends
    b: BoardName
    b_end: Ends
    count: Annotated[int, a_whole_number("a number of fingers", 2, 200)] | None = None
    finger: Size | None = None
    first: Part = "a"
    clearance_from: Literal["b", "both"] = "b"
    gang: Annotated[int, a_whole_number("a number of boards", 1, 8)] = 1

    @model_validator(mode="after")
    def _can_be_read_one_way(self) -> Self:
        if faults := [*self._width_is_said_once(), *self._not_for_this_joint()]:
            raise Misfit(*faults)
        return self

    def _width_is_said_once(self) -> Iterator[tuple[Key, InputError]]:
        if (self.count is None) == (self.finger is None):
            found = "neither" if self.count is None else "both"
            yield (
                ("count",),
                InputError(
                    "how wide the fingers are is said once",
                    found=found,
                    wanted="count, the fingers of both boards together, or finger, the width of each",
                ),
            )

    def _not_for_this_joint(self) -> Iterator[tuple[Key, InputError]]:
        if self.way == "template":
            yield (
                ("way",),
                InputError(
                    "a finger joint is not cut by a template",
                    found='"template"',
                    wanted='"direct" or "hand"',
                    mend='way = "direct" cuts it on the machine, way = "hand" lays it out for the saw',
                ),
            )
        if self.bushing is not None:
            yield (
                ("bushing",),
                InputError(
                    "a finger joint is cut without a guide bushing", found=repr(self.bushing), wanted="no bushing"
                ),
            )
