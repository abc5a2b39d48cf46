"""Names of people's choice as names of folders and files."""

from __future__ import annotations

import re
import unicodedata


def slug(name: str, otherwise: str = "") -> str:
    """`name` in lower-case ASCII letters, digits and single hyphens: "tilted shelf" → "tilted-shelf", "Tür" → "tur".

    otherwise: what comes back when nothing is left of the name.
    """
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or otherwise
