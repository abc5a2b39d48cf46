"""Bow-tie keys with a kit: the template that is milled, recess and key as its opening leaves them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.geometry import translation
from jigcam.joints.key.by_hand import HandKeys
from jigcam.joints.key.fit import key_fit
from jigcam.joints.key.season import season_findings
from jigcam.joints.key.template import KeyTemplate, key_template
from jigcam.joints.key.words import SAID, key_bench_words, keys_words
from jigcam.making.plan import Outcome, Plan, RiddenCut
from jigcam.making.template import milled_opening, ridden, template_setups
from jigcam.template.inlay import plug_in

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.job import Job
    from jigcam.joints.key.entry import KeyEntry
    from jigcam.joints.key.key import Key
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.handwork import HandWork
    from jigcam.template import TemplatePlan
    from jigcam.wood import Taken


def plan_keys(key: Key, entry: KeyEntry, job: Job, kit: Kit) -> Plan:
    """The keys by the way that their entry asks for.

    Raises `Refused`; InputError for a bushing that the kit lacks, or an odd climate.
    """
    if entry.way == "hand":
        return HandKeys(key.name, (), key.findings, kit, job.voice, key=key)
    plan = key_template(
        key,
        kit,
        bit=kit.bit(entry.bit) if entry.bit else None,
        bushing=kit.bushing(entry.bushing) if entry.bushing else None,
        plug=kit.bushing(entry.plug) if entry.plug else None,
        voice=job.voice,
    )
    setups, said = template_setups(plan.template, kit, voice=job.voice)
    findings = tuple(dict.fromkeys([*key.findings, *season_findings(key, job, kit), *plan.findings, *said]))
    return KeysPlan(key.name, setups, findings, kit, job.voice, template=plan)


@dataclass(frozen=True)
class KeysPlan(Plan):
    """Keys and their recesses, cut with the hand-held router in one template."""

    template: KeyTemplate

    @property
    def guided(self) -> bool:
        """Always: whoever makes the sheet, the router rides it."""
        return True

    @property
    def templates(self) -> tuple[TemplatePlan, ...]:
        """The one sheet, for recess and key."""
        return (self.template.template,)

    @property
    def handwork(self) -> tuple[HandWork, ...]:
        """The recesses with the larger bushing, then the key from stock with the smaller one."""
        return self.template.recesses(), self.template.key_from_stock()

    @property
    def redrawn(self) -> tuple[Taken, ...]:
        """The recesses with the corners that bit and bushing leave."""
        pair = self.template.inlay.recess
        return self.template.key.taken_by(pair.bit.diameter, pair.bushing.outside)

    def drawings(self) -> Mapping[str, Drawing]:
        """The keys on their board, and the template."""
        from jigcam.drawing.scenes.template import scene_template
        from jigcam.joints.key.picture import scene_key

        sheet = self.template.template
        return {
            "keys": scene_key(self.template, units=self.voice.units),
            "template": scene_template(sheet, units=self.voice.units, base_radius=self.kit.the_router.base_radius),
        }

    def joint_words(self) -> list[Block]:
        """The keys, and their tools."""
        return keys_words(self.template, self.kit, self.voice)

    def bench_words(self, number: int) -> list[Block]:
        """The sheet made ready, recess and key with the router."""
        return key_bench_words(self.template, self.kit, self.voice, number)

    @property
    def said(self) -> frozenset[str]:
        """What the words say."""
        return SAID

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """The recess as the larger bushing rides it in the milled opening, and the key as the smaller one leaves it."""
        if not files:
            return Outcome()
        sheet, inlay = self.template.template, self.template.inlay
        cut = sheet.cut
        opening = milled_opening(sheet, files, texts, self.kit)
        ride = ridden(sheet, opening, cut, self.kit, cut.joint, self.voice.units)
        plug = plug_in(opening, inlay.plug.bit.diameter, inlay.plug.bushing.outside)
        findings = list(ride.findings)
        if plug.is_empty or ride.cut.is_empty:
            findings.append(
                Finding(
                    "stop",
                    "no-key",
                    cut.joint,
                    "nothing is left of the key: make its waist wider, or take a thinner bit",
                )
            )
            return Outcome(ride.gouge_mm, ride.left_mm, ride.left_for_chisel, None, tuple(findings))
        first, *_ = self.template.key.centres
        moves = [translation(x - first[0], y - first[1]) for x, y in self.template.key.centres]
        recesses = tuple(
            RiddenCut(cut.board, cut.face, cut.hand, ride.cut.transformed(move), cut.solid.depth) for move in moves
        )
        fit, says = key_fit(self.template, ride, opening, plug, self.voice)
        return Outcome(ride.gouge_mm, ride.left_mm, ride.left_for_chisel, fit, (*findings, *says), recesses)
