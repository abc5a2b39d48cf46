"""A job: boards and the joints to be cut in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, PrivateAttr, ValidationInfo, model_validator

from jigcam.document import Document, Misfit, key_text
from jigcam.document.fields import Name, NameOrPath, a_list
from jigcam.document.model import Model
from jigcam.document.positions import Key
from jigcam.errors import InputError, unknown_name
from jigcam.job.allowance import Allowance
from jigcam.job.board import SIZES, Board, like_faults
from jigcam.job.entry import Entry
from jigcam.job.sheets import shared_sheets, sheet_faults
from jigcam.job.slug import slug
from jigcam.kit import Climate, KeepOutBox
from jigcam.units import Voice
from jigcam.units.parse import shown


def _named(boards: Any, info: ValidationInfo) -> Any:
    """Each board's table with its key as its name."""
    if not isinstance(boards, dict):
        raise InputError("not a table of boards", found=shown(boards), wanted="tables such as [boards.side]")
    if info.context is None:
        return boards
    return {
        name: _named_board(name, table, boards) if isinstance(table, dict) else table for name, table in boards.items()
    }


def _named_board(name: str, table: dict[str, Any], boards: dict[str, Any]) -> dict[str, Any]:
    """A board's table with its key as its name, and with the sizes of the board that it is like."""
    like = table.get("like")
    other = boards.get(like) if isinstance(like, str) and like != name else None
    # What is wrong with `like` is told; sizes that are missing for that alone are no faults of their own.
    sizes = other if isinstance(other, dict) else dict.fromkeys(SIZES, "1 in") if like is not None else {}
    return {**{key: value for key, value in sizes.items() if key not in ("like", "count")}, **table, "name": name}


def _of_its_kind(table: Any, info: ValidationInfo) -> Any:
    """The entry of a raw table, by its key `kind`, of the kinds that the reader was handed."""
    if not isinstance(table, dict):
        return table
    kinds: Mapping[str, type[Entry]] = (info.context or {}).get("kinds", {})
    kind = table.get("kind")
    if kind is None:
        raise Misfit(
            (
                (),
                InputError(
                    "kind is missing",
                    found="nothing",
                    wanted="one of " + ", ".join(kinds),
                    mend="jigcam start says what each is",
                ),
            )
        )
    if not isinstance(kind, str) or kind not in kinds:
        unknown = (info.context or {}).get("unknown kind") or _unknown_kind(kinds)
        raise Misfit((("kind",), unknown(kind)))
    return kinds[kind].model_validate(table, context=info.context, by_alias=True, by_name=info.context is None)


def _unknown_kind(kinds: Iterable[str]) -> Callable[[object], InputError]:
    return lambda kind: unknown_name("kind of joint", kind if isinstance(kind, str) else shown(kind), kinds)


class Job(Model):
    """A job.

    title (`job` in files): what is made. units: those of its file, in which the maker is spoken to. kit: a name in
    profiles/, or a path relative to the file; left out: given with --kit. boards: each a table with its name. joints:
    to be cut in them. keep_out: clamps and screws that no path may meet. climate: where the piece stands and is made;
    it goes before the kit's. allowance: what boards are sawn out larger by.
    """

    title: Name = Field(alias="job")
    units: Literal["in", "mm"]
    kit: NameOrPath | None = None
    boards: Annotated[dict[str, Board], BeforeValidator(_named)]
    joints: Annotated[
        tuple[Annotated[Entry, BeforeValidator(_of_its_kind)], ...],
        a_list(None, "a list of tables, each under [[joints]]"),
    ]
    keep_out: Annotated[tuple[KeepOutBox, ...], a_list(None, "a list of tables, each under [[keep_out]]")] = ()
    climate: Climate = Field(default_factory=Climate)
    allowance: Allowance = Field(default_factory=Allowance)
    _document: Document | None = PrivateAttr(default=None)
    _worked_out: frozenset[tuple[str, str]] = PrivateAttr(default=frozenset())

    @model_validator(mode="after")
    def _likes_are_boards_of_their_own(self) -> Self:
        faults = [fault for board in self.boards.values() for fault in like_faults(board, self.boards)]
        if faults:
            raise Misfit(*faults)
        return self

    @model_validator(mode="after")
    def _sheets_can_be_shared(self) -> Self:
        faults = list(sheet_faults(self.joints, self.folders))
        if faults:
            raise Misfit(*faults)
        return self

    @property
    def worked_out(self) -> frozenset[tuple[str, str]]:
        """The sizes that the file left to its joints: board, and length or width."""
        return self._worked_out

    @property
    def path(self) -> Path | None:
        """The file that it came from; None if it was made in Python."""
        return self._document.path if self._document else None

    @property
    def source(self) -> str | None:
        """The text of that file, as it was read."""
        return self._document.text if self._document else None

    @property
    def folders(self) -> dict[str, str]:
        """For each joint's name, the name of its folder in the output."""
        return {each.name: slug(each.name, f"joint-{number}") for number, each in enumerate(self.joints, start=1)}

    @property
    def sheets(self) -> dict[str, tuple[Entry, ...]]:
        """The sheets that several joints share, by name, with these joints."""
        return shared_sheets(self.joints)

    @property
    def voice(self) -> Voice:
        """In which its maker is spoken to."""
        return Voice(self.units)

    def board(self, name: str) -> Board:
        """The board of that name. Raises InputError, with the nearest name, if there is none."""
        if name not in self.boards:
            raise unknown_name("board", name, self.boards)
        return self.boards[name]

    def joint(self, name: str) -> Entry:
        """The joint of that name. Raises InputError, with the nearest name, if there is none."""
        for each in self.joints:
            if each.name == name:
                return each
        raise unknown_name("joint", name, [each.name for each in self.joints])

    def where(self, *key: str | int) -> str:
        """File, line and key, for errors and findings; without the file where the job was made in Python."""
        return self._document.where(*key) if self._document else key_text(key)

    def where_of(self, entry: Entry, *key: str) -> str:
        """File, line and key of one of the job's joints, or of a key in it."""
        place: Key = ("joints", self.joints.index(entry), *key)
        return self.where(*place)
