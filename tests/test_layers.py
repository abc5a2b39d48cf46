"""The layers: each package imports only from those before it, and each heavy package has its place."""

from __future__ import annotations

import ast
import subprocess
import sys
from graphlib import TopologicalSorter
from importlib import import_module
from pathlib import Path
from typing import get_args

import pytest

import jigcam
from jigcam.joints import kind_names
from jigcam.kit import BitKind

PACKAGE = Path(jigcam.__file__).parent

LAYERS = (
    "characters",
    "late",
    "interruption",
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
    "dovetails",
    "joints",
    "piece",
    "bench",
    "player",
    "workshop",
    "cli",
)

# The proof shares nothing with the planner: what it may know is text, geometry and the kit.
PROOF_MAY_USE = {
    "characters",
    "errors",
    "findings",
    "tolerances",
    "units",
    "geometry",
    "kit",
    "gcode",
    "proof",
}


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


def test_nothing_but_the_tests_uses_what_checks_the_program_from_outside() -> None:
    for path in modules():
        outside = {"pygcode", "pyclipper", "HersheyFonts"}
        assert not {n.split(".")[0] for n in imported(path)} & outside, path


def test_the_proof_is_independent_of_the_planner() -> None:
    for path in modules():
        if layer_of(path) == "proof":
            assert layers_used(path) <= PROOF_MAY_USE, path


def test_a_class_name_has_one_meaning_in_the_house() -> None:
    places: dict[str, list[str]] = {}
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, []).append(path.relative_to(PACKAGE).as_posix())
    assert not {name: found for name, found in places.items() if len(found) > 1}


def test_modules_have_names_that_say_what_they_are() -> None:
    found = {path.relative_to(PACKAGE).as_posix() for path in modules() if path.stem in ("work", "output", "outfile")}
    assert not found


def test_only_bits_know_their_kinds() -> None:
    """What a bit can do is asked of its abilities, so that a new kind of bit is one change in one module."""
    askers = [
        f"{path.relative_to(PACKAGE)}:{node.lineno}"
        for path in modules()
        if path.relative_to(PACKAGE).as_posix() != "kit/bit.py"
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Compare) and isinstance(node.left, ast.Attribute) and node.left.attr == "kind"
        if {part.value for part in ast.walk(node) if isinstance(part, ast.Constant)} & set(get_args(BitKind))
    ]
    assert not askers


def test_no_kind_is_named_outside_its_room() -> None:
    """A new kind touches its room alone. Plain words of the trade, as groove, count where kinds are compared."""
    names = set(kind_names())
    found = []
    for path in modules():
        place = path.relative_to(PACKAGE).as_posix()
        if place.startswith(("joints/", "dovetails/", "template/")):
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            parts = list(ast.walk(node)) if isinstance(node, ast.Compare) else [node]
            asked = any(isinstance(part, ast.Attribute) and part.attr == "kind" for part in parts)
            words = {part.value for part in parts if isinstance(part, ast.Constant) and isinstance(part.value, str)}
            if {word for word in words & names if asked or "-" in word}:
                found.append(f"{place}:{getattr(node, 'lineno', 1)}")
    assert not found


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


