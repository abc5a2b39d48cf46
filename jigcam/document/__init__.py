"""TOML files with the line of every key, and the checks that tell each fault by file, line and key.

The models' base and the types of their fields are in `jigcam.document.model` and `jigcam.document.fields`.
"""

from __future__ import annotations

from jigcam.document.positions import Key, key_lines
from jigcam.document.reading import Document, Misfit, key_text, unknown_key

__all__ = ["Document", "Key", "Misfit", "key_lines", "key_text", "unknown_key"]
