"""Data classes as of the standard library, made in a quarter of its time.

The library compiles up to six functions for each class, which is a third of what all our imports cost. Here the class
gets its fields from the library and one compiled function, its `__init__`; how it is compared, hashed, shown, pickled
and kept from change is the same function for all classes. `fields`, `replace`, `asdict` and type checkers see the
library's own data classes.

A frozen class may inherit only from classes made here, as the library's count as frozen in another way.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    import dataclasses as library
    from operator import attrgetter
    from reprlib import recursive_repr

    def dataclass(cls=None, /, *, frozen=False, slots=False, eq=True, kw_only=False):
        """As `dataclasses.dataclass` with these arguments."""

        def made(given):
            new = library.dataclass(
                given, init=False, repr=False, eq=False, slots=slots, kw_only=kw_only, match_args=True
            )
            own = {**vars(new)}
            parts = {"__init__": _init(new), "__repr__": _repr}
            if eq:
                parts["__eq__"] = _eq
                by_hand = own.get("__hash__") is not None or ("__hash__" in own and "__eq__" not in own)
                if not by_hand:
                    new.__hash__ = _hash if frozen else None
            if frozen:
                parts |= {"__setattr__": _no_setting, "__delattr__": _no_deleting}
                parts |= {"__getstate__": _state, "__setstate__": _set_state} if slots else {}
            for name, part in parts.items():
                if name not in own:
                    setattr(new, name, part)
            if eq:
                new.__compared__ = staticmethod(_taken([f.name for f in library.fields(new) if f.compare]))
            return new

        return made if cls is None else made(cls)

    def _init(cls):
        """The `__init__` of a class, compiled; it sets fields past `__setattr__`, as the library's does."""
        known = {"_set": object.__setattr__, "_absent": _ABSENT}
        takes, by_name, body = [], [], []
        for field in library.fields(cls):
            name, factory = field.name, field.default_factory is not library.MISSING
            value = name
            if factory:
                known[f"_make_{name}"] = field.default_factory
                value = f"_make_{name}() if {name} is _absent else {name}" if field.init else f"_make_{name}()"
            elif field.default is not library.MISSING:
                known[f"_default_{name}"] = field.default
            elif not field.init:
                continue
            if field.init:
                optional = "=_absent" if factory else f"=_default_{name}" if f"_default_{name}" in known else ""
                (by_name if field.kw_only else takes).append(name + optional)
            elif not factory:
                value = f"_default_{name}"
            body.append(f"_set(self, {name!r}, {value})")
        if hasattr(cls, "__post_init__"):
            body.append("self.__post_init__()")
        takes += ["*", *by_name] if by_name else []
        exec(f"def __init__({', '.join(['self', *takes])}):\n " + "\n ".join(body or ["pass"]), known)
        init = known["__init__"]
        init.__qualname__, init.__module__ = f"{cls.__qualname__}.__init__", cls.__module__
        init.__annotations__ = {f.name: f.type for f in library.fields(cls) if f.init} | {"return": None}
        return init

    _ABSENT = library.field  # no value of a field

    def _taken(names):
        """A function from an object to the tuple of those attributes."""
        if len(names) > 1:
            return attrgetter(*names)
        return (lambda one: (getattr(one, names[0]),)) if names else lambda one: ()

    def _eq(self, other):
        if other.__class__ is not self.__class__:
            return NotImplemented
        taken = self.__compared__
        return taken(self) == taken(other)

    def _hash(self):
        return hash(self.__compared__(self))

    @recursive_repr()
    def _repr(self):
        told = ", ".join(f"{f.name}={getattr(self, f.name)!r}" for f in library.fields(self) if f.repr)
        return f"{type(self).__qualname__}({told})"

    def _no_setting(self, name, value):
        raise library.FrozenInstanceError(f"cannot assign to field {name!r}")

    def _no_deleting(self, name):
        raise library.FrozenInstanceError(f"cannot delete field {name!r}")

    def _state(self):
        return [getattr(self, field.name) for field in library.fields(self)]

    def _set_state(self, state):
        for field, value in zip(library.fields(self), state, strict=True):
            object.__setattr__(self, field.name, value)
