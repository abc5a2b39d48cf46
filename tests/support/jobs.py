"""Jobs and kits as TOML text, for tests from outside: a plain one of each kind, and changes to it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jigcam.kit import profiles_folder

Table = dict[str, Any]

SIDE: Mapping[str, Table] = {
    "in": {"length": 22, "width": "11-1/4", "thickness": "15/16", "wood": "black cherry"},
    "mm": {"length": 560, "width": 285, "thickness": 24, "wood": "black cherry"},
}
SHELF: Mapping[str, Table] = {
    "in": {"length": 28, "width": 10, "thickness": "1/2"},
    "mm": {"length": 710, "width": 255, "thickness": 12.2},
}
GROOVE: Mapping[str, Table] = {
    "in": {"from": [4, "1-1/2"], "angle": 78, "length": 8, "depth": "5/16", "receives": "shelf", "clearance": "0.006"},
    "mm": {"from": [100, 38], "angle": 78, "length": 200, "depth": 8, "receives": "shelf", "clearance": 0.15},
}
KITS: Mapping[str, str] = {"in": "inch-shop", "mm": "metric-shop"}


def job_table(units: str = "in", *, boards: Table | None = None, top: Table | None = None, **groove: Any) -> Table:
    """A job with one groove as a table. A value of None takes a key away.

    boards: tables that replace or join `side` and `shelf`. top: keys beside `job`, `units` and `kit`. groove: keys of
    the groove; `from` is written `from_`.
    """
    entry: Table = {
        "name": "tilted shelf",
        "kind": "groove",
        "board": "side",
        "face": "inside",
        "way": "direct",
        **GROOVE[units],
        **{key.rstrip("_"): value for key, value in groove.items()},
    }
    return {
        "job": "Sheet-music cabinet",
        "units": units,
        "kit": KITS[units],
        **(top or {}),
        "boards": {"side": dict(SIDE[units]), "shelf": dict(SHELF[units]), **(boards or {})},
        "joints": [entry],
    }


def kit_table(units: str = "in", *, sheet: Table | None = None, router: Table | None = None, **machine: Any) -> Table:
    """The shipped kit of those units as a table, with keys of its machine, sheet and router changed or taken away."""
    table = tomllib.loads((profiles_folder() / f"{KITS[units]}.toml").read_text("utf-8"))
    table["machine"] |= machine
    table["sheet"] |= sheet or {}
    table["router"] |= router or {}
    return table


def toml(table: Mapping[str, Any]) -> str:
    """A table as TOML text; keys with the value None are left out."""
    return "\n".join(_lines(table, "")) + "\n"


def _lines(table: Mapping[str, Any], prefix: str) -> list[str]:
    plain = {key: value for key, value in table.items() if value is not None and not _nests(value)}
    lines = [f"{_key(key)} = {_value(value)}" for key, value in plain.items()]
    for key, value in table.items():
        path = f"{prefix}{_key(key)}"
        if isinstance(value, dict):
            lines += [f"[{path}]", *_lines(value, f"{path}.")]
        elif _nests(value):
            for each in value:
                lines += [f"[[{path}]]", *_lines(each, f"{path}.")]
    return lines


def _nests(value: Any) -> bool:
    if isinstance(value, list):
        return bool(value) and all(isinstance(each, dict) for each in value)
    return isinstance(value, dict)


def _key(key: str) -> str:
    return key if key.replace("-", "").replace("_", "").isalnum() and key.isascii() else _text(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value(each) for each in value) + "]"
    return repr(value)


def _text(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if ord(c) >= 32 and ord(c) != 127 else f"\\u{ord(c):04x}" for c in plain) + '"'


def write_job(folder: Path, table: Mapping[str, Any], kit: Mapping[str, Any] | None = None) -> Path:
    """Write a job, and the kit that it then names, into a folder; the path of the job."""
    folder.mkdir(parents=True, exist_ok=True)
    if kit is not None:
        (folder / "kit.toml").write_text(toml(kit), "utf-8")
        table = {**table, "kit": "kit.toml"}
    path = folder / "job.toml"
    path.write_text(toml(table), "utf-8")
    return path