def test_the_sums_of_one_bushing_load_neither_geometry_nor_models() -> None:
    code = (
        "import sys\n"
        "from jigcam.cli import main\n"
        "try:\n    main(['bushing', 'offset', '--bit', '1/4in', '--bushing', '5/16in', '--cut', '1/2in'])\n"
        "except SystemExit as end:\n    assert not end.code, end.code\n"
        "heavy = {'numpy', 'shapely', 'pydantic', 'tomllib'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


def test_a_package_whose_names_come_late_gives_each_of_them_as_its_module_has_it() -> None:
    package = import_module("jigcam.template")
    typed = next(
        node for node in ast.parse(Path(package.__file__ or "").read_text("utf-8")).body if isinstance(node, ast.If)
    )
    names = {
        (node.module, alias.name) for node in typed.body if isinstance(node, ast.ImportFrom) for alias in node.names
    }
    assert {name for _, name in names} <= set(dir(package))
    for module, name in names:
        assert getattr(package, name) is getattr(import_module(module or ""), name)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        package.nothing  # noqa: B018 - asking for it is the test


# ---- no circles, and rooms that know neither tools nor each other

TOOLS = {"kit", "template", "toolpath", "proof"}


def name_of(path: Path) -> str:
    """The full name of a module."""
    return ".".join(["jigcam", *path.relative_to(PACKAGE).with_suffix("").parts]).removesuffix(".__init__")


def imported_modules(path: Path, names: set[str], *, late: bool = True) -> set[str]:
    """Those of `names` that a file imports, a module that is taken from a package as such; late: see `imported`."""
    tree = ast.parse(path.read_text("utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree) if late else tree.body:
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            inside = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= inside & names
            if not inside <= names:
                found.add(node.module or "")
    return found & names


def test_no_modules_import_each_other_in_a_circle() -> None:
    paths = {name_of(path): path for path in modules()}
    graph = {name: imported_modules(path, set(paths), late=False) - {name} for name, path in paths.items()}
    TopologicalSorter(graph).prepare()  # raises CycleError with the modules of a circle


def rooms() -> dict[str, dict[str, Path]]:
    """The modules of each kind of joint, by the name of its room."""
    found: dict[str, dict[str, Path]] = {name.replace("-", "_"): {} for name in kind_names()}
    for path in modules():
        parts = name_of(path).split(".")
        if parts[:2] == ["jigcam", "joints"] and len(parts) > 2:
            found[parts[2]][name_of(path)] = path
    return found


def entered(room: str) -> dict[str, Path]:
    """The modules of a room that are imported with it: the design, by which a job is read and judged."""
    there = rooms()[room]
    reached: dict[str, Path] = {}
    todo = {f"jigcam.joints.{room}"}
    while todo:
        name = todo.pop()
        reached[name] = there[name]
        todo |= imported_modules(there[name], set(there), late=False) - set(reached)
    return reached


@pytest.mark.parametrize("room", rooms())
def test_designs_do_not_know_tools(room: str) -> None:
    """Neither when the room is imported, nor, in rooms of several modules, anywhere in those that come with it.

    A room that is one module plans in functions, which import what they need; a room's `__init__` does so too.
    """
    for path in entered(room).values():
        used = {name.split(".")[1] for name in imported(path, late=False) if name.startswith("jigcam.")}
        assert not used & TOOLS, path
        if path.parent.name == room and path.name != "__init__.py":
            assert not layers_used(path) & TOOLS, path


def test_reading_and_judging_a_job_of_any_kind_loads_no_planner() -> None:
    code = (
        "import sys\n"
        "from jigcam.joints import kind, kind_names\n"
        "for name in kind_names(): kind(name)\n"
        "loaded = {name.split('.')[1] for name in sys.modules if name.startswith('jigcam.')}\n"
        "assert not loaded & {'template', 'toolpath', 'gcode', 'proof', 'drawing'}, loaded\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


@pytest.mark.parametrize("room", rooms())
def test_no_kind_imports_another(room: str) -> None:
    others = {name for other, there in rooms().items() if other != room for name in there}
    for path in rooms()[room].values():
        assert not imported_modules(path, others), path


# ---- one voice

WRITES_A_FILE_IN_UNITS = {
    "making/kind.py": "which of a kind's starters is meant: no text is worded",
}
"""Modules in which units are no way to speak, and why."""
STILL_IN_UNITS = {"drawing": 21, "dovetails": 7, "joints": 16}
"""Parameters `units: str` that are left, by package: a `Drawing` keeps its units for its renderers, and the rooms hand
them to their pictures and rules. To be lowered, never raised; no other package has any."""


def test_text_in_the_jobs_units_goes_through_its_voice() -> None:
    """A function that words lengths takes a `Voice`, and no units of which it makes its own; the packages that turn
    text into numbers and back (`units`, `document`) and that take the user's word for them (`cli`) do it by name."""
    left: dict[str, list[str]] = {}
    for path in modules():
        name, layer = path.relative_to(PACKAGE).as_posix(), layer_of(path)
        if layer in ("units", "document", "cli") or name in WRITES_A_FILE_IN_UNITS:
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            said = isinstance(node, ast.arg) and node.arg == "units"
            kept = isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.target.id == "units"
            if (said or kept) and node.annotation and "str" in ast.unparse(node.annotation).split(" | "):
                left.setdefault(layer, []).append(f"{name}:{node.lineno}")
    assert not {layer: found for layer, found in left.items() if len(found) > STILL_IN_UNITS.get(layer, 0)}
