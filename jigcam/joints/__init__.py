"""Kinds of joint, one room each: the folder is their register.

`kind = "through-dovetail"` in a job is the module `joints.through_dovetail`, imported when a job asks for it; it has a
`KIND`. There is no list to edit.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import TYPE_CHECKING

from jigcam.errors import unknown_name

if TYPE_CHECKING:
    from pathlib import Path

    from jigcam.errors import InputError
    from jigcam.job import Entry, Job
    from jigcam.making.kind import Joint, Kind


def kind_names() -> tuple[str, ...]:
    """The kinds that the folder holds, as the key `kind` gives them."""
    return tuple(sorted(room.name.replace("_", "-") for room in pkgutil.iter_modules(__path__)))


def kind(name: str) -> Kind:
    """The kind of that name. Raises InputError, with the nearest name, if there is none."""
    if name not in kind_names():
        raise unknown_name("kind of joint", name, kind_names())
    found: Kind = import_module(f"{__name__}.{name.replace('-', '_')}").KIND
    return found


def kind_called(name: str) -> Kind:
    """The kind of that name, or the one that the trade also calls so: a dado is a groove. Raises InputError."""
    from jigcam.making.kind_names import kind_among

    return kind_among(_kinds(), name)


def unknown_kind(name: object) -> InputError:
    """The error for what is no kind, with the one that is meant, or that comes nearest."""
    from jigcam.making.kind_names import unknown_among

    return unknown_among(_kinds(), name)


def _kinds() -> dict[str, Kind]:
    return {name: kind(name) for name in kind_names()}


class Entries(Mapping[str, "type[Entry]"]):
    """The entry of each kind, by the name of the kind; a room is imported when its entry is asked for."""

    def __getitem__(self, name: str) -> type[Entry]:
        if name not in kind_names():
            raise KeyError(name)
        return kind(name).entry

    def __iter__(self) -> Iterator[str]:
        return iter(kind_names())

    def __len__(self) -> int:
        return len(kind_names())


def load_job(path: str | Path) -> Job:
    """The job of a file. Raises InputError if it cannot be read, Faults with everything that is wrong in it."""
    from jigcam.job import read_job

    return read_job(path, Entries(), unknown_kind)


def design(entry: Entry, job: Job) -> Joint:
    """The joint of a job's entry, with its findings. Raises `Refused` where nothing can be drawn at all."""
    return kind(entry.kind).design(entry, job)
