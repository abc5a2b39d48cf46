"""One file of the output folder, with what the manifest says of it."""

from __future__ import annotations

import hashlib
from dataclasses import field
from typing import Any, Literal

from jigcam.values import dataclass

FileKind = Literal["gcode", "dry-run", "preview", "sheet", "drawing"]


@dataclass(frozen=True, slots=True)
class MadeFile:
    """A relative POSIX path, its kind, its bytes, and further facts for the manifest (already in its units)."""

    file: str
    kind: FileKind
    content: bytes
    facts: dict[str, Any] = field(default_factory=dict)

    def entry(self) -> dict[str, Any]:
        """Its entry in the manifest."""
        return {"file": self.file, "kind": self.kind, **self.facts, "sha256": hashlib.sha256(self.content).hexdigest()}
