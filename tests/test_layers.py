"""The layers: each package imports only from those before it, and each heavy package has its place."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import jigcam

PACKAGE = Path(jigcam.__file__).parent

LAYERS = (
    "errors",
    "findings",
    "tolerances",
    "units",
    "document",
    "geometry",
    "kit",
    "job",
    "wood",
    "template",
    "toolpath",
    "gcode",
    "proof",
    "drawing",
    "making",
    "joints",
    "piece",
    "bench",
    "workshop",
    "cli",
)

# The proof shares nothing with the planner: what it may know is text, geometry and the kit.
PROOF_MAY_USE = {"errors", "findings", "tolerances", "units", "geometry", "kit", "gcode", "proof"}


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def layer_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(path: Path, *, late: bool = True) -> set[str]:
    """Full names of the modules that a file imports; without `late`, only those at module level."""
    tree = ast.parse(path.read_text("utf-8"))
    nodes = ast.walk(tree) if late else tree.body
    names: set[str] = set()
    for node in nodes:
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            names.add(node.module or "")
    return names


def layers_used(path: Path) -> set[str]:
    return {name.split(".")[1] for name in imported(path) if name.startswith("jigcam.")}


@pytest.mark.parametrize("path", modules(), ids=lambda p: p.relative_to(PACKAGE).as_posix())
def test_imports_run_downward_only(path: Path) -> None:
    layer = layer_of(path)
    if layer in ("__init__", "__main__"):
        return
    allowed = set(LAYERS[: LAYERS.index(layer) + 1])
    if layer == "errors":
        allowed.add("findings")  # for types only
    assert layers_used(path) <= allowed


def test_every_package_is_a_layer() -> None:
    found = {layer_of(path) for path in modules()} - {"__init__", "__main__"}
    assert found == set(LAYERS)


def test_only_geometry_knows_shapely() -> None:
    users = {layer_of(path) for path in modules() if any(n.split(".")[0] == "shapely" for n in imported(path))}
    assert users <= {"geometry"}


def test_nothing_but_the_tests_uses_the_second_reader_or_the_second_geometry() -> None:
    for path in modules():
        assert not {n.split(".")[0] for n in imported(path)} & {"pygcode", "pyclipper"}, path


def test_the_proof_is_independent_of_the_planner() -> None:
    for path in modules():
        if layer_of(path) == "proof":
            assert layers_used(path) <= PROOF_MAY_USE, path


def test_modules_stay_small() -> None:
    long = {path.name: n for path in modules() if (n := len(path.read_text("utf-8").splitlines())) > 400}
    assert not long


def test_help_imports_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "from jigcam.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'shapely', 'pydantic', 'rich', 'tomlkit', 'tomllib'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
