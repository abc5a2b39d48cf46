"""Where the program makes findings, read off its source: rule and level of every `Finding(level, rule, …)` in it.

Names are followed as far as a reader's eye goes: a constant, `a if … else b`, a name assigned so in the same function,
a parameter of a helper that is called with one of these (also as `name = partial(helper, …)`), and the field `rule` of
a class of the same package.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import jigcam

PACKAGE = Path(jigcam.__file__).parent

PASSED_ON = {
    ("making/made_joint.py", "each.rule"): "a finding of the proof, with the name of its file",
    ("proof/safety.py", "fault.rule"): "a fault of the reader, see jigcam/gcode/rules.py",
    ("proof/safety.py", "remark.rule"): "a remark of the reader, see jigcam/gcode/rules.py",
}
"""Findings whose rule was made elsewhere: file and expression, and what it is."""


@dataclass(frozen=True, slots=True)
class Made:
    """One place that makes a finding. room: the package, or "joints.groove"."""

    place: str
    room: str
    rule: str
    level: str


@dataclass
class Scan:
    """What was found; unread: places whose rule or level cannot be followed."""

    made: list[Made] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    passed_on: set[tuple[str, str]] = field(default_factory=set)


Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class _Call:
    """A call that may make a finding, in its function and file."""

    node: ast.Call
    function: Function | None
    file: str

    @property
    def name(self) -> str:
        called = self.node.func
        return called.id if isinstance(called, ast.Name) else getattr(called, "attr", "")

    @property
    def place(self) -> str:
        return f"jigcam/{self.file}:{self.node.lineno}"

    @property
    def room(self) -> str:
        return room_of(self.file)

    def argument(self, index: int, name: str) -> ast.expr | None:
        by_name = {each.arg: each.value for each in self.node.keywords}
        return self.node.args[index] if index < len(self.node.args) else by_name.get(name)


def room_of(file: str) -> str:
    """The room that a file of the package belongs to."""
    parts = file.removesuffix(".py").split("/")
    return f"joints.{parts[1]}" if parts[0] == "joints" else parts[0]


def scan(folder: Path = PACKAGE) -> Scan:
    """Every finding made in a package."""
    result = Scan()
    calls: list[_Call] = []
    carriers: dict[str, dict[str, int]] = {}
    aliases: dict[tuple[str, str], str] = {}
    for path in sorted(folder.rglob("*.py")):
        file = path.relative_to(folder).as_posix()
        tree = ast.parse(path.read_text("utf-8"))
        calls += _calls(tree, None, file)
        carriers.setdefault(room_of(file), {}).update(_carriers(tree))
        aliases.update({(room_of(file), alias): helper for alias, helper in _partials(tree)})
    helpers: dict[tuple[str, str], tuple[int, int | str]] = {}
    for call in calls:
        if call.name == "Finding":
            _read(call, call.argument(0, "level"), call.argument(1, "rule"), carriers, calls, helpers, result)
    for call in calls:
        helper = helpers.get((call.room, aliases.get((call.room, call.name), call.name)))
        if helper is not None:
            rule, level = helper
            said = call.argument(level, "level") if isinstance(level, int) else ast.Constant(level)
            _read(call, said, call.argument(rule, "rule"), carriers, calls, {}, result)
    result.made = list(dict.fromkeys(result.made))
    return result


def _calls(node: ast.AST, function: Function | None, file: str) -> Iterator[_Call]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Call):
            yield _Call(child, function, file)
        yield from _calls(child, child if isinstance(child, Function) else function, file)


def _partials(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Names that stand for a helper with some of its arguments given, and the helper."""
    for node in ast.walk(tree):
        match node:
            case ast.Assign([ast.Name(alias)], ast.Call(ast.Name("partial"), [ast.Name(helper), *_])):
                yield alias, helper


def _carriers(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Classes that hold the name of a rule on its way to a finding, and which of their fields it is."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef) and node.name != "Finding":
            names = [each.target.id for each in node.body if _is_field(each)]  # type: ignore[attr-defined]
            if "rule" in names:
                yield node.name, names.index("rule")


def _is_field(node: ast.stmt) -> bool:
    return isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name)


def _read(
    call: _Call,
    level: ast.expr | None,
    rule: ast.expr | None,
    carriers: dict[str, dict[str, int]],
    calls: list[_Call],
    helpers: dict[tuple[str, str], tuple[int, int | str]],
    result: Scan,
) -> None:
    said = ast.unparse(rule) if rule is not None else ""
    if (call.file, said) in PASSED_ON:
        result.passed_on.add((call.file, said))
        return
    parameters = [each.arg for each in call.function.args.args] if call.function else []
    if call.name == "Finding" and said in parameters and call.function is not None:
        of_level = ast.unparse(level) if level is not None else ""
        fixed = level.value if isinstance(level, ast.Constant) else parameters.index(of_level)
        helpers[call.room, call.function.name] = (parameters.index(said), fixed)
        return
    levels, rules = _values(level, call.function), _values(rule, call.function)
    if rules is None and isinstance(rule, ast.Attribute) and rule.attr == "rule" and carriers[call.room]:
        mine = carriers[call.room]
        made = [each for each in calls if each.room == call.room and each.name in mine]
        found = [_values(each.argument(mine[each.name], "rule"), each.function) for each in made]
        rules = None if None in found else [name for names in found for name in names or ()]
    if not levels or not rules:
        result.unread.append(f"{call.place}: {ast.unparse(call.node)[:100]}")
        return
    result.made += [Made(call.place, call.room, name, each) for name in rules for each in levels]


def _values(node: ast.expr | None, function: Function | None) -> list[str] | None:
    """The texts that an expression can be; None if that cannot be read."""
    if isinstance(node, ast.Constant):
        return [str(node.value)]
    if isinstance(node, ast.IfExp):
        one, other = _values(node.body, function), _values(node.orelse, function)
        return None if one is None or other is None else one + other
    if isinstance(node, ast.Name) and function is not None:
        given = [
            _values(each.value, function)
            for each in ast.walk(function)
            if isinstance(each, ast.Assign | ast.AnnAssign) and node.id in map(ast.unparse, _targets(each))
        ]
        return None if not given or None in given else [text for texts in given for text in texts or ()]
    return None


def _targets(node: ast.Assign | ast.AnnAssign) -> list[ast.expr]:
    return node.targets if isinstance(node, ast.Assign) else [node.target]
