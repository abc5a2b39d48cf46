"""Our data classes beside the library's, of the same declarations."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from dataclasses import field
from typing import Any

import pytest

from jigcam import values

Maker = Callable[..., Any]


def zoo(dataclass: Maker) -> list[type]:
    """The ways in which the house declares data classes."""

    @dataclass(frozen=True, slots=True)
    class Point:
        """With docs."""

        x: float
        y: float = 2.0

    @dataclass(frozen=True)
    class Noted:
        x: float
        notes: list[str] = field(default_factory=list)
        hidden: dict[str, int] = field(default_factory=dict, repr=False, compare=False)

    @dataclass(frozen=True)
    class Wider(Noted):
        z: int = 0

        def __post_init__(self) -> None:
            object.__setattr__(self, "z", self.z + 1)

    @dataclass(frozen=True, kw_only=True)
    class ByName:
        a: int = 1
        b: str

    @dataclass(frozen=True, eq=False)
    class Itself:
        x: float

    @dataclass(slots=True)
    class Open:
        x: float
        rest: tuple[int, ...] = ()

    @dataclass
    class Empty:
        pass

    @dataclass(frozen=True, slots=True)
    class One:
        x: float

        def __eq__(self, other: object) -> bool:
            return isinstance(other, type(self)) and abs(self.x - other.x) < 1.0

    return [Point, Noted, Wider, ByName, Itself, Open, Empty, One]


CALLS: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    ((), {}),
    ((1.0,), {}),
    ((1.0, 5), {}),
    ((), {"x": 3.0}),
    ((), {"b": "b"}),
    ((1,), {"b": "b"}),
    ((1.0, 2.0, 3.0), {}),
    ((1.0,), {"q": 1}),
]


def outcome(act: Callable[..., Any], *arguments: Any, **named: Any) -> Any:
    """What comes of it; of an error its class."""
    try:
        return act(*arguments, **named)
    except Exception as error:
        return type(error)


@pytest.mark.parametrize("number", range(8))
def test_data_classes_are_as_those_of_the_library(number: int) -> None:
    ours, theirs = zoo(values.dataclass)[number], zoo(dataclasses.dataclass)[number]
    names = [each.name for each in dataclasses.fields(theirs)]
    assert [each.name for each in dataclasses.fields(ours)] == names
    assert ours.__match_args__ == theirs.__match_args__
    made = 0
    for arguments, named in CALLS:
        one, other = outcome(ours, *arguments, **named), outcome(theirs, *arguments, **named)
        if isinstance(other, type):
            assert one is other
            continue
        made += 1
        assert [getattr(one, name) for name in names] == [getattr(other, name) for name in names]
        assert (one == ours(*arguments, **named)) is (other == theirs(*arguments, **named))
        assert one == copy.copy(one) or ours.__name__ == "Itself"
        assert one != "another kind"
        if ours.__name__ != "Itself":
            assert outcome(hash, one) == outcome(hash, other)
        assert repr(one).split(" object at ")[0] == repr(other).split(" object at ")[0]
        for name in names:
            for act in ((setattr, name, 1), (delattr, name)):
                copies = copy.copy(one), copy.copy(other)
                assert outcome(act[0], copies[0], *act[1:]) == outcome(act[0], copies[1], *act[1:]), act
        if names:
            changed = dataclasses.replace(one, **{names[0]: 7})
            assert getattr(changed, names[0]) == 7
            assert dataclasses.asdict(one) == dataclasses.asdict(other)
    assert made


def test_data_classes_go_from_process_to_process() -> None:
    from jigcam.findings import Finding

    finding = Finding("note", "rule", "here", "says")
    assert pickle.loads(pickle.dumps(finding)) == finding


def test_no_list_is_shared_between_objects() -> None:
    kind = zoo(values.dataclass)[1]
    one, other = kind(1.0), kind(1.0)
    one.notes.append("mine")
    assert other.notes == []
