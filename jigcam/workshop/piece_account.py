"""The account of a piece: its boards and how they meet, whether it closes, in which order it goes together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from jigcam.findings import Finding, by_gravity, stops
from jigcam.making.columns import columns, hanging
from jigcam.making.gcode_file import tidy
from jigcam.piece.assembly import AssemblyStep, PartAssembly, assembly_of
from jigcam.piece.copies import piece_of
from jigcam.piece.room import rooms_of
from jigcam.piece.space import Assembled, Copy
from jigcam.piece.together import drawn_stops, together_findings
from jigcam.piece.ways import joints_listed, listed
from jigcam.workshop.piece_order import order_account, seasons_of

if TYPE_CHECKING:
    from jigcam.job import Job


@dataclass(frozen=True)
class PieceAccount:
    """A job's piece in space, and what there is to say of it."""

    job: Job
    piece: Assembled

    @classmethod
    def of(cls, job: Job) -> PieceAccount:
        """Of a job, whatever its joints are made with."""
        return cls(job, piece_of(job))

    @property
    def copies(self) -> tuple[Copy, ...]:
        """Every real board."""
        return tuple(each.copy for each in self.piece.placed)

    @cached_property
    def parts(self) -> tuple[PartAssembly, ...]:
        """What hangs together."""
        return assembly_of(self.piece)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Gravest first. A joint that cannot be as drawn stops the piece: without it the piece would be another one."""
        return tuple(by_gravity([*drawn_stops(self.job), *together_findings(self.job, self.piece)]))

    @property
    def stopped(self) -> bool:
        """Whether no piece comes of it, so that neither order nor list is of use."""
        return bool(stops(self.findings))

    def count(self, name: str) -> int:
        """How many there are of a board."""
        return sum(copy.board.name == name for copy in self.copies)

    def as_dict(self) -> dict[str, Any]:
        """For `--json`: lengths in mm, directions in the body frame of a part's first board."""
        return {
            "boards": [
                {
                    "name": board.name,
                    "count": self.count(board.name),
                    "length_mm": tidy(board.length),
                    "width_mm": tidy(board.width),
                    "thickness_mm": tidy(board.thickness),
                }
                for board in self.job.boards.values()
            ],
            "closing": [{"where": each.contact.where, "error_mm": round(each.error, 4)} for each in self.piece.closing],
            "order": [_step_dict(step) for part in self.parts for step in part.steps],
            "findings": [finding.as_dict() for finding in self.findings],
        }

    def lines(self, width: int, *, sound: bool = False) -> list[str]:
        """For people. width: of the screen. sound: whether it is known already that nothing stops the piece."""
        boards, contacts = len(self.copies), len(self.piece.contacts)
        parts = [part for part in self.parts if part.contacts]
        hang = f", in {len(parts)} parts that hang together" if len(parts) > 1 else ""
        places = f"{contacts} place{'s' if contacts != 1 else ''}"
        lines = [*hanging(f"{self.job.title}: {boards} boards that meet in {places}{hang}", width), ""]
        before = self._before_room()
        lines += [*self._boards(width), *(hanging(before, width) if before else ()), ""]
        for number, part in enumerate(parts, start=1):
            head = f"part {number}" if len(parts) > 1 else "how they meet"
            lines += [head, *(line for each in self.meeting(part) for line in hanging(f"  {each}", width)), ""]
        order = [] if not sound and self.stopped else order_account(self.parts, self.job, width)
        return [*lines, *hanging(self.closes(), width), *order]

    def _boards(self, width: int) -> list[str]:
        says = self.job.voice.rule
        rows = [
            [board.name, str(self.count(board.name)), *map(says, (board.length, board.width, board.thickness))]
            for board in self.job.boards.values()
        ]
        return columns(["board", "of them", "length", "width", "thickness"], rows, width=width)

    def _before_room(self) -> str:
        """Which boards are sawn narrower than that; "" where none is."""
        seasons = seasons_of(self.job)
        rooms = rooms_of(self.job, self.piece, seasons)
        return f"{listed([*rooms])}: width before the room for movement; saw it as the cut list has it" if rooms else ""

    def meeting(self, part: PartAssembly) -> Iterator[str]:
        """A line for each board: what it stands in, and by what."""
        for placed in part.placed:
            its = [each for each in part.contacts if each.b == placed.copy]
            if its:
                told = ", ".join(f"{each.meeting.b_at} in {each.a.name} ({each.meeting.joint})" for each in its)
                yield f"{placed.copy.name}: {told}"

    def closes(self) -> str:
        """Whether boards that are held from two sides agree."""
        closing = self.piece.closing
        if not closing:
            return "nothing has to close: no board is held from two sides"
        if turned := sorted({each.contact.meeting.joint for each in closing if each.turned}):
            return f"it does not close: other joints hold boards another way round than {joints_listed(turned)} would"
        worst = max(each.error for each in closing)
        if worst < 0.005 and any(each.level == "stop" and each.rule == "does-not-close" for each in self.findings):
            return "it does not close: see what stops it"
        if worst < 0.005:
            return f"it closes: all {len(closing)} places where boards come back to each other agree"
        says = self.job.voice.length(worst)
        return f"of {len(closing)} places where boards come back to each other the worst is {says} off"


def _step_dict(step: AssemblyStep) -> dict[str, Any]:
    """moves, onto: boards by their names in the job; copies: which of several of a board."""
    told = step.as_dict()
    by_board = {key: [copy.board.name for copy in getattr(step, key)] for key in ("moves", "onto")}
    return {**told, **by_board, "copies": {key: told[key] for key in by_board}}
