"""The lines that several commands print of a built job."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jigcam.making.built import Built


def summary_lines(built: Built) -> list[str]:
    """Job, kit, and for each joint what the proof came to."""
    from jigcam.making.setup_sheet import proof_lines

    lines = [f"{built.job.title}, with the {built.kit.name}"]
    for proof in built.proofs:
        lines += [f"  {proof.joint}", *(f"    {line}" for line in proof_lines(proof, built.job.units))]
    return lines


def file_lines(folder: Path, manifest: dict[str, Any]) -> list[str]:
    """The files that were written, with the time that each cut takes."""
    lines = [f"written to {folder}:"]
    for entry in manifest["files"]:
        time = f"  about {_minutes(entry['seconds'])}" if entry["kind"] == "gcode" else ""
        lines.append(f"  {entry['file']}{time}")
    return lines


def _minutes(seconds: int) -> str:
    return f"{seconds // 60} min {seconds % 60:02d} s"
