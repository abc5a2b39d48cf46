"""Sentences that hold a number to be set on a tool: where there is room for it, the number stands large beside them."""

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
