"""Where kits come from: the shipped profiles, or a file of the maker's own."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import jigcam
from jigcam.document import Document
from jigcam.document.fields import repeated
from jigcam.errors import nearest, unknown_name
from jigcam.kit.kit import Kit


def profiles_folder() -> Path:
    """The folder of shipped kits and tables: inside the installed package, or beside it in a checkout."""
    package = Path(jigcam.__file__).resolve().parent
    inside = package / "profiles"
    return inside if inside.is_dir() else package.parent / "profiles"


def kit_names() -> tuple[str, ...]:
    """The names of the shipped kits, sorted."""
    return tuple(sorted(path.stem for path in profiles_folder().glob("*.toml")
                        if "kit" in tomllib.loads(path.read_text("utf-8"))))


def kit_path(name_or_path: str, relative_to: Path | None = None) -> Path:
    """The file that holds a kit: a shipped name, or else a path, relative to the folder `relative_to`.

    Raises InputError, with the nearest shipped name, if there is neither.
    """
    if name_or_path in kit_names():
        return profiles_folder() / f"{name_or_path}.toml"
    path = (relative_to or Path()) / name_or_path
    if path.suffix == ".toml" or path.is_file() or "/" in name_or_path or "\\" in name_or_path:
        return path
    error = unknown_name("kit", name_or_path, kit_names())
    error.wanted += ", or the path of a kit file"
    raise error


def load_kit(name_or_path: str | Path, relative_to: Path | None = None) -> Kit:
    """A kit by the name of a shipped one or by its path, relative to the folder `relative_to`.

    Raises InputError if there is none or it cannot be read, Faults with everything that is wrong in it.
    """
    document = Document.read(kit_path(str(name_or_path), relative_to))
    return kit_from(document)


def kit_from(document: Document) -> Kit:
    """The kit that a document holds; raises Faults."""
    from jigcam.kit.materials import materials

    faults = [document.placed(error, (name, *key))
              for name, kind in (("bits", "bits"), ("bushings", "bushings"))
              for key, error in repeated(document.data.get(name), kind)]
    kit = document.validate(Kit, {"units": file_units(document), "materials": tuple(materials())}, faults)
    kit._path = document.path
    return kit


def file_units(document: Document) -> str:
    """The units of a document's bare numbers; a likely guess where it does not say, as the model will complain."""
    said: Any = document.data.get("units")
    return said if said in ("in", "mm") else (nearest(said, ("in", "mm")) if isinstance(said, str) else "") or "mm"
