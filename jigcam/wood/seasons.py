"""What the seasons do to boards that are joined: how damp they are made, and how dry and damp they become.

Change of size follows Eq. 13-2 of the Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-282): ΔD = D·C·(M₂ − M₁),
with the coefficients of its Table 13-5 and the moisture contents of its Eq. 4-5: averages of many boards, good from 6
to 14 %, and no promise for one board. Along the grain nothing moves: under 0.01 % a point (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin
from typing import TYPE_CHECKING, Final, Self

from jigcam.errors import InputError
from jigcam.kit import wood
from jigcam.kit.climate import DAMP, DRY, SHOP
from jigcam.wood.season import KNOWN_RANGE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jigcam.job import Board, Job
    from jigcam.kit import Kit, Sawn, Wood

SHOWS: Final = 0.5
"""A gap or a step that grows by more is seen, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Season:
    """One end of the year. name: "dry" or "damp". moisture: of wood then, in %. change: from the shop, in points."""

    name: str
    moisture: float
    change: float

    def __str__(self) -> str:
        return f"{self.name} ({self.moisture:.1f} % moisture)"


@dataclass(frozen=True, slots=True)
class Seasons:
    """Moisture contents of wood in %: at the dry end of the year, in the shop where it is measured and cut, damp."""

    dry: float
    shop: float
    damp: float

    @classmethod
    def of(cls, job: Job, kit: Kit) -> Self:
        """Of a job with a kit: what the job says goes before what the kit says.

        A shop of which neither says anything is no drier or damper than the year. Raises InputError where the dry end
        is not drier than the damp one.
        """
        said = job.climate.over(kit.climate)
        dry, damp = ((air or usual).moisture_content for air, usual in ((said.dry, DRY), (said.damp, DAMP)))
        if dry > damp:
            raise InputError(
                "the dry end of the year is damper than the damp one",
                where=job.where("climate"),
                found=f"{dry:.1f} % and {damp:.1f} % of moisture",
                wanted="dry below damp; what job and kit leave out is 6.2 % (30 % of humidity) and 12.0 % (65 %)",
            )
        shop = said.shop.moisture_content if said.shop else min(max(SHOP.moisture_content, dry), damp)
        return cls(dry, shop, damp)

    def __iter__(self) -> Iterator[Season]:
        """Both ends: dry, damp."""
        yield Season("dry", self.dry, self.dry - self.shop)
        yield Season("damp", self.damp, self.damp - self.shop)

    def grows_across(self, board: Board | None) -> float:
        """How much wider a board becomes than it was made, mm; 0 where its wood is not known."""
        moving = Moving.of(board)
        if moving is None or board is None:
            return 0.0
        return max(0.0, board.width * moving.in_plane(pi / 2.0, self.damp - self.shop))

    @property
    def remark(self) -> str:
        """What words of these seasons end with: what they rest on."""
        rough = min(self.dry, self.damp) < KNOWN_RANGE[0] or max(self.dry, self.damp) > KNOWN_RANGE[1]
        beyond = ", a rough guess beyond 6 to 14 %" if rough else ""
        return (
            f"reckoned from {self.shop:.1f} % as made, by averages of the Wood Handbook{beyond}; for another climate "
            "give [climate] in job or kit"
        )


@dataclass(frozen=True, slots=True)
class Moving:
    """A board of a known wood as it moves. guessed: nothing says how it is sawn, and flat was taken, as most are."""

    wood: Wood
    sawn: Sawn
    guessed: bool

    @classmethod
    def of(cls, board: Board | None) -> Self | None:
        """None where there is no board, or its wood is not known."""
        if board is None or board.wood is None:
            return None
        return cls(wood(board.wood), board.sawn or "flat", board.sawn is None)

    def in_plane(self, angle: float, points: float) -> float:
        """Share by which its face grows in a direction at `angle` from the grain (rad), by so many points of moisture.

        Only across the grain it moves, and a length at an angle has sin² of that along itself (derived: both ends move
        across the grain by their distance across it).
        """
        return sin(angle) ** 2 * self.wood.across(self.sawn) * points

    def across_line(self, angle: float, points: float) -> float:
        """The same square to a line in its face that runs at `angle` from the grain: how a groove's width grows."""
        return cos(angle) ** 2 * self.wood.across(self.sawn) * points

    def through(self, points: float) -> float:
        """Share by which its thickness grows."""
        return self.wood.through(self.sawn) * points

    def __str__(self) -> str:
        return f"{self.wood.name}, {self.sawn}-sawn{', as nothing says otherwise' if self.guessed else ''}"
