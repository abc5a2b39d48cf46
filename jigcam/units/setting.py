"""Sentences of the work that stand out: with a number to be set on a tool, or with nothing to be done.

Where there is room for it, the number stands large beside its sentence; what is to be done has a box to tick.
"""

from __future__ import annotations


class ToSet(str):
    """A sentence with what is to be set. what: the thing; figure: the number with its unit, as the sentence has it."""

    __slots__ = ("figure", "what")

    what: str
    figure: str

    def __new__(cls, sentence: str, what: str, figure: str) -> ToSet:
        made = super().__new__(cls, sentence)
        made.what, made.figure = what, figure
        return made


class Known(str):
    """A sentence among those of the work that asks for nothing to be done: it has no box to tick."""

    __slots__ = ()
