"""Writes one output folder over and over, in versions that can be told apart, until it is killed.

Run by `attacks.kills`: python -m attacks.writer FOLDER exchange|aside
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Mapping
from itertools import count
from pathlib import Path

NAMES = ("shelf/a.nc", "shelf/b.nc", "sheet.txt")


def version(number: int) -> Mapping[str, bytes]:
    """The files of one version, with a manifest as the program writes it."""
    files = {name: f"{name} of version {number}\n".encode() * 200 for name in NAMES}
    entries = [{"file": name, "sha256": hashlib.sha256(raw).hexdigest()} for name, raw in files.items()]
    return {"manifest.json": json.dumps({"version": number, "files": entries}).encode(), **files}


def main() -> None:
    """Write versions from 1 on."""
    from jigcam.workshop import side_folder
    from jigcam.workshop.folder import write_folder

    folder, way = Path(sys.argv[1]), sys.argv[2]
    if way == "aside":  # as where no step exchanges two folders
        vars(side_folder)["exchanged"] = lambda one, other: False
    print("ready", flush=True)
    for number in count(1):
        write_folder(folder, version(number), replace=True)


if __name__ == "__main__":
    main()
