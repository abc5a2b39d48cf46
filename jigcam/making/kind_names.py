"""Kinds of joint by the names that the trade has for them, and what comes nearest where there is no such kind."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from jigcam.errors import InputError, nearest
from jigcam.units.parse import shown

if TYPE_CHECKING:
    from jigcam.making.kind import Kind


def kind_among(kinds: Mapping[str, Kind], name: str) -> Kind:
    """The kind of that name, or the one that has it among its other names. Raises InputError: see `unknown_among`."""
    wanted = plain(name)
    if wanted in kinds:
        return kinds[wanted]
    for each in kinds.values():
        if wanted in map(plain, each.also):
            return each
    raise unknown_among(kinds, name)


def unknown_among(kinds: Mapping[str, Kind], name: object) -> InputError:
    """The error for what is no kind: which there are, and which is meant, or comes nearest to it, if one does."""
    what, mend = "there is no such kind of joint", 'write a name in quotes, as kind = "groove"'
    if isinstance(name, str):
        mend = ""
        what, wanted = f"there is no kind of joint called {shown(name)}", plain(name)
        meant = [each for each, its in kinds.items() if wanted in map(plain, its.also)]
        near = [each for each, its in kinds.items() if wanted in map(plain, its.near)]
        alike = nearest(wanted, kinds)
        if meant:
            mend = f'a {name} is written kind = "{meant[0]}"'
        elif near:
            mend = f"jigcam does not make it yet; {' and '.join(near)} comes nearest: jigcam start {near[0]}"
        elif alike:
            mend = f"did you mean {alike!r}?"
    return InputError(what, found=shown(name), wanted="one of " + ", ".join(map(repr, kinds)), mend=mend)


def plain(name: str) -> str:
    """A name in small letters, its words joined by hyphens: "Bow tie" is "bow-tie"."""
    return "-".join(name.casefold().replace("_", " ").replace("-", " ").split())
