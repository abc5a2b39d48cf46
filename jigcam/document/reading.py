"""TOML files, read so that every fault can be told with its file, line and key.

A *document* is the parsed file together with the line of each of its keys. It also runs a pydantic model over its
data, and turns everything that the model has to say into `InputError`s, all at once.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeVar

from jigcam.document.positions import Key, key_lines
from jigcam.document.repair import PLACE, is_ours, likely_repair
from jigcam.document.source import read_bounded
from jigcam.errors import Faults, InputError, JigcamError, nearest
from jigcam.units.parse import shown

if TYPE_CHECKING:
    from pydantic import BaseModel, ValidationError

M = TypeVar("M", bound="BaseModel")

_QUOTED: Final = re.compile(r" ?\(.*\)|(?<=key) ['\"].*", re.DOTALL)
"""The names that the parser's messages quote from a file; single characters, which it quotes too, may stay."""

_PLAINLY: Final = {
    "Cannot overwrite a value": "a key stands twice in one table",
    "Cannot declare": "a table stands twice",
    "Expected newline or end of document": "there is more in the line than a value",
    "Invalid value": "no value stands here",
}
"""Some of the parser's messages in plain words."""

MOST: Final = 256 * 1024
"""Bytes of the largest job or kit that is read; the shipped ones have a few thousand."""

LONGEST_SHOWN: Final = 100
"""Letters of a line that are shown of a file that is not TOML."""

_KEY: Final = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP_KEY: Final = re.compile(rf"(?<![A-Za-z0-9_-]){_KEY}(?:[ \t]*+\.[ \t]*+{_KEY}){{50}}")
"""A key of so many names that the parser's time, which grows with their square, would matter."""

_WANTED_TYPES: Final = {
    "dict_type": "a table of keys",
    "tuple_type": "a list",
    "list_type": "a list",
    "string_type": "text in quotes",
}


