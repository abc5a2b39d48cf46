"""Names of a package that are imported when they are first asked for.

So a module of it can be had without all the others, and a command loads what it needs. In the package:

    __getattr__, __dir__ = late(__name__, {"opening": "ride_region template_opening"})

beside the same imports under `TYPE_CHECKING`. A name must not be that of a module of the package as well, as Python
puts the module in its place once it is imported.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def late(package: str, modules: Mapping[str, str]) -> tuple[Callable[[str], Any], Callable[[], list[str]]]:
    """`__getattr__` and `__dir__` of a package. modules: by the name of each, the names that it gives, with blanks.

    The first raises AttributeError for other names, as Python asks of it.
    """
    homes = {name: f"{package}.{module}" for module, names in modules.items() for name in names.split()}

    def get(name: str) -> Any:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        value = getattr(import_module(homes[name]), name)
        setattr(sys.modules[package], name, value)
        return value

    return get, lambda: sorted({*vars(sys.modules[package]), *homes})
