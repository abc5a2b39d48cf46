"""Every finding that the program can come to, as its tables declare them: those of the shared packages, and of kinds.

A package that has findings holds a module `rules` with the table `RULES`; a kind of joint hands its own to its `KIND`.
There is no list to edit.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator, Mapping
from importlib import import_module
from importlib.util import find_spec

import jigcam
from jigcam.findings import Rule
from jigcam.joints import kind, kind_names


def tables() -> dict[str, Mapping[str, Rule]]:
    """Each table by the package that holds it: "template", "joints.groove"."""
    return dict(_tables())


def _tables() -> Iterator[tuple[str, Mapping[str, Rule]]]:
    for package in pkgutil.iter_modules(jigcam.__path__):
        name = f"{jigcam.__name__}.{package.name}.rules"
        if package.ispkg and find_spec(name) is not None:
            yield package.name, import_module(name).RULES
    for name in kind_names():
        yield f"joints.{name.replace('-', '_')}", kind(name).rules


def all_rules() -> dict[str, Rule]:
    """Every finding of the program, in alphabetical order."""
    return dict(sorted((name, rule) for table in tables().values() for name, rule in table.items()))
