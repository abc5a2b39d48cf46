"""Setups as programs, for tests that look at the moves of one clamping."""

from __future__ import annotations

from dataclasses import dataclass

from jigcam.findings import Finding
from jigcam.joints.groove.direct import direct_setup
from jigcam.joints.through_dovetail.cuts import EndCut
from jigcam.joints.through_dovetail.strategy import end_setup
from jigcam.kit import Kit, Machine
from jigcam.making.programs import programs, run_lines
from jigcam.making.setup import Setup
from jigcam.making.template import template_setup
from jigcam.template import TemplatePlan
from jigcam.toolpath import Program
from jigcam.wood import Cut


@dataclass(frozen=True)
class Planned:
    """A setup's programs, with what is to be said of it and of how it is run."""

    setup: Setup
    programs: tuple[Program, ...]
    findings: tuple[Finding, ...]
    sheet_lines: tuple[str, ...]


def planned(made: tuple[Setup, list[Finding]], shop: Kit | Machine, units: str = "mm") -> Planned:
    """What a room's setup comes to on a machine."""
    setup, findings = made
    machine = shop.machine if isinstance(shop, Kit) else shop
    files = tuple(program for program, _ in programs(setup, machine))
    return Planned(setup, files, tuple(findings), run_lines(setup, files, machine, units))


def direct_programs(cut: Cut, kit: Kit, bit: str | None = None, *, units: str = "mm") -> Planned:
    """The programs that cut a groove into its board."""
    return planned(direct_setup(cut, kit, bit, units=units), kit, units)


def template_programs(plan: TemplatePlan, kit: Kit, *, units: str = "mm") -> Planned:
    """The programs that mill a template."""
    return planned(template_setup(plan, kit, units=units), kit, units)


def dovetail_programs(cut: EndCut, kit: Kit, *, units: str = "mm") -> Planned:
    """The programs that cut one end of a board for a through dovetail."""
    return planned(end_setup(cut, kit, units=units), kit, units)
