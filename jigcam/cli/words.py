"""What several commands print of a built job: what was made, how it was proved, what to watch, where to go on."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigcam.characters import one_line
from jigcam.cli.screen import finding_lines, ink, say, terminal_width
from jigcam.making.columns import PROSE, hanging, padded, room

if TYPE_CHECKING:
    from jigcam.making.built import Built

_OF_ALL = {"plan.pdf": "all on paper", "page.html": "plays the cut"}
"""Files of the whole job, and what they are for."""
_BESIDE = {
    "dry-run": ("dry run", "dry runs"),
    "preview": ("picture", "pictures"),
    "drawing": ("drawing", "drawings"),
}
"""Kinds of files that are only counted: one, several."""
_OF_A_PIECE = {
    "assembly.txt": "all together",
    "cut-list.txt": "what to buy",
    "cut-list.csv": "the same as CSV",
}
"""What the sheets of a whole piece are for."""


def say_made(built: Built, folder: Path, manifest: Mapping[str, Any], *, why: bool) -> None:
    """The result of a job whose files were written, what is needed first at the top."""
    title = _title(f"{built.job.title}, made with the {built.kit.name}")
    say("\n".join([*title, "", *file_lines(folder, manifest), "", *proof_lines(built), *_remarks(built, why=why)]))


def say_checked(built: Built, job: Path, *, kit: str | None = None, joint: str | None = None, why: bool) -> None:
    """The result of a job that was only proved. kit, joint: as they were asked for, to be asked for again."""
    asked = [*(["--kit", kit] if kit else []), *(["--joint", joint] if joint else [])]
    make = shlex.join(["jigcam", "make", str(job), *asked])
    title = _title(f"{built.job.title}, checked with the {built.kit.name}: nothing was written")
    say("\n".join([*title, "", *proof_lines(built), *_remarks(built, why=why), "", one_line(f"next: {make}")]))


def _title(text: str) -> list[str]:
    return [ink(line, "title", sys.stdout) for line in hanging(one_line(text), terminal_width(PROSE))]


def file_lines(folder: Path, manifest: Mapping[str, Any]) -> list[str]:
    """Where the files are: sheets and what runs on the machine, with the time that it takes; the others counted.

    Those of the whole piece, which belong to no one joint, come first.
    """
    shown = [entry for entry in manifest["files"] if entry["kind"] in ("gcode", "sheet")]
    joints = ["", *dict.fromkeys(entry["joint"] for entry in shown)]
    shown.sort(key=lambda entry: (joints.index(entry["joint"]), entry["kind"] != "sheet"))
    wide = max((len(entry["file"]) for entry in shown), default=0)
    lines = [one_line(f"in {folder}:")]
    for entry in shown:
        what = _minutes(entry["seconds"]) if entry["kind"] == "gcode" else _sheet_words(entry["file"])
        if not entry["joint"]:
            what = _OF_A_PIECE.get(entry["file"].rsplit("/", 1)[-1], "")
        lines.append(f"  {entry['file']:<{wide}}  {ink(f'{what:>15}', 'aside', sys.stdout)}")
    beside = [entry for entry in manifest["files"] if entry["kind"] not in ("gcode", "sheet")]
    for name in [entry["file"] for entry in beside if entry["file"] in _OF_ALL]:
        lines.append(f"  {name:<{wide}}  {ink(_OF_ALL[name].rjust(15), 'aside', sys.stdout)}")
    kinds = [entry["kind"] for entry in beside if entry["file"] not in _OF_ALL]
    counted = []
    for kind in dict.fromkeys(kinds):
        one, several = _BESIDE.get(kind, (kind, kind))
        count = kinds.count(kind)
        counted.append(f"{count} {one if count == 1 else several}")
    rest = f"  and {', '.join([*counted, 'manifest.json'])}"
    return [*lines, *(ink(line, "aside", sys.stdout) for line in hanging(rest, terminal_width(PROSE)))]


def _sheet_words(file: str) -> str:
    """What a setup sheet is for, by its kind of file."""
    return {"pdf": "to print", "html": "for a screen"}.get(file.rpartition(".")[2], "read this first")


def proof_lines(built: Built) -> list[str]:
    """A line for each joint: how near the virtual cut came to the drawing, and how the mate fits in it."""
    from jigcam.units import Voice
    from jigcam.workshop.brief import brief_proof

    if not any(joint.files for joint in built.joints):
        return ["by hand: no file, so nothing to prove"]
    proofs = [each for proof in built.proofs for each in proof.each()]
    wide = max((room(one_line(proof.joint)) for proof in proofs), default=0)
    width = terminal_width(PROSE)
    stacked = wide > width // 3
    lines = [f"{ink('proved', 'good', sys.stdout)}: how near each virtual cut comes to its drawing, and how it fits"]
    for proof in proofs:
        name, says = one_line(proof.joint), one_line(brief_proof(proof, Voice(built.job.units)))
        if stacked:
            lines += [*hanging(f"  {name}", width), *hanging(f"    {says}", width, 0)]
        else:
            first, *more = hanging(says, width - wide - 4, 0)
            lines += [f"  {padded(name, wide)}  {first}", *(" " * (wide + 4) + part for part in more)]
    return lines


def _remarks(built: Built, *, why: bool) -> list[str]:
    """Cautions, and with `why` the notes too; without, how many there are."""
    from jigcam.cli.remarks import said_once

    names = [name for joint in built.joints for name in joint.joints]
    told = finding_lines(built.findings, sys.stdout, why=why, everywhere=names)
    lines = ["", *told] if told else []
    notes = len(said_once(finding for finding in built.findings if finding.level == "note"))
    if notes and not why:
        says = f"{notes} note{'s say' if notes > 1 else ' says'} why it is so and how to go about it: add --why"
        lines += ["", ink(says, "aside", sys.stdout)]
    return lines


def _minutes(seconds: int) -> str:
    return f"{seconds // 60} min {seconds % 60:02d} s"
