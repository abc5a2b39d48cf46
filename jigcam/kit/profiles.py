"""The shipped tables and kits: where they are."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import jigcam


def profiles_folder() -> Path:
    """The folder of shipped kits and tables: inside the installed package, or beside it in a checkout."""
    package = Path(jigcam.__file__).resolve().parent
    inside = package / "profiles"
    return inside if inside.is_dir() else package.parent / "profiles"


@cache
def profile_table(name: str, table: str = "") -> dict[str, Any]:
    """The rows of `profiles/NAME.toml`, below its table of the same name, or below another.

    These tables are part of the program: a fault in one is a defect, and is not reported as a maker's input.
    """
    rows: dict[str, Any] = tomllib.loads((profiles_folder() / f"{name}.toml").read_text("utf-8"))[table or name]
    return rows


def is_kit(name: str) -> bool:
    """Whether a shipped kit has that name; none of the others is read."""
    path = profiles_folder() / f"{name}.toml"
    try:
        return path.name == f"{name}.toml" and path.is_file() and "kit" in tomllib.loads(path.read_text("utf-8"))
    except OSError:  # a name that no file can have
        return False


@cache
def kit_names() -> tuple[str, ...]:
    """The names of the shipped kits, sorted."""
    return tuple(
        sorted(
            path.stem for path in profiles_folder().glob("*.toml") if "kit" in tomllib.loads(path.read_text("utf-8"))
        )
    )