class Misfit(ValueError):
    """Faults that a model finds between its fields; raised inside validators, each fault with the key to blame.

    rest: what pydantic found in the fields themselves, if that is already known. written: how some of their keys stand
    in the file.
    """

    def __init__(
        self,
        *faults: tuple[Key, InputError],
        rest: ValidationError | None = None,
        written: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__("; ".join(error.what for _, error in faults))
        self.faults = faults
        self.rest = rest
        self.written = written or {}


@dataclass(frozen=True)
class Document:
    """A TOML file: its data, and the line of each key. path: as given, for messages; text: as it was read."""

    data: dict[str, Any]
    path: Path
    lines: Mapping[Key, int] = field(default_factory=dict, repr=False)
    text: str = field(default="", repr=False)

    @classmethod
    def read(cls, path: Path) -> Document:
        """Read and parse a file. Raises InputError if it cannot be read, is too large, is not UTF-8, or is not TOML."""
        raw = read_bounded(path, MOST, "a TOML file")
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError as fault:
            byte, line = fault.object[fault.start], fault.object[: fault.start].count(b"\n") + 1
            raise InputError(
                "the file is not text in UTF-8",
                where=f"{path}:{line}",
                found=f"byte 0x{byte:02x}",
                wanted="a TOML file, saved as UTF-8",
            ) from fault
        return cls.parse(text, path)

    @classmethod
    def parse(cls, text: str, path: Path) -> Document:
        """Parse the text of a file. Raises InputError, with line and column, if it is not TOML.

        Nothing of a text that is not TOML is quoted: it may be a file that was never meant to be read here.
        """
        text = text.replace("\r\n", "\n")
        if _DEEP_KEY.search(text):
            raise _too_deep(path)
        try:
            return cls(tomllib.loads(text), path, key_lines(text), text)
        except tomllib.TOMLDecodeError as fault:
            raise _not_toml(fault, text, path) from None
        except RecursionError as fault:
            raise _too_deep(path) from fault
        except ValueError as fault:  # Python's own limit on the digits of an integer
            raise InputError(
                "the file holds a number that is too long",
                where=str(path),
                found="a whole number of thousands of digits",
                wanted="numbers of a few digits",
            ) from fault

    def line(self, key: Key) -> int:
        """The line on which a key stands, or else the nearest table around it; 1 if there is none."""
        for end in range(len(key), 0, -1):
            if (line := self.lines.get(tuple(key[:end]))) is not None:
                return line
        return 1

    def where(self, *key: str | int) -> str:
        """File, line and key, for the field of that name in errors and findings: `job.toml:23: joints[1].length`."""
        place = f"{self.path}:{self.line(key)}"
        return f"{place}: {key_text(key)}" if key else place

    def placed(self, error: InputError, key: Key) -> InputError:
        """The same error with this file's place of the key."""
        return InputError(error.what, where=self.where(*key), found=error.found, wanted=error.wanted, mend=error.mend)

    def validate(self, model: type[M], context: Mapping[str, Any], faults: Iterable[InputError] = ()) -> M:
        """The data as a `model`, validated with `context`.

        faults: others that were found before, to be told in one go. Raises Faults with one InputError for each fault,
        in the order of the file.
        """
        from pydantic import ValidationError

        found: list[JigcamError] = list(faults)
        try:
            made = model.model_validate(self.data, context={"file": model, **context}, by_alias=True, by_name=False)
        except ValidationError as error:
            found += self._translated(error)
        if found:
            raise Faults(sorted(found, key=self._line_of))
        return made

    def _translated(
        self, error: ValidationError, at: Key = (), written: Mapping[str, str] | None = None
    ) -> list[InputError]:
        """What pydantic found, fault by fault; `at` is where the validated data hangs in the file."""
        out: list[InputError] = []
        for detail in error.errors(include_url=False):
            key = (
                *at,
                *(
                    (written or {}).get(str(part), part) if not number else part
                    for number, part in enumerate(detail["loc"])
                ),
            )
            cause = detail.get("ctx", {}).get("error")
            if isinstance(cause, Misfit):
                out += [self.placed(fault, (*key, *inner)) for inner, fault in cause.faults]
                out += self._translated(cause.rest, key, cause.written) if cause.rest is not None else []
            elif isinstance(cause, InputError):
                out.append(self.placed(cause, key))
            elif isinstance(cause, type(error)):  # a model that was validated inside a validator
                out += self._translated(cause, key)
            else:
                out.append(self.placed(_from_pydantic(detail), key))
        return out

    def _line_of(self, error: JigcamError) -> int:
        """The line in an error's `where`, to sort by."""
        match = re.match(rf"{re.escape(str(self.path))}:(\d+)", error.where)
        return int(match[1]) if match else 0


def key_text(key: Key) -> str:
    """A key as people write it, items of lists counted from 1: `joints[1].from`."""
    parts: list[str] = []
    for part in key:
        if isinstance(part, int):
            parts.append(f"[{part + 1}]")
        else:
            name = part if re.fullmatch(r"[A-Za-z0-9_-]+", part) else shown(part)
            parts.append(f".{name}" if parts else name)
    return "".join(parts)


def unknown_key(key: str, known: Iterable[str], called: str = "") -> InputError:
    """The error for a key that nobody reads, with the nearest one that somebody does.

    called: what it is called here, where it is a name from elsewhere.
    """
    names = list(known)
    if called:
        return InputError(
            f"the key {key_text((key,))} is not known here",
            found=key_text((key,)),
            wanted=called,
            mend=f"write {called}",
        )
    near = nearest(key, names)
    return InputError(
        f"the key {key_text((key,))} is not known",
        found=key_text((key,)),
        wanted="one of " + ", ".join(names),
        mend=f"did you mean {near}?" if near else "",
    )


def _too_deep(path: Path) -> InputError:
    return InputError("the file nests too deeply", where=str(path), wanted="tables and lists a few levels deep")


def _not_toml(fault: tomllib.TOMLDecodeError, text: str, path: Path) -> InputError:
    """The parser's fault with its place and in its words, without those that it quotes from the file; and what is
    likely missing. The line itself is shown of a file that was written for jigcam."""
    match = PLACE.fullmatch(str(fault))
    what = _QUOTED.sub("", match["what"] if match else str(fault))
    what = next((plain for said, plain in _PLAINLY.items() if what.startswith(said)), what)
    if match and match["line"]:
        line, column = int(match["line"]), int(match["column"])
    else:
        line, column = text.count("\n") + 1, len(text) - text.rfind("\n")
    rows = text.split("\n")
    ended = line > len(rows) or not rows[line - 1][column - 1 :].strip()
    found = ("the end of the line" if line < len(rows) else "the end of the text") if ended else ""
    repair, place, mend = likely_repair(text, line, column), f"{line}:{column}", ""
    if repair is not None:
        place = place if repair.line == line else str(repair.line)
        what = repair.says
    if is_ours(text, line):
        at = min(repair.line if repair else line, len(rows))
        found = rows[at - 1].strip()[:LONGEST_SHOWN] or found
        mend = repair.written[:LONGEST_SHOWN] if repair else ""
    return InputError(
        f"this is not TOML: {what[:1].lower()}{what[1:]}",
        where=f"{path}:{place}",
        found=found,
        wanted="" if mend else 'lines such as key = "value", with text and fractions in quotes',
        mend=mend,
    )


def _from_pydantic(detail: Any) -> InputError:
    """One of pydantic's own faults in our words."""
    kind, value = detail["type"], detail["input"]
    last = str(detail["loc"][-1]) if detail["loc"] else "the file"
    if kind == "missing":
        return InputError(f"{last} is missing", found="nothing", wanted=f"a line {last} = …")
    if kind == "literal_error":
        choices = re.findall(r"'([^']*)'", detail["ctx"]["expected"])
        near = nearest(value, choices) if isinstance(value, str) else ""
        return InputError(
            f"{last} cannot be {shown(value)}",
            found=shown(value),
            wanted="one of " + ", ".join(f'"{choice}"' for choice in choices),
            mend=f'did you mean "{near}"?' if near else "",
        )
    return InputError(
        f"{last} cannot be {shown(value)}", found=shown(value), wanted=_WANTED_TYPES.get(kind, detail["msg"])
    )
