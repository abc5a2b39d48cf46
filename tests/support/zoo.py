"""A zoo of jobs with one groove: every key of the contract, machines of many kinds, and what becomes of each."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from support.jobs import Table, job_table, kit_table

TOO_LARGE = {"direct": "path", "template": "template"}
DADO: Table = {"start": "open", "finish": "open"}


@dataclass(frozen=True)
class Animal:
    """A job and its kit. refused: the rule that stops it; empty where it is to be made. quick: in the daily tests."""

    name: str
    job: Table
    kit: Table | None = None
    refused: str = ""
    quick: bool = False
    units: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "units", self.job["units"])

    def __str__(self) -> str:
        return self.name

    @property
    def kit_used(self) -> Table:
        """Its own kit, or the shipped one that its job names."""
        return self.kit or kit_table(self.units)


def _across(units: str, angle: float, **changes: Any) -> Table:
    """A groove of modest length in the middle of the side, at any angle."""
    middle = [11, 5.6] if units == "in" else [280, 140]
    return job_table(units, from_=middle, angle=angle, length=3 if units == "in" else 75, **changes)


def animals() -> list[Animal]:
    """All of them."""
    zoo: list[Animal] = []

    def add(name: str, job: Table, kit: Table | None = None, **rest: Any) -> None:
        zoo.append(Animal(name, job, kit, **rest))

    for units in ("in", "mm"):
        for angle in (0, 30, 78, 90, 101.3, 135, 180, 270, -45):
            add(f"{units} direct {angle}", _across(units, angle), quick=units == "mm")
            template = _across(units, angle, way="template")
            add(f"{units} template {angle}", template, quick=(units, angle) == ("in", 101.3))
        for face in ("outside", "inside"):
            for hand in (True, False):
                for way in ("direct", "template"):
                    job = job_table(units, face=face, way=way, opposite_hand=hand)
                    add(f"{units} {way} {face} opposite {hand}", job, quick=(way, units) == ("direct", "mm"))
        low = [11, 0] if units == "in" else [280, 0]
        left = [0, 5] if units == "in" else [0, 130]
        across, along = (11.25, 22) if units == "in" else (285, 560)
        for way in ("direct", "template"):
            for ends in ("round", "square"):
                how: Table = {"way": way, "ends": ends}
                quick = way == "direct"
                middle = [low[0], across / 2]
                dado = job_table(units, from_=low, angle=90, length=across, **how, **DADO)
                start = job_table(units, from_=low, angle=90, length=across / 2, start="open", **how)
                finish = job_table(units, from_=middle, angle=70, length=across / 2, finish="open", **how)
                add(f"{units} {way} dado {ends}", dado, quick=quick)
                add(f"{units} {way} open start {ends}", start, quick=quick)
                add(f"{units} {way} open finish {ends}", finish, quick=quick or (units, ends) == ("mm", "square"))
                add(f"{units} {way} stopped {ends}", job_table(units, **how), quick=quick)
            sloping = job_table(units, from_=low, angle=63, length=across * 1.3, way=way, **DADO)
            add(f"{units} {way} open sloping", sloping, quick=way == "direct")
            grain = job_table(units, from_=left, angle=0, length=along, way=way, **DADO)
            too_long = "" if (units, way) == ("mm", "direct") else f"{TOO_LARGE[way]}-too-large"
            add(f"{units} {way} along the grain", grain, refused=too_long, quick=way == "direct")
        bit = {"in": ("1/4", "0.26", "3/4", "2"), "mm": (6, 6.2, 19, 50)}[units]
        for size, width in zip(("one bit", "a little wider", "wider", "much wider"), bit, strict=True):
            for way in ("direct", "template"):
                for ends in ("round", "square"):
                    job = job_table(units, width=width, receives=None, clearance=0, way=way, ends=ends)
                    add(f"{units} {way} {size} {ends}", job, quick=(way, units) == ("direct", "mm"))
    machines: dict[str, Table] = {
        "no arcs": {"arcs": False},
        "inches": {"output_units": "in"},
        "automatic": {"tool_change": "automatic"},
        "pause": {"tool_change": "pause"},
        "file per bit": {"tool_change": "file-per-bit"},
        "dial": {"dial": [[1, 10000], [2, 13500], [3, 17500], [4, 22000]]},
        "no dial": {"dial": None},
        "omits": {"omit": ["G61", "G54", "G17"]},
        "no upright": {"upright": None},
        "any collet": {"collets": None},
        "no nut": {"nut": None},
        "heavy": {"light": False},
        "slow": {"max_feed": [10, 10, 4]},
        "drilling cycles": {"drilling_cycles": True},
    }
    for units in ("in", "mm"):
        for what, changes in machines.items():
            for way in ("direct", "template"):
                job = job_table(units, way=way, opposite_hand=what == "heavy")
                quick = (way, units) == ("direct", "in") or (way, units, what) == ("template", "mm", "pause")
                add(f"{units} {way} {what}", job, kit_table(units, **changes), quick=quick)
    small = kit_table("mm", travel=[120, 100, 60])
    add("mm template small travel", job_table("mm", way="template"), small, refused="template-too-large", quick=True)
    add("mm direct small travel", job_table("mm"), small, refused="path-too-large", quick=True)
    shallow = kit_table("mm", travel=[600, 400, 15])
    add("mm template shallow z", job_table("mm", way="template"), shallow, refused="path-too-large")
    return zoo
