"""jigcam: from a joint on a board to a template or a tool path that has proved itself before wood is cut.

From Python:

    import jigcam

    job = jigcam.load_job("shelf.toml")
    made = jigcam.make(job, "inch-shop", "out")     # without a folder: in memory
    made.findings, made.files, made.drawings
    jigcam.prove("out/tilted-shelf/template.nc", job).proved

Every error is a `JigcamError`; its text is what the command line prints.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jigcam.errors import Faults, InputError, JigcamError, OutputError, Refused
    from jigcam.kit import load_kit
    from jigcam.workshop.calls import Made, make, prove
    from jigcam.workshop.loading import load_job

__version__ = "0.1.0"

__all__ = [
    "Faults",
    "InputError",
    "JigcamError",
    "Made",
    "OutputError",
    "Refused",
    "__version__",
    "load_job",
    "load_kit",
    "make",
    "prove",
]

_HOMES = {
    "load_job": "jigcam.workshop.loading",
    "load_kit": "jigcam.kit",
    "Made": "jigcam.workshop.calls",
    "make": "jigcam.workshop.calls",
    "prove": "jigcam.workshop.calls",
}
"""Where each name lives that is not of `jigcam.errors`; imported when it is first asked for, so that the package's own
import stays light."""


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(_HOMES.get(name, "jigcam.errors")), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
