"""A kind of joint, as the program knows it: what its room under `joints/` answers, and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from typing import TYPE_CHECKING, Any, Protocol

from jigcam.document.starter import starter_text
from jigcam.findings import Finding
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.findings import Rule
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.making.laid_again import Use
    from jigcam.making.opening_plan import OpeningPlan
    from jigcam.making.plan import Plan
    from jigcam.template import TemplatePlan
    from jigcam.wood import Cut, Mate, Meeting, Taken


class Joint(Protocol):
    """A joint as drawn, before any tool is known."""

    @property
    def name(self) -> str:
        """As the job names it."""
        ...

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules of the trade say about it, before any tool is chosen."""
        ...

    def taken(self) -> tuple[Taken, ...]:
        """All the wood that it takes, from every board and, where it is for both hands, from the mirrored board too.

        Raises `Refused` where a finding stops the joint, so that there is no solid of it.
        """
        ...


@dataclass(frozen=True)
class Guided:
    """A joint that is one straight cut of one width, which a guide bushing can guide: what the bench asks about.

    cut: as drawn. corners: whether inside corners matter. mate: that goes into it.
    """

    cut: Cut
    corners: bool
    mate: Mate


class Advice(Protocol):
    """What to set for the next test piece."""

    def lines(self) -> list[str]:
        """In words, a line each, the first the result."""
        ...

    def as_dict(self) -> dict[str, Any]:
        """For programs; mm, rad."""
        ...


@dataclass(frozen=True)
class Sharing:
    """How joints of a kind share a sheet with others: each is one opening in it.

    cuts: of the joint, as drawn and, where it is for both hands, in the mirrored board; what the opening is for. plan:
    the joint, its entry, the job, the kit and the opening as planned in the sheet → its part of the sheet's plan.
    again: where else the joint uses its opening, as along a row and in a mate.
    """

    cuts: Callable[[Any], tuple[Cut, ...]]
    plan: Callable[[Any, Any, Job, Kit, TemplatePlan], OpeningPlan]
    again: Callable[[Any], tuple[Use, ...]]


@dataclass(frozen=True)
class Kind:
    """What a room answers.

    entry: its keys in the job file. design: the entry on its boards, judged by the rules of the trade, without tools.
    plan: the joint with a kit; raises `Refused` where it cannot be made so. starter: a commented job, in "in" or "mm".
    rules: its findings, by name. guided: the joint as one cut for a bushing, where the kind has such a one. sharing:
    how it shares a sheet, where its entry says that it can. next_trial: what to set for the next test piece after one
    with so much play (mm), where the kind is fitted by test pieces. meets: how the boards of a joint meet, where it
    joins boards; of a joint that cannot be cut it may still say so. also: other names that the trade has for it; near:
    joints that are none of it, and to which it comes nearest.
    """

    entry: type[Entry]
    design: Callable[[Any, Job], Joint]
    plan: Callable[[Any, Any, Job, Kit], Plan]
    starter: Callable[[str], str]
    rules: Mapping[str, Rule] = field(default_factory=dict)
    guided: Callable[[Any], Guided] | None = None
    sharing: Sharing | None = None
    next_trial: Callable[[Any, Any, Job, Kit, float], Advice] | None = None
    meets: Callable[[Any, Any, Job], tuple[Meeting, ...]] | None = None
    also: tuple[str, ...] = ()
    near: tuple[str, ...] = ()


def starter_in(package: str) -> Callable[[str], str]:
    """The starters that lie in a room as `starter.toml`, in inches, and `starter-mm.toml`."""

    return lambda units: starter_text(package, units, "job")
