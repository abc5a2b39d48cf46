"""The page that plays the cut, put together: films as data, and what draws them, in one HTML file without network.

What people wrote reaches the page in two ways alone: escaped into the title, and as JSON in which no character can end
a script; its own script then writes it as text. A content security policy names that script by its hash, so that no
other runs, and nothing is fetched.
"""

from __future__ import annotations

import json
from base64 import b64encode
from functools import lru_cache
from hashlib import sha256
from html import escape
from importlib.resources import files
from typing import TYPE_CHECKING, Any, Final

from jigcam import __version__
from jigcam.characters import escaped, one_line
from jigcam.player.film import film_of
from jigcam.player.riding import rides_of

if TYPE_CHECKING:
    from jigcam.making.built import Built
    from jigcam.units import Voice

PAGE: Final = "page.html"
"""Its place in the output folder."""
SCRIPTS: Final = (
    "strokes.js",
    "clock.js",
    "paint.js",
    "sums.js",
    "views.js",
    "front.js",
    "words.js",
    "list.js",
    "player.js",
)
"""The script, in the order in which its parts use each other."""
_UNSAFE_IN_SCRIPT: Final = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026"}


def page_of(built: Built) -> bytes:
    """The page of a job whose files are proved; the same job and kit give the same bytes."""
    films: list[dict[str, Any]] = []
    for joint, proof in zip(built.joints, built.proofs, strict=True):
        machine = built.kit.machine
        if machine is not None:
            films += [film_of(file, proof.files[file.file], machine, built.job.voice) for file in joint.files]
        films += rides_of(joint, built.kit, built.job.voice)
    return page_with(one_line(built.job.title), one_line(built.kit.name), built.job.voice, films)


def page_with(title: str, kit: str, voice: Voice, films: list[dict[str, Any]]) -> bytes:
    """The page of films. title: of the job; kit: its name; voice: of the job, whose units the page speaks."""
    data = {"job": title, "kit": kit, "units": voice.units, "version": __version__, "films": films}
    style, script = part("page.css"), "".join(part(name) for name in SCRIPTS)
    policy = f"default-src 'none'; img-src data:; style-src {_hash_of(style)}; script-src {_hash_of(script)}"
    # One after the other, so that nothing in what is put in is taken for a place to put something in.
    made: list[str] = []
    rest = part("page.html")
    for place, text in (
        ("{{policy}}", escape(policy)),
        ("{{title}}", escape(title)),
        ("{{style}}", style),
        ("{{data}}", in_script(data)),
        ("{{script}}", script),
    ):
        before, _, rest = rest.partition(place)
        made += [before, text]
    return "".join([*made, rest]).encode("utf-8")


def in_script(data: Any) -> str:
    """JSON that means the same, and that can neither end a script nor begin a comment in it."""
    text = escaped(json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":")))
    for character, instead in _UNSAFE_IN_SCRIPT.items():
        text = text.replace(character, instead)
    return text


@lru_cache
def part(name: str) -> str:
    """A part of the page, from the package's data."""
    return (files("jigcam.player") / "parts" / name).read_text("utf-8")


def _hash_of(text: str) -> str:
    """The source of an inline style or script, as a content security policy names it (W3C CSP Level 3)."""
    return f"'sha256-{b64encode(sha256(text.encode('utf-8')).digest()).decode('ascii')}'"
