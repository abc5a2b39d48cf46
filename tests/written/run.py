"""Everything that jigcam writes and says about the shipped examples and starters, kept in a folder.

    python tests/written/run.py save FOLDER        # with the jigcam that this Python has installed
    python tests/written/run.py compare OLD NEW    # exit status 1 and the names of what differs

A change that is to leave every byte as it was (a rebuilt house) saves before and after, and compares. Each job is made
with both shipped kits, whole, as text and as JSON; jobs that a kit refuses are kept as they are refused.
"""

from __future__ import annotations

import contextlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
KITS = ("inch-shop", "metric-shop")
COMMANDS = (
    ("make", "-o", "out"),
    ("make", "-o", "out-json", "--json"),
    ("check",),
    ("check", "--json"),
    ("view", "--width", "100"),
)
BENCH = (
    ("bushing", "pairs", "JOB"),
    ("bushing", "pairs", "JOB", "--json"),
    ("bushing", "tolerance", "JOB"),
    ("bushing", "tolerance", "JOB", "--json"),
    ("bushing", "test", "JOB", "-o", "coupon"),
    ("bushing", "test", "JOB", "-o", "coupon-json", "--json"),
    ("kit",),
    ("kit", "inch-shop"),
    ("kit", "metric-shop", "--json"),
    ("bushing", "offset", "--bit", "1/2in", "--bushing", "3/4in", "--cut", "4in"),
    ("movement", "--wood", "black cherry", "--width", "10in"),
)


def jigcam(arguments: tuple[str, ...], folder: Path, name: str) -> None:
    """One call, in the folder; what it says goes into files of that name."""
    run = subprocess.run(
        [sys.executable, "-m", "jigcam", *arguments],
        cwd=folder,
        capture_output=True,
        env={**os.environ, "PYTHONUTF8": "1", "NO_COLOR": "1", "PYTHONHASHSEED": "0"},
    )
    said = folder / "said" / name
    said.parent.mkdir(exist_ok=True)
    said.with_suffix(".stdout").write_bytes(run.stdout)
    said.with_suffix(".stderr").write_bytes(run.stderr + f"exit status {run.returncode}\n".encode())


def jobs(folder: Path) -> Iterator[tuple[str, Path]]:
    """The shipped examples, and every starter in both units, by a name of their own."""
    for path in sorted((ROOT / "examples").rglob("*.toml")):
        yield path.stem, path
    kinds = subprocess.run([sys.executable, "-m", "jigcam", "start", "none-such"], capture_output=True, text=True)
    wanted = next(line for line in kinds.stderr.splitlines() if "wanted" in line)
    # A kit is no job.
    for kind in (name for name in re.findall(r"'([\w-]+)'", wanted) if name != "kit"):
        for units in ("in", "mm"):
            path = folder / f"start-{kind}-{units}.toml"
            text = subprocess.run(
                [sys.executable, "-m", "jigcam", "start", kind, "--units", units], capture_output=True, check=True
            ).stdout
            path.write_bytes(text)
            yield path.stem, path


def save(folder: Path) -> None:
    """All of it, into a new folder."""
    folder.mkdir(parents=True)
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        for name, path in jobs(folder):
            for kit in KITS:
                place = folder / f"{name}.{kit}"
                place.mkdir()
                (place / "job.toml").write_bytes(path.read_bytes())
                for number, (command, *rest) in enumerate(COMMANDS):
                    pool.submit(jigcam, (command, "job.toml", *rest, "--kit", kit), place, f"{number}-{command}")
        bench = folder / "bench"
        bench.mkdir()
        (bench / "JOB").write_bytes((ROOT / "examples/music-cabinet/tilted-shelf.toml").read_bytes())
        for number, arguments in enumerate(BENCH):
            pool.submit(jigcam, arguments, bench, f"{number:02d}-{arguments[0]}")


def differences(old: Path, new: Path) -> list[str]:
    """Relative paths of files that are not the same in both folders, or only in one."""
    names = {path.relative_to(top).as_posix() for top in (old, new) for path in top.rglob("*") if path.is_file()}
    found = []
    for name in sorted(names):
        with contextlib.suppress(OSError):
            if (old / name).read_bytes() == (new / name).read_bytes():
                continue
        found.append(name)
    return found


def main(arguments: list[str]) -> int:
    """See the head of this module."""
    match arguments:
        case ["save", folder]:
            save(Path(folder).absolute())
            return 0
        case ["compare", old, new]:
            found = differences(Path(old), Path(new))
            print("\n".join(found) if found else "the same to the byte")
            return 1 if found else 0
    print(__doc__)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
