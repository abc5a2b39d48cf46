"""The loose tenon laid into its mortises as they were cut, virtually."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from jigcam.geometry import Path
from jigcam.making.axes import axes_line
from jigcam.proof import edge_outline, fit
from jigcam.proof.fit import findings_of
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.geometry import Region
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.joints.mortise.tenon import LooseTenon
    from jigcam.proof import Fit
    from jigcam.units import Voice


@dataclass(frozen=True)
class TenonApart:
    """What axes that are apart may make of a mortise, mm. room: of the tenon, least and most, if the router turns."""

    eccentricity: float
    room: tuple[float, float]

    @property
    def shifted(self) -> float:
        """With the router held one way."""
        return self.eccentricity

    def as_dict(self) -> dict[str, Any]:
        """For the manifest."""
        return {"eccentricity_mm": round(self.eccentricity, 4), "room_mm": [round(mm, 4) for mm in self.room]}


@dataclass(frozen=True)
class RowFit:
    """A tenon in each mortise of one board, mm.

    seats: in turn. depth: of the shallowest, as its file cuts it; None where a router's setting makes it. drawn: depth.
    play: of the bushing in its opening; None where none rides.
    """

    board: str
    where: str
    seats: tuple[Fit, ...]
    drawn: float
    depth: float | None
    play: float | None = None

    @property
    def tightest(self) -> Fit:
        """The one with the least room."""
        return min(self.seats, key=lambda each: each.total)

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        facts: dict[str, Any] = {"board": self.board, "in": self.where, "depth_drawn_mm": round(self.drawn, 4)}
        facts["depth_mm"] = None if self.depth is None else round(self.depth, 4)
        facts["seats"] = [{**seat.as_dict(), "cheek_mm": round(seat.total / 2.0, 4)} for seat in self.seats]
        if self.play is not None:
            facts["play_mm"] = round(self.play, 4)
        return facts


@dataclass(frozen=True)
class MortiseFit:
    """The tenon, and how it seats in each board.

    ridden: whether a bushing rode in a template. apart: what axes that are apart may make of it, where they are.
    """

    tenon: LooseTenon
    rows: tuple[RowFit, ...]
    ridden: bool = False
    apart: TenonApart | None = None

    @property
    def over(self) -> float | None:
        """Room of the tenon's length in both mortises as cut, mm; None where one is set by hand or not known."""
        depths = [row.depth for row in self.rows]
        if None in depths:
            return None
        first, last = depths[0], depths[-1]
        assert first is not None
        assert last is not None
        return first + last - self.tenon.length

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm and degrees."""
        over = self.over
        return {
            "tenon": self.tenon.as_dict(),
            "clearance_drawn_mm": round(self.tenon.play, 4),
            "over_length_mm": None if over is None else round(over, 4),
            "mortises": [row.as_dict() for row in self.rows],
            **({"axes_apart": self.apart.as_dict()} if self.apart else {}),
        }

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        seats = [seat for row in self.rows for seat in row.seats]
        room = voice.span(min(seat.total for seat in seats), max(seat.total for seat in seats))
        seated = "seats" if all(seat.seats for seat in seats) else "does NOT seat"
        return [f"the tenon has {room} of play across, and {seated}"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        lines = [f"the loose tenon is {self.tenon.words(voice)}"]
        for row in self.rows:
            seat = row.tightest
            ends = "" if seat.ends is None else f", {voice.length(seat.ends)} at the least all round"
            which = f"in the tightest of {len(row.seats)} mortises" if len(row.seats) > 1 else "in the mortise"
            lines.append(
                f"{which} in the {row.where} of {row.board}, as cut, it has {voice.length(seat.total)} of play in all, "
                f"{voice.length(seat.total / 2.0)} at each cheek{ends}; its round edges "
                f"{'seat' if all(each.seats for each in row.seats) else 'do NOT seat'}"
            )
        if self.over is not None:
            lines.append(f"along its length {voice.length(self.over)} stay free for glue and dust")
        if self.ridden:
            lines.append(axes_line(self.apart, voice, "mortise"))
        return lines


def row_fit(
    it: Mortise, row: Row, sections: Sequence[Region], voice: Voice, depth: float | None, play: float | None = None
) -> tuple[RowFit, list[Finding]]:
    """The tenon in each mortise of a row, and what is to be said. sections: of each as cut, in the place frame."""
    seats = []
    findings: list[Finding] = []
    for number, section in enumerate(sections):
        seat = tenon_seat(it.tenon, row, section, number)
        which = f", mortise {number + 1}" if row.count > 1 else ""
        findings += findings_of(seat, it.clearance, f"{it.name}, {row.where} of {row.board.name}{which}", voice.units)
        seats.append(seat)
    return RowFit(row.board.name, row.where, tuple(seats), row.depth, depth, play), findings


def tenon_seat(tenon: LooseTenon, row: Row, section: Region, number: int = 0) -> Fit:
    """The best seat of a tenon in one mortise as cut; section: in the place frame of the row."""
    outline = edge_outline(row.centreline(number), tenon.thickness, tenon.edge_radius, tenon.width)
    return fit(section, _straight(row, number), tenon.thickness, mate=outline, margin=0.0)


def _straight(row: Row, number: int) -> Path:
    """The centreline between the round ends, where the walls are straight."""
    (x, y), (ux, uy) = row.centres[number], row.along
    half = max((row.length - row.width) / 2.0, 0.01)
    return Path.through([(x - half * ux, y - half * uy), (x + half * ux, y + half * uy)])
