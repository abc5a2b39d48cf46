"""Docstrings say what is raised: whoever calls a public function learns from its docstring which errors come out."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import jigcam

PACKAGE = Path(jigcam.__file__).parent
PACKAGES = (
    *("units", "document", "kit", "job", "wood", "geometry", "gcode", "proof"),
    *("template", "toolpath", "making", "joints", "bench", "workshop"),
)
"""Where it is asked for."""
WITHIN = {"Objection"}
"""Errors that never leave the package that raises them."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


def trees() -> Iterator[tuple[str, ast.Module]]:
    for package in PACKAGES:
        for path in sorted((PACKAGE / package).rglob("*.py")):
            yield path.relative_to(PACKAGE).as_posix(), ast.parse(path.read_text("utf-8"))


def makers() -> dict[str, str]:
    """The functions that hand back an error to be raised, and its class: `unknown_name` makes an InputError."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, Function) and isinstance(node.returns, ast.Name):
                found[node.name] = node.returns.id
    return found


def public(tree: ast.AST, owner: ast.ClassDef | None = None) -> Iterator[tuple[str, str, Function]]:
    """Name, docstring and body of what a caller sees; what making an object raises is told by its class."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield from public(node, node)
        elif isinstance(node, Function):
            made = owner is not None and node.name in ("__init__", "__post_init__")
            if made or not node.name.startswith("_"):
                says = ast.get_docstring(owner if made else node) or ""
                yield (f"{owner.name}.{node.name}" if owner else node.name), says, node


def raised(function: Function, made_by: dict[str, str]) -> set[str]:
    """The classes of the errors that a function raises itself, those of functions within it too.

    Without those that it catches on their way, as by `raise` alone, and those held in a variable.
    """
    names = set()
    for node in ast.walk(function):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and isinstance(node.exc.func, ast.Name):
            name = node.exc.func.id
            names.add(made_by.get(name, name))
    return names - WITHIN


def cases() -> list[tuple[str, str, set[str]]]:
    made_by = makers()
    return [
        (f"{path}: {name}", says, errors)
        for path, tree in trees()
        for name, says, function in public(tree)
        if (errors := raised(function, made_by))
    ]


def test_errors_are_looked_for_where_they_are_raised():
    found = {name: errors for name, _, errors in cases()}
    assert found["kit/kit.py: Kit.bit"] == {"InputError"}  # made by `unknown_name`
    assert found["toolpath/frame.py: placed"] == {"Refused"}  # made by `too_large`
    assert found["geometry/path.py: Path.__post_init__"] == {"InputError"}  # told by the class
    assert found["document/reading.py: Document.validate"] == {"Faults"}
    assert "geometry/nearest.py: nearest" not in found


@pytest.mark.parametrize(("says", "errors"), [case[1:] for case in cases()], ids=[case[0] for case in cases()])
def test_the_docstring_names_every_error_that_is_raised(says, errors):
    assert "raise" in says.lower()
    assert {error for error in errors if error not in says} == set()
