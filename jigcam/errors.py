"""Errors that a maker can act on: what, where, found, wanted, and how to mend it.

Every error that jigcam raises on purpose descends from `JigcamError`. Leaves also inherit the builtin that a
caller would expect, and each class owns its exit status, so the command line needs no table.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from jigcam.characters import one_line

if TYPE_CHECKING:
    from jigcam.findings import Finding


class JigcamError(Exception):
    """Root of all errors raised on purpose. Fields are plain text, empty where they do not apply.

    what: the fault, as a sentence without a full stop. where: file, line and key, or the place on the board.
    found, wanted: what stood there and what would have been accepted. mend: what to do about it.
    """

    exit_status = 2

    def __init__(self, what: str, *, where: str = "", found: str = "", wanted: str = "", mend: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.found = found
        self.wanted = wanted
        self.mend = mend

    def as_dict(self) -> dict[str, str]:
        """The fields, for `--json`."""
        return {name: getattr(self, name) for name in ("what", "where", "found", "wanted", "mend")}

    def __str__(self) -> str:
        """For people: a line each, whatever text of theirs the fields hold."""
        head = f"{self.where}: {self.what}" if self.where else self.what
        lines = [one_line(head)]
        lines += [
            f"  {name}: {one_line(value)}"
            for name, value in self.as_dict().items()
            if value and name in ("found", "wanted", "mend")
        ]
        return "\n".join(lines)


class InputError(JigcamError, ValueError):
    """Text, a file or an argument that cannot be used as it stands."""


class OutputError(JigcamError, OSError):
    """Files that could not be written; nothing of them is left behind."""

    # OSError.__str__ would otherwise come first for some argument counts; ours is the only wording.
    __str__ = JigcamError.__str__


class Faults(JigcamError):
    """Several errors found in one go, so that a file is mended in one sitting."""

    def __init__(self, faults: Iterable[JigcamError]) -> None:
        self.faults = tuple(faults)
        count = len(self.faults)
        super().__init__(f"{count} fault{'s' if count != 1 else ''}")

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)


class Refused(JigcamError):
    """A job that a finding of level `stop` forbids; carries all its findings."""

    exit_status = 1

    def __init__(self, what: str, findings: Iterable[Finding]) -> None:
        super().__init__(what)
        self.findings = tuple(findings)


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word that a person most likely meant, or "" where none is near."""
    by_folded = {name.casefold(): name for name in known}
    if word.casefold() in by_folded:
        return by_folded[word.casefold()]
    from difflib import get_close_matches  # only for who makes a slip

    close = get_close_matches(word.casefold(), by_folded, n=1, cutoff=0.5)
    return by_folded[close[0]] if close else ""


def meant(word: str, known: Iterable[str], common: Mapping[str, Sequence[str]] | None = None) -> tuple[str, ...]:
    """The known names that a shorter one may stand for, in their order: oak for red oak and white oak.

    common: names of everyday use, each with the known ones that it may mean. Empty where there is none.
    """
    folded = word.casefold()
    also = {name for each, names in (common or {}).items() if each.casefold() == folded for name in names}
    return tuple(name for name in known if name in also or f" {name}".casefold().endswith(f" {folded}"))


def unknown_name(
    kind: str,
    name: str,
    known: Iterable[str],
    *,
    where: str = "",
    common: Mapping[str, Sequence[str]] | None = None,
) -> InputError:
    """The error for a name that is not there, with those that may be meant, or the nearest one.

    kind: the thing named, as in "bit"; known: the names that exist; common: see `meant`.
    """
    names = list(known)
    near = meant(name, names, common) or (nearest(name, names),)
    offered = ", ".join(repr(each) for each in near[:-1]) + (" or " if near[1:] else "") + repr(near[-1])
    return InputError(
        f"there is no {kind} called {name!r}",
        where=where,
        found=repr(name),
        wanted="one of " + ", ".join(repr(n) for n in names) if names else f"a {kind}, and none is defined",
        mend=f"did you mean {offered}?" if near[-1] else "",
    )
