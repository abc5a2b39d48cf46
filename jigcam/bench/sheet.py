"""The bench's answer on a sheet that several joints share: which pairs make all of its openings, and which is taken."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.joints import design, kind
from jigcam.making.columns import columns, prose
from jigcam.making.gcode_file import tidy
from jigcam.making.sheet_plan import SheetJoint, plan_openings
from jigcam.template.pairs import Pair
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.template import SharedSheet, Verdict
    from jigcam.units import Voice

CHOICE = ("one-pair", "several-pairs")
"""Rules that say by which pairs the openings of a sheet are cut."""


@dataclass(frozen=True)
class SheetPair:
    """One pair for all openings of a sheet. sheet: as it would be; None where it cannot, for `reasons`."""

    pair: Pair
    sheet: SharedSheet | None
    reasons: tuple[str, ...]

    @property
    def wall(self) -> float:
        """The thinnest wall of sheet between two openings, mm."""
        assert self.sheet is not None
        return min(each.wall.size for each in self.sheet.neighbours)

    @property
    def base(self) -> float:
        """The least share of the router's base that rests on the sheet."""
        assert self.sheet is not None
        return min(each.support.fraction for each in self.sheet.openings)


@dataclass(frozen=True)
class SheetPairs:
    """The pairs for a shared sheet. joints: that share it. chosen: the sheet as it is made; None: it cannot be, for
    `reasons`. pairs: those for all openings, that work first.
    """

    name: str
    joints: tuple[str, ...]
    chosen: SharedSheet | None
    reasons: tuple[str, ...]
    pairs: tuple[SheetPair, ...]

    def as_dict(self) -> dict[str, Any]:
        """For `--json`; mm."""
        chosen = [] if self.chosen is None else self.chosen.openings
        return {
            "sheet": self.name,
            "joints": list(self.joints),
            "chosen": {each.cut.joint: {"bit": each.bit.name, "bushing": each.bushing.name} for each in chosen},
            "reasons": list(self.reasons),
            "one_pair": [
                {
                    "bit": each.pair.bit.name,
                    "bushing": each.pair.bushing.name,
                    "ok": each.sheet is not None,
                    "wall_mm": None if each.sheet is None else tidy(each.wall),
                    "base": None if each.sheet is None else round(each.base, 4),
                    "reasons": list(each.reasons),
                }
                for each in self.pairs
            ],
        }

    def lines(self, voice: Voice, width: int | None = None) -> list[str]:
        """For people. width: columns of the screen; None: any."""
        lines = prose([f"the sheet {self.name}, for {', '.join(self.joints)}: one pair for all of its openings"], width)
        good = [each for each in self.pairs if each.sheet is not None]
        if good:
            rows = [
                [str(rank), each.pair.bit.name, each.pair.bushing.name, voice.length(each.wall), f"{each.base:.0%}"]
                for rank, each in enumerate(good, 1)
            ]
            lines += ["", *columns(["", "bit", "bushing", "wall", "base"], rows, left=3, width=width)]
            lines += ["", "wall: of sheet, where two of its openings come nearest"]
        else:
            lines += ["", "no one pair of the kit makes all of them"]
        said: dict[str, list[str]] = {}
        for each in self.pairs:
            if each.sheet is None:
                said.setdefault(each.reasons[0], []).append(str(each.pair))
        if said:
            lines += ["", "refused", *prose([f"  {'; '.join(which)}: {why}" for why, which in said.items()], width)]
        return [*lines, "", *prose(list(self._choice()), width)]

    def _choice(self) -> Iterator[str]:
        """By which pairs the sheet is made."""
        if self.chosen is None:
            yield from (f"the sheet cannot be made: {each}" for each in self.reasons)
        else:
            yield from (f"made so: {each.says}" for each in self.chosen.findings if each.rule in CHOICE)


def sheet_joints(job: Job, name: str) -> list[SheetJoint]:
    """The joints of a shared sheet of a job. Raises `Refused` where one of them cannot be cut as drawn."""
    found = []
    for entry in job.sheets[name]:
        sharing, joint = kind(entry.kind).sharing, design(entry, job)
        assert sharing is not None, "the job's entries have been asked whether they share a sheet"
        if stops(joint.findings):
            raise Refused(f"{entry.name} cannot be cut as drawn", joint.findings)
        found.append(SheetJoint(entry, joint, sharing))
    return found


def sheet_pairs(job: Job, name: str, kit: Kit) -> SheetPairs:
    """Every pair of the kit for all openings of a shared sheet, and what the sheet is made by.

    Raises `Refused` where one of its joints cannot be cut as drawn, InputError for tools that the kit lacks.
    """
    joints = sheet_joints(job, name)
    names = tuple(each.entry.name for each in joints)
    chosen, reasons = _sheet(name, joints, job, kit)
    pairs = []
    for bit in kit.bits:
        if not bit.upright_walls:
            continue
        for bushing in kit.bushings:
            pair = Pair.of(bit, bushing, kit)
            others = tuple(_named_otherwise(joints, pair))
            sheet, why = (None, others) if others else _sheet(name, joints, job, kit, pair)
            pairs.append(SheetPair(pair, sheet, why))
    order = _order(chosen)
    pairs.sort(key=lambda each: (each.sheet is None, order.get(str(each.pair), len(order))))
    return SheetPairs(name, names, chosen, reasons, tuple(pairs))


def sheet_verdict(job: Job, entry: Entry, kit: Kit) -> tuple[Verdict, tuple[str, ...]]:
    """The pair by which a joint of a shared sheet is cut, and the joints of the sheet that it cuts.

    Raises `Refused` where the sheet cannot be made, InputError for tools that the kit lacks.
    """
    assert entry.template is not None, "the joint shares a sheet"
    sheet = plan_openings(entry.template, sheet_joints(job, entry.template), kit, job.voice).sheet
    its = next(each for each in sheet.openings if each.cut.joint == entry.name)
    verdict = next(each for each in its.verdicts if str(each.pair) == str(its.pair))
    return verdict, tuple(each.cut.joint for each in sheet.openings if str(each.pair) == str(its.pair))


def _named_otherwise(joints: Sequence[SheetJoint], pair: Pair) -> Iterator[str]:
    """Joints that name another bit or bushing."""
    for each in joints:
        for named, its in ((each.entry.bit, pair.bit.name), (each.entry.bushing, pair.bushing.name)):
            if named not in (None, its):
                yield f"{each.entry.name} names {named}"


def _order(sheet: SharedSheet | None) -> dict[str, int]:
    """The places of pairs in the order of what all openings want together."""
    if sheet is None:
        return {}
    places: dict[str, int] = {}
    for each in sheet.openings:
        for place, verdict in enumerate(each.verdicts):
            places[str(verdict.pair)] = places.get(str(verdict.pair), 0) + place
    return {key: rank for rank, key in enumerate(sorted(places, key=lambda key: places[key]))}


def _sheet(
    name: str, joints: list[SheetJoint], job: Job, kit: Kit, pair: Pair | None = None
) -> tuple[SharedSheet | None, tuple[str, ...]]:
    """The sheet, or why it cannot be."""
    try:
        return plan_openings(name, joints, kit, job.voice, pair).sheet, ()
    except Refused as refused:
        return None, tuple(dict.fromkeys(each.says for each in stops(refused.findings)))
