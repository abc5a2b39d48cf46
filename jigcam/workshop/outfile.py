"""One file of the output, with what the manifest says of it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from typing import Any, Literal

FileKind = Literal["gcode", "dry-run", "preview", "sheet", "drawing"]


@dataclass(frozen=True, slots=True)
class OutFile:
    """A relative POSIX path, its kind, its text, and further facts for the manifest (already in its units)."""

    file: str
    kind: FileKind
    text: str
    facts: dict[str, Any] = field(default_factory=dict)

    @property
    def content(self) -> bytes:
        """The bytes as written."""
        return self.text.encode("utf-8")

    def entry(self) -> dict[str, Any]:
        """Its entry in the manifest."""
        return {"file": self.file, "kind": self.kind, **self.facts, "sha256": hashlib.sha256(self.content).hexdigest()}
