"""Commented jobs to start from, one for each kind of joint."""

from __future__ import annotations

from importlib.resources import files

from jigcam.errors import unknown_name

_FOLDER = files("jigcam.workshop") / "starters"


def starter_kinds() -> tuple[str, ...]:
    """The kinds of joint that have a starter."""
    names = (entry.name.removesuffix(".toml") for entry in _FOLDER.iterdir() if entry.name.endswith(".toml"))
    return tuple(sorted(name for name in names if not name.endswith("-mm")))


def starter(kind: str, units: str = "in") -> str:
    """The text of a job with one joint of that kind, in inches or millimetres. Raises InputError for another kind."""
    if kind not in starter_kinds():
        raise unknown_name("kind of joint", kind, starter_kinds())
    return (_FOLDER / f"{kind}{'-mm' if units == 'mm' else ''}.toml").read_text("utf-8")
