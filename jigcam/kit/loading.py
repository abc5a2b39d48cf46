"""Reading a kit: a shipped one, or a file of the maker's own."""

from __future__ import annotations

import os
from pathlib import Path

from jigcam.document import Document
from jigcam.document.fields import repeated
from jigcam.errors import InputError, nearest, unknown_name
from jigcam.kit.kit import Kit
from jigcam.kit.materials import materials
from jigcam.kit.profiles import is_kit, kit_names, profiles_folder

TOOLS = ("router", "machine", "sheet", "bits", "bushings", "measured", "tolerances")
"""Keys of a kit that no job has."""


def load_kit(name_or_path: str | Path, relative_to: Path | None = None) -> Kit:
    """A kit by the name of a shipped one or by its path, relative to the folder `relative_to`.

    Raises InputError if there is none or it cannot be read, Faults with everything that is wrong in it.
    """
    return kit_from(Document.read(kit_path(str(name_or_path), relative_to)))


def kit_from(document: Document) -> Kit:
    """The kit that a document holds. Raises InputError for a job, Faults with everything that is wrong in it."""
    if any(key in document.data for key in ("job", "boards", "joints")):
        raise InputError(
            "this is a job, not a kit",
            where=document.where(),
            found=", ".join(key for key in ("job", "boards", "joints") if key in document.data),
            wanted="a kit: the tools of a shop",
            mend="jigcam start kit prints one; jigcam check computes and proves a job",
        )
    faults = [
        document.placed(error, (tools, *key))
        for tools in ("bits", "bushings")
        for key, error in repeated(document.data.get(tools), tools)
    ]
    kit = document.validate(Kit, {"units": file_units(document), "materials": tuple(materials())}, faults)
    kit._path = document.path
    return kit


def kit_path(name_or_path: str, relative_to: Path | None = None) -> Path:
    """The file that holds a kit: a shipped name, or else a path, relative to the folder `relative_to`.

    The file need not be there. Raises InputError, with the nearest shipped name, for what is neither name nor path.
    """
    if is_kit(name_or_path):
        return profiles_folder() / f"{name_or_path}.toml"
    path = (relative_to or Path()) / name_or_path
    if path.suffix == ".toml" or os.path.isfile(path) or any(separator in name_or_path for separator in "/\\"):
        return path
    error = unknown_name("kit", name_or_path, kit_names())
    error.wanted += ", or the path of a kit file"
    raise error


def file_units(document: Document) -> str:
    """The units of a document's bare numbers; a guess where it does not say, which the model will complain of."""
    said = document.data.get("units")
    return (nearest(said, ("in", "mm")) if isinstance(said, str) else "") or "mm"
