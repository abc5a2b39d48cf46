"""Reading a job file, and finding the kit that it is to be cut with."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

from jigcam.document import Document, Key, unknown_key
from jigcam.document.fields import repeated
from jigcam.errors import Faults, InputError, JigcamError
from jigcam.job.board import Board
from jigcam.job.entry import Entry
from jigcam.job.job import Job
from jigcam.job.slug import slug
from jigcam.kit import TOOLS, Kit, common_names, kit_names, load_kit, woods
from jigcam.kit.loading import file_units
from jigcam.units.parse import shown

Unknown = Callable[[object], InputError]
"""The error for what is no kind of joint."""


def read_job(path: str | Path, kinds: Mapping[str, type[Entry]], unknown: Unknown | None = None) -> Job:
    """The job of a file. kinds: the entry of each kind of joint, by its name; unknown: the error for another name.

    Raises InputError if it cannot be read, Faults with everything that is wrong in it.
    """
    return job_from(Document.read(Path(path)), kinds, unknown)


def job_from(document: Document, kinds: Mapping[str, type[Entry]], unknown: Unknown | None = None) -> Job:
    """The job that a document holds; raises InputError for a kit, Faults for what is wrong in a job."""
    if "kit" in document.data and _looks_like_a_kit(document.data):
        raise InputError(
            "this is a kit, not a job",
            where=document.where(),
            found="the tools of a shop: " + ", ".join(key for key in TOOLS if key in document.data),
            wanted="a job: boards and joints",
            mend=f"write kit = {shown(document.path.name)} into a job, or give it beside one with --kit; "
            "jigcam start groove prints a job, jigcam kit lists a kit",
        )
    context = {
        "kinds": kinds,
        "unknown kind": unknown,
        "units": file_units(document),
        "units said": document.data.get("units") in ("in", "mm"),
        "woods": tuple(woods()),
        "common woods": common_names(),
        "boards": tuple(_tables(document.data.get("boards"))),
    }
    job = document.validate(Job, context, [document.placed(error, key) for key, error in _faults_of_names(document)])
    job._document = document
    return job


def _looks_like_a_kit(data: Mapping[str, Any]) -> bool:
    """Whether a file holds tools, and no boards or joints."""
    return any(key in data for key in TOOLS) and not any(key in data for key in ("job", "boards", "joints"))


def _faults_of_names(document: Document) -> Iterator[tuple[Key, InputError]]:
    """Boards with a name of their own, joints with the same name or with names that would share a folder."""
    for name, table in _tables(document.data.get("boards")).items():
        if isinstance(table, dict) and "name" in table:
            yield ("boards", name, "name"), unknown_key("name", Board.keys()[1:])
    joints = document.data.get("joints")
    if joints == []:
        yield (
            ("joints",),
            InputError(
                "the job has no joints", found="[]", wanted="at least one [[joints]]", mend="jigcam start lists some"
            ),
        )
    same = list(repeated(joints, "joints"))
    yield from ((("joints", *key), error) for key, error in same)
    folders: dict[str, str] = {}
    for number, table in enumerate(joints if isinstance(joints, list) else ()):
        said = table.get("name") if isinstance(table, dict) else None
        if not isinstance(said, str) or any(key[0] == number for key, _ in same):
            continue
        folder = slug(said, f"joint-{number + 1}")
        first = folders.setdefault(folder, said)
        if first != said:
            yield (
                ("joints", number, "name"),
                InputError(
                    "two joints would be written to the same folder",
                    wanted="names that differ in their letters or digits",
                    found=f"{shown(said)} and {shown(first)}, both {folder}",
                ),
            )


def _tables(value: Any) -> dict[str, Any]:
    """A table of tables as it came from the file, or nothing if it is something else."""
    return value if isinstance(value, dict) else {}


def kit_for(job: Job, override: Kit | str | Path | None = None) -> Kit:
    """The kit that a job is to be cut with. override: a kit, or its name or path, relative to the current folder.

    A job that is made by hand alone wants none. Raises InputError if there is none, Faults if it is wrong in itself or
    lacks a bit or bushing that a joint names.
    """
    if isinstance(override, Kit):
        kit = override
    elif override is not None:
        kit = load_kit(override)
    elif job.kit is None and all(entry.way == "hand" for entry in job.joints):
        kit = Kit(kit="hand tools", units=job.units)
    elif job.kit is None:
        raise InputError(
            "the job names no kit",
            where=job.where(),
            found="nothing",
            wanted="kit = one of " + ", ".join(f'"{name}"' for name in kit_names()),
            mend="write one of them into the job, or add --kit; jigcam start kit prints a kit for your own tools",
        )
    else:
        kit = _kit_of_file(job, job.kit)
    missing = list(_missing_tools(job, kit))
    if missing:
        raise Faults(missing)
    return kit


def _kit_of_file(job: Job, name: str) -> Kit:
    try:
        return load_kit(name, job.path.parent if job.path else None)
    except InputError as error:
        error.where = error.where or job.where("kit")
        raise


def _missing_tools(job: Job, kit: Kit) -> Iterator[JigcamError]:
    """Bits and bushings that joints name and the kit does not have."""
    finders: dict[str, Callable[[str], object]] = {"bit": kit.bit, "bushing": kit.bushing}
    for entry in job.joints:
        for key, tool in entry.TOOLS.items():
            find = finders[tool]
            name: str | None = getattr(entry, key)
            try:
                if name is not None:
                    find(name)
            except InputError as error:
                error.where = job.where_of(entry, key)
                yield error
