"""A joint's plan with a kit: setups, what is to be said and seen, and how its files are judged together."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.findings import Finding
    from jigcam.geometry import Region
    from jigcam.job import Board
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.handwork import HandWork
    from jigcam.making.setup import Setup
    from jigcam.proof import Corner
    from jigcam.template import TemplatePlan
    from jigcam.units import Voice
    from jigcam.wood import Hand, Taken
    from jigcam.wood.solid import Side


@dataclass(frozen=True, slots=True)
class Pattern:
    """A layout on paper, laid on the wood in true size. stem, view: the drawing and which of its views it is. board:
    the name of the one that it is of. says: how it is used, in sentences."""

    stem: str
    view: int
    board: str
    says: tuple[str, ...] = ()


def turned(ends: Sequence[str]) -> tuple[str, ...]:
    """What serves the other end of a board whose ends are alike, drawn for the first of them."""
    return (f"For its {ends[1]} end turn the paper over, lower edge down as before.",) if len(ends) > 1 else ()


class JointFit(Protocol):
    """How the boards of a joint go together as they were cut."""

    def lines(self, voice: Voice) -> list[str]:
        """For people, a sentence each."""
        ...

    def brief(self, voice: Voice) -> list[str]:
        """The same in a few words."""
        ...

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm and degrees."""
        ...


@dataclass(frozen=True)
class RiddenCut:
    """What a router cuts in a board, led by a bushing in the template as its file mills it. Frame of the face, mm.

    region: it may reach off the board. depth: below the face, as drawn.
    """

    board: Board
    face: Side
    hand: Hand
    region: Region
    depth: float


@dataclass(frozen=True)
class Outcome:
    """What comes of a joint's files taken together: template, ride, cut, mate. mm.

    gouge, left, corners: of the cut in the wood against the drawing, where it is not cut by the files themselves; fit:
    None where nothing was put together. ridden: what templates lead the router to cut. parts: the same for each joint,
    by its name, where the files make several.
    """

    gouge: float = 0.0
    left: float = 0.0
    corners: tuple[Corner, ...] = ()
    fit: JointFit | None = None
    findings: tuple[Finding, ...] = ()
    ridden: tuple[RiddenCut, ...] = ()
    parts: Mapping[str, Outcome] = field(default_factory=dict)

    @classmethod
    def of(cls, parts: Mapping[str, Outcome]) -> Outcome:
        """What comes of files that make several joints: the worst of each, and all that there is to say."""
        each = tuple(parts.values())
        return cls(
            max((part.gouge for part in each), default=0.0),
            max((part.left for part in each), default=0.0),
            tuple(corner for part in each for corner in part.corners),
            None,
            tuple(finding for part in each for finding in part.findings),
            tuple(cut for part in each for cut in part.ridden),
            parts,
        )

    def fit_dict(self) -> dict[str, Any]:
        """The fit as the manifest tells it; of several joints by their names."""
        if self.parts:
            return {name: part.fit_dict() for name, part in self.parts.items()}
        return self.fit.as_dict() if self.fit is not None else {}

    def fit_lines(self, voice: Voice) -> list[str]:
        """The fit in words."""
        if self.parts:
            return [f"{name}: {line}" for name, part in self.parts.items() for line in part.fit_lines(voice)]
        return self.fit.lines(voice) if self.fit is not None else []


@dataclass(frozen=True)
class Plan(ABC):
    """How one joint, or several on one sheet, are made with a kit. Each kind says the rest in a class of its own.

    setups: in the order in which they are run; none where it is made by hand, without files. findings: of rules and
    choices; none of them stops. voice: of the job.
    """

    name: str
    setups: tuple[Setup, ...]
    findings: tuple[Finding, ...]
    kit: Kit
    voice: Voice

    @property
    def joints(self) -> tuple[str, ...]:
        """The joints that it makes, by name: one, but where several share a sheet."""
        return (self.name,)

    @property
    def templates(self) -> tuple[TemplatePlan, ...]:
        """The templates that its files mill, or its makers, an opening each; none where no router is guided."""
        return ()

    @property
    def handwork(self) -> tuple[HandWork, ...]:
        """What the hand-held router does in its templates, in the order of the work; none where none is guided."""
        return ()

    @property
    def redrawn(self) -> tuple[Taken, ...] | None:
        """What the joint takes with these tools, where they change its drawing; None: as the joint says."""
        return None

    @property
    def numbered(self) -> bool:
        """Whether the names of its files say their order."""
        return False

    @property
    def patterns(self) -> tuple[Pattern, ...]:
        """Views of its drawings that serve as patterns on paper."""
        return ()

    @property
    def guided(self) -> bool:
        """Whether a hand-held router rides a template that comes of its files."""
        return any("guide" in setup.facts for setup in self.setups)

    @property
    def routed(self) -> bool:
        """Whether a bit turns for it: on a machine, in a template, or in a way by hand that its words offer."""
        return bool(self.setups or self.templates) or self.guided

    @abstractmethod
    def drawings(self) -> Mapping[str, Drawing]:
        """What there is to see, by the stem of the file's name."""

    @abstractmethod
    def joint_words(self) -> list[Block]:
        """What the setup sheet says first: the joint as drawn."""

    def bench_words(self, number: int) -> list[Block]:
        """What it says after the setups of the machine: the work at the bench, in headings numbered from `number`."""
        return []

    @property
    def said(self) -> frozenset[str]:
        """Rules of findings that these words have said already, so that the sheet does not say them twice."""
        return frozenset()

    @abstractmethod
    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """The files judged together, from their texts alone (by file name)."""
