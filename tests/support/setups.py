"""Setups as programs, for tests that look at the moves of one clamping."""

from __future__ import annotations

from dataclasses import dataclass

from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.strategy import end_setup
from jigcam.findings import Finding
from jigcam.joints.groove.direct import direct_setup
from jigcam.kit import Kit
from jigcam.making.block_text import text_lines
from jigcam.making.gcode_file import GcodeFile
from jigcam.making.programs import place_cautions, programs, slender
from jigcam.making.setup import Setup
from jigcam.making.target import target
from jigcam.making.template import template_setup
from jigcam.making.words import setup_words
from jigcam.template import TemplatePlan
from jigcam.toolpath import Program
from jigcam.units import Unit, Voice
from jigcam.wood import Cut


@dataclass(frozen=True)
class Planned:
    """A setup's programs, with what is to be said of it and of how it is run."""

    setup: Setup
    programs: tuple[Program, ...]
    findings: tuple[Finding, ...]

    kit: Kit
    units: Unit

    @property
    def sheet_lines(self) -> list[str]:
        """What the setup sheet says of it, and why each bit is run as it is."""
        machine = self.kit.machine
        files = [
            GcodeFile(
                f"{steps[-1].file}.nc", "joint", self.setup, steps, program, target(self.setup, steps, machine), ""
            )
            for program, steps in programs(self.setup, machine)
        ]
        words = text_lines(setup_words(1, self.setup, files, self.kit, Voice(self.units)))
        return [*words, *(reason for cutter in self.setup.cutters for reason in cutter.feeds.reasons)]


def planned(made: tuple[Setup, list[Finding]], kit: Kit, units: Unit = "mm") -> Planned:
    """What a room's setup comes to on a machine."""
    setup, findings = made
    machine, voice = kit.machine, Voice(units)
    files = tuple(program for program, _ in programs(setup, machine))
    said = [*findings, *slender(setup, voice), *place_cautions(setup, machine, voice)]
    return Planned(setup, files, tuple(said), kit, units)


def direct_programs(cut: Cut, kit: Kit, bit: str | None = None, *, units: Unit = "mm") -> Planned:
    """The programs that cut a groove into its board."""
    return planned(direct_setup(cut, kit, bit, voice=Voice(units)), kit, units)


def template_programs(plan: TemplatePlan, kit: Kit, *, units: Unit = "mm") -> Planned:
    """The programs that mill a template."""
    return planned(template_setup(plan, kit, voice=Voice(units)), kit, units)


def dovetail_programs(cut: EndCut, kit: Kit, *, units: Unit = "mm") -> Planned:
    """The programs that cut one end of a board for a through dovetail."""
    return planned(end_setup(cut, kit, voice=Voice(units)), kit, units)
