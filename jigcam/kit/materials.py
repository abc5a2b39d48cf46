"""Woods and sheet goods: what the tables in profiles/ say about them."""

from __future__ import annotations

from functools import cache
from typing import Literal, NamedTuple

from jigcam.errors import unknown_name
from jigcam.kit.profiles import profile_table

Sawn = Literal["quarter", "rift", "flat"]


class Wood(NamedTuple):
    """A wood. radial, tangential: change of size per percentage point of moisture, as C_R and C_T of Table 13-5.

    hard: of a broad-leaved tree, which is what limits of dust and tables of chip loads mean by hardwood.
    """

    name: str
    radial: float
    tangential: float
    hard: bool

    def across(self, sawn: Sawn) -> float:
        """Coefficient for the width of a board that is sawn so; between the two where it is rift."""
        return {"quarter": self.radial, "flat": self.tangential, "rift": (self.radial + self.tangential) / 2}[sawn]

    def through(self, sawn: Sawn) -> float:
        """Coefficient for its thickness: the other way round."""
        return {"quarter": self.tangential, "flat": self.radial, "rift": (self.radial + self.tangential) / 2}[sawn]


class Material(NamedTuple):
    """A sheet good. movement: change in its plane per percentage point of moisture, None where unknown.

    cuts_like: the class whose chip loads it takes.
    """

    name: str
    movement: float | None
    cuts_like: Literal["hardwood", "softwood", "mdf"]


@cache
def woods() -> dict[str, Wood]:
    """All woods of profiles/woods.toml by name."""
    rows = profile_table("woods").items()
    return {name: Wood(name, row["radial"], row["tangential"], row["hard"]) for name, row in rows}


@cache
def common_names() -> dict[str, list[str]]:
    """Everyday names that say no more than one of several woods, each with the names of these."""
    names: dict[str, list[str]] = profile_table("woods", "common")
    return names


@cache
def materials() -> dict[str, Material]:
    """All sheet goods of profiles/sheets.toml by name."""
    rows = profile_table("sheets").items()
    return {name: Material(name, row.get("movement"), row["cuts_like"]) for name, row in rows}


def wood(name: str) -> Wood:
    """The wood of that name, in any case. Raises InputError, with the names that may be meant, if there is none."""
    for known, each in woods().items():
        if known.casefold() == name.casefold():
            return each
    raise unknown_name("wood", name, woods(), common=common_names())
