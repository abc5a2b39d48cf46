"""Joints that are cut again and again at an even step."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import model_validator

from jigcam.document.fields import Position, ReadsText, a_list, a_whole_number
from jigcam.document.model import Model
from jigcam.document.reading import Misfit
from jigcam.errors import InputError

STEP = "a length along x, or two, [x, y]"
MOST = 100
"""Of one joint in one board; more is a slip of the pen."""


_LENGTH: dict[str, Any] = {"type": ["number", "string"]}
_PAIR: dict[str, Any] = {"type": "array", "minItems": 2, "maxItems": 2, "items": _LENGTH}


def _pair(value: Any) -> Any:
    """A single step goes along x."""
    return value if isinstance(value, list | tuple) else [value, 0]


class Repeat(Model):
    """The same again. count: of all, the first included. pitch: the step from one to the next, (x, y), mm; in files
    one length, along x, or two, `[x, y]`.
    """

    count: Annotated[int, a_whole_number("a count", 2, MOST)]
    pitch: Annotated[
        tuple[Position, Position],
        a_list(2, STEP),
        ReadsText(_pair, says=(("description", STEP), ("anyOf", (_LENGTH, _PAIR)))),
    ]

    @model_validator(mode="after")
    def _goes_somewhere(self) -> Self:
        if self.pitch == (0.0, 0.0):
            fault = InputError("the pitch of a row is nothing", found="0", wanted="a length along x, or two, [x, y]")
            raise Misfit((("pitch",), fault))
        return self

    def steps(self) -> tuple[tuple[float, float], ...]:
        """How far each lies from the first, (x, y) in mm."""
        return tuple((number * self.pitch[0], number * self.pitch[1]) for number in range(self.count))
