"""The tables of findings as a reader of the README sees them, and where each stands."""

from __future__ import annotations

from collections.abc import Mapping

from jigcam.findings import Rule
from jigcam.joints import kind_names


def table_file(room: str) -> str:
    """The file that holds, or would hold, the table of a room."""
    if not room.startswith("joints."):
        return f"jigcam/{room}/rules.py"
    folder = room.replace(".", "/")
    single = room.removeprefix("joints.").replace("_", "-") in kind_names() and not _is_folder(folder)
    return f"jigcam/{folder}.py" if single else f"jigcam/{folder}/rule_table.py"


def _is_folder(folder: str) -> bool:
    from support.findings_made import PACKAGE

    return (PACKAGE / folder).is_dir()


def as_markdown(rules: Mapping[str, Rule]) -> str:
    """A table: finding, levels, meaning, cure."""
    rows = [f"| `{name}` | {', '.join(rule.levels)} | {rule.means} | {rule.cure} |" for name, rule in rules.items()]
    return "\n".join(["| finding | level | means | what to do |", "| --- | --- | --- | --- |", *rows])
