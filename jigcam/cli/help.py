"""Help whose names stay whole: no line ends within `metric-shop` or `--discard-edits`, however narrow the screen."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

import click

_HYPHEN: Final = re.compile(r"(?<=[\w-])-(?=\w)")
_UNBROKEN: Final = "\u2011"


class WholeNames(click.HelpFormatter):
    """A formatter that ends lines at blanks only."""

    def write_text(self, text: str) -> None:
        """As click does."""
        super().write_text(_HYPHEN.sub(_UNBROKEN, text))

    def write_dl(self, rows: Iterable[tuple[str, str]], col_max: int = 30, col_spacing: int = 2) -> None:
        """As click does."""
        super().write_dl([(first, _HYPHEN.sub(_UNBROKEN, says)) for first, says in rows], col_max, col_spacing)

    def getvalue(self) -> str:
        """The text, with the hyphens that people type."""
        return super().getvalue().replace(_UNBROKEN, "-")


class Context(click.Context):
    """A context whose help keeps names whole."""

    formatter_class = WholeNames
