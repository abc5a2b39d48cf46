"""The tables of findings as a reader of the README sees them, and where each stands."""

from __future__ import annotations

from collections.abc import Mapping

from support.findings_made import PACKAGE

from jigcam.findings import Rule


def table_file(room: str) -> str:
    """The file that holds, or would hold, the table of a room; a small kind is one module."""
    path = room.replace(".", "/")
    if not room.startswith("joints."):
        return f"jigcam/{path}/rules.py"
    return f"jigcam/{path}/rule_table.py" if (PACKAGE / path).is_dir() else f"jigcam/{path}.py"


def as_markdown(rules: Mapping[str, Rule]) -> str:
    """A table: finding, levels, meaning, cure."""
    rows = [f"| `{name}` | {', '.join(rule.levels)} | {rule.means} | {rule.cure} |" for name, rule in rules.items()]
    return "\n".join(["| finding | level | means | what to do |", "| --- | --- | --- | --- |", *rows])
