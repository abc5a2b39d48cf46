"""What lies in a folder, jobs and the files made of them, and so what to type next. Nothing is parsed or loaded."""

from __future__ import annotations

import json
import os
import re
import shlex
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

LOOKED_AT: Final = 500
"""Entries of a folder that are looked at; in larger ones nobody works."""
READ: Final = 4 * 1024 * 1024
"""Bytes of a job, and of a manifest, that are looked at; larger ones are passed over."""
SHOWN: Final = 3
"""Jobs and outputs that are named."""
BESIDE: Final = 42
"""Letters of a command that has what it does beside it, on 80 columns."""
_JOINTS: Final = re.compile(r"(?m)^[ \t]*+\[\[[ \t]*+joints[ \t]*+\]\]")
_NAME: Final = re.compile(r"""(?m)^[ \t]*+name[ \t]*+=[ \t]*+["'](.*?)["']""")
_TITLE: Final = re.compile(r"""(?m)^[ \t]*+job[ \t]*+=[ \t]*+["'](.*?)["']""")


@dataclass(frozen=True, slots=True)
class JobHere:
    """A job file. title: of the job, "" where it could not be read off; joints: how many it has; names: of these and
    others, as far as they could be read off; since: last changed, seconds of the system's clock."""

    path: Path
    title: str
    joints: int
    names: frozenset[str]
    since: float


@dataclass(frozen=True, slots=True)
class OutputHere:
    """A folder that `make` wrote. title: of its job; job_file: the name of that one's file, "" where it is not said;
    options: with which it was made; names: of its joints; sheets, programs: its setup sheets and G-code, as paths;
    since: written, seconds of the system's clock."""

    path: Path
    title: str
    job_file: str
    options: tuple[str, ...]
    names: frozenset[str]
    sheets: tuple[Path, ...]
    programs: tuple[Path, ...]
    since: float

    def is_of(self, job: JobHere) -> bool:
        """Whether it was made of that job: of a file of its name, where that is said, its title and joints of it.

        Jobs of one piece often share their title, and copies of a job all else.
        """
        return self.job_file in ("", job.path.name) and self.title == job.title and self.names <= job.names


def jobs_in(folder: Path) -> tuple[JobHere, ...]:
    """The job files of a folder, the last changed first. What cannot be read is none."""
    return tuple(sorted(_jobs(folder), key=lambda job: -job.since))


def outputs_in(folder: Path) -> tuple[OutputHere, ...]:
    """The output folders in a folder, the last written first. What cannot be read is none."""
    return tuple(sorted(_outputs(folder), key=lambda output: -output.since))


def next_lines(jobs: Iterable[JobHere], outputs: Iterable[OutputHere]) -> list[str]:
    """What is here, and what to type next, in lines of at most 80 columns where names are short; empty where there is
    neither job nor output."""
    jobs, outputs = list(jobs), list(outputs)
    shown = [(job, next((each for each in outputs if each.is_of(job)), None)) for job in jobs[:SHOWN]]
    blocks = [_of_job(job, own) for job, own in shown]
    if len(jobs) > SHOWN:
        blocks.append([f"and {len(jobs) - SHOWN} more jobs, last changed before these"])
    blocks += [_of_output(each) for each in outputs[:SHOWN] if not any(map(each.is_of, jobs))]
    return [line for block in blocks for line in (*block, "")][:-1]


def _of_job(job: JobHere, output: OutputHere | None) -> list[str]:
    name = _word(job.path)
    if output is None:
        rows = [(f"jigcam piece {name}", "puts the boards together")] if job.joints > 1 else []
        rows += [
            (f"jigcam view  {name}", "shows it"),
            (f"jigcam check {name}", "cuts it virtually, writes nothing"),
            (f"jigcam make  {name} -o {_word(_free(job.path))}", "writes the files"),
        ]
        return [f"Here is a job: {name}", *_table(rows)]
    same = "".join(f" {shlex.quote(each)}" for each in output.options)
    again = (f"jigcam make  {name} -o {_word(output.path)}{same} --replace", "writes its files anew")
    if job.since > output.since:
        return [f"Here is a job, changed since its files in {_word(output.path)} were made: {name}", *_table([again])]
    prove = [(f"jigcam prove {_word(file)} --job {name}", "after changes by hand") for file in output.programs[:1]]
    return [
        f"Here is a job, and its files in {_word(output.path)}: {name}",
        *_table([*_reading(output), *prove, again]),
    ]


def _of_output(output: OutputHere) -> list[str]:
    return [f"Here are the files of a job: {_word(output.path)}", *_table(_reading(output))]


def _reading(output: OutputHere) -> list[tuple[str, str]]:
    rows = [(f"{_word(file)}", "read this first") for file in output.sheets[:SHOWN]]
    return rows + [(f"jigcam view  {_word(file)}", "the path of the cutter") for file in output.programs[:1]]


def _table(rows: list[tuple[str, str]]) -> list[str]:
    """Commands and what they do: beside each other, or below where the command is long."""
    wide = max((len(command) for command, _ in rows if len(command) <= BESIDE), default=0)
    lines: list[str] = []
    for command, says in rows:
        if len(command) <= BESIDE:
            lines.append(f"  {command:<{wide}}   {says}")
        else:
            lines += [f"  {command}", f"      {says}"]
    return lines


def _free(job: Path) -> Path:
    """A folder to be written, which is not there yet: another job's files are not in its way."""
    names = ("out", f"out-{job.stem}", *(f"out-{job.stem}-{number}" for number in range(2, LOOKED_AT)))
    return next((found for name in names if not os.path.lexists(found := job.parent / name)), job.parent / "out")


def _word(path: Path) -> str:
    return shlex.quote(str(path))


def _entries(folder: Path) -> Iterator[Path]:
    try:
        for number, path in enumerate(sorted(folder.iterdir())):
            if number < LOOKED_AT and not path.name.startswith("."):
                yield path
    except OSError:
        return


def _text(path: Path) -> str:
    """What stands in a regular file, as far as it is looked at; "" for what is none, or cannot be read."""
    try:
        if not path.is_file():
            return ""
        with path.open("rb") as file:
            return file.read(READ).decode("utf-8", "replace")
    except OSError:
        return ""


def _jobs(folder: Path) -> Iterator[JobHere]:
    for path in _entries(folder):
        if path.suffix.casefold() == ".toml" and (joints := len(_JOINTS.findall(text := _text(path)))):
            title = _TITLE.search(text)
            yield JobHere(path, title[1] if title else "", joints, frozenset(_NAME.findall(text)), _since(path))


def _outputs(folder: Path) -> Iterator[OutputHere]:
    for path in _entries(folder):
        if not path.is_dir() or not (text := _text(path / "manifest.json")):
            continue
        try:
            manifest: Any = json.loads(text)
            files = {kind: _files(path, manifest, kind) for kind in ("sheet", "gcode")}
            title = str(manifest["job"]) if "jigcam" in manifest else None
            names = frozenset(str(each["joint"]) for each in manifest["files"] if each.get("joint"))
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            continue
        if title is not None:
            file, options = str(manifest.get("job_file", "")), tuple(map(str, manifest.get("options", ())))
            since = _since(path / "manifest.json")
            yield OutputHere(path, title, file, options, names, files["sheet"], files["gcode"], since)


def _files(path: Path, manifest: Any, kind: str) -> tuple[Path, ...]:
    """Of the files of a kind those that a person reads or runs, as text."""
    named = [str(each["file"]) for each in manifest["files"] if each["kind"] == kind]
    return tuple(path / name for name in named if name.endswith((".txt", ".nc")) and name.count("/"))


def _since(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0
