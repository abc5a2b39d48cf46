"""The bench's test coupon: its files, proved like those of any template, and how it is used."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigcam.bench.cut import chosen_verdict
from jigcam.bench.sheet import sheet_verdict
from jigcam.errors import InputError, Refused
from jigcam.findings import stops
from jigcam.making.blocks import section, table
from jigcam.making.built import Built
from jigcam.making.file_names import COPY, own_kit
from jigcam.making.made_joint import Progress, made_joint
from jigcam.making.plan import Outcome, Plan
from jigcam.making.sheet_ready import freed_lines
from jigcam.making.template import milled_opening, ridden, template_setup
from jigcam.making.words import finished_rows
from jigcam.proof.fit import across
from jigcam.template.coupon import Coupon, plan_coupon
from jigcam.template.turning import clamps_room
from jigcam.units import INCH, Voice, length_text
from jigcam.units.setting import Known

if TYPE_CHECKING:
    from jigcam.bench.cut import BenchCut
    from jigcam.drawing import Drawing
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

STEP = {"in": 0.004 * INCH, "mm": 0.1}
"""From groove to groove, mm, by the job's units: a sheet of paper (common practice, no source)."""
MOST_STEPS = 6
"""To either side of the wanted width."""


def build_coupon(
    each: BenchCut, job: Job, kit: Kit, *, steps: int = 2, step: float | None = None, progress: Progress | None = None
) -> Built:
    """The coupon of a groove, planned and proved. step: from groove to groove, mm; None: `STEP`.

    Raises InputError for steps that cannot be, `Refused` where a finding stops it.
    """
    step = STEP[job.units] if step is None else step
    if not 1 <= steps <= MOST_STEPS:
        raise InputError(
            "a coupon cannot have so many grooves", where="--steps", found=str(steps), wanted=f"from 1 to {MOST_STEPS}"
        )
    if not 0.02 <= step <= 1.0:
        raise InputError(
            "no step for a test",
            where="--step",
            found=length_text(step, job.voice.units),
            wanted=f"from {job.voice.length(0.02)} to {job.voice.length(1.0)}",
        )
    verdict = chosen_verdict(each, kit, job.voice)
    coupon = plan_coupon(
        each.entry.name, each.cut.width, each.cut.solid.depth, verdict, kit, steps=steps, step=step, voice=job.voice
    )
    plan = _plan(coupon, each, job, kit)
    joint = made_joint(plan, job, f"{job.folders[each.entry.name]}-test")
    built = Built(job, kit, (joint,), (joint.proved(joint.texts, progress),))
    if stops(built.findings):
        raise Refused("the proof found faults; nothing was written", built.findings)
    return built


def _plan(coupon: Coupon, each: BenchCut, job: Job, kit: Kit) -> CouponPlan:
    template = coupon.plan
    setup, said = template_setup(template, kit, voice=job.voice)
    findings = tuple(dict.fromkeys([*template.findings, *said]))
    mate = each.mate.board or "the mate"
    kit_file = str(kit.path) if own_kit(kit) else COPY
    return CouponPlan(
        template.cut.joint,
        (setup,),
        findings,
        kit,
        job.voice,
        coupon=coupon,
        of=each.entry.name,
        mate=mate,
        kit_file=kit_file,
        shared=_shared(each, kit),
    )


def _shared(each: BenchCut, kit: Kit) -> str:
    """What the coupon of a joint on a shared sheet tells of the others."""
    if each.sheet is None:
        return ""
    verdict, joints = sheet_verdict(each.job, each.entry, kit)
    others = ", ".join(name for name in joints if name != each.entry.name)
    if others:
        return f"{verdict.pair} is the pair of the sheet {each.sheet}: what it shows holds for {others} too."
    return f"On the sheet {each.sheet} it is the pair of {each.entry.name} alone: the others have theirs."


@dataclass(frozen=True)
class CouponFit:
    """What the bushing makes of the openings as milled, mm. narrowest, widest: of the wanted groove, axes apart."""

    coupon: Coupon
    play: float | None
    apart: float
    narrowest: float
    widest: float

    def as_dict(self) -> dict[str, Any]:
        """For the manifest."""
        steps = [
            {"groove_mm": round(width, 4), "opening_mm": round(opening, 4)}
            for width, opening in zip(self.coupon.widths, self.coupon.openings, strict=True)
        ]
        facts: dict[str, Any] = {
            "steps": steps,
            "wanted": self.coupon.wanted + 1,
            "play_mm": None if self.play is None else round(self.play, 4),
        }
        if self.apart > 0.0:
            facts["axes_apart"] = {
                "eccentricity_mm": round(self.apart, 4),
                "held": {"shifted_mm": round(self.apart, 4)},
                "turned": {"narrowest_mm": round(self.narrowest, 4), "widest_mm": round(self.widest, 4)},
            }
        return facts

    def brief(self, voice: Voice) -> list[str]:
        """Nothing: its sheet says it."""
        return []

    def lines(self, voice: Voice) -> list[str]:
        """Nothing: its sheet says it."""
        return []


@dataclass(frozen=True)
class CouponPlan(Plan):
    """A coupon with a kit. of: the joint that it is for; mate: what enters it; kit_file: for a correction.

    shared: where the joint shares a sheet, what its pair has to do with the others of the sheet; else "".
    """

    coupon: Coupon
    of: str
    mate: str
    kit_file: str
    shared: str

    def drawings(self) -> Mapping[str, Drawing]:
        """Its template."""
        from jigcam.drawing.scenes.template import scene_template

        return {
            "template": scene_template(
                self.coupon.plan, units=self.voice.units, base_radius=self.kit.the_router.base_radius
            )
        }

    def joint_words(self) -> list[Block]:
        """Its steps."""
        return _steps(self)

    def bench_words(self, number: int) -> list[Block]:
        """The test."""
        return _test(self, number)

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """The bushing in each opening as milled, against the grooves as drawn."""
        plan = self.coupon.plan
        opening = milled_opening(plan, files, texts, self.kit)
        ride = ridden(plan, opening, plan.cut, self.kit, plan.cut.joint, self.voice.units)
        narrowest = widest = plan.cut.width
        if ride.eccentricity_mm > 0.0:
            # Across the wanted groove, in what the bit surely cuts and in all that it may cut where the router turns.
            sure, all_of_it = (across(each, plan.cut.centreline, plan.cut.width) for each in (ride.sure, ride.envelope))
            narrowest = max(float(sure.width.min()), plan.bit.diameter)
            widest = float(all_of_it.width.max())
        fit = CouponFit(self.coupon, ride.play_mm, ride.eccentricity_mm, narrowest, widest)
        return Outcome(ride.gouge_mm, ride.left_mm, ride.left_for_chisel, fit, ride.findings)


def _steps(made: CouponPlan) -> list[Block]:
    coupon, voice = made.coupon, made.voice
    places = 3 if voice.inch else 2
    rows = [
        (
            f"{number}{' (wanted)' if number == coupon.wanted + 1 else ''}",
            f"groove {voice.length(width, places)}, opening {voice.length(opening, places)}",
        )
        for number, (width, opening) in enumerate(zip(coupon.widths, coupon.openings, strict=True), 1)
    ]
    return table(f"Test coupon of {made.of}, from the left", [*finished_rows(coupon.plan, voice), *rows])


def _test(made: CouponPlan, number: int) -> list[Block]:
    plan, voice, apart = made.coupon.plan, made.voice, made.kit.the_router.eccentricity
    axes = (
        [
            Known(
                f"Bushing and bit are {voice.length(apart)} out of line, as measured: with the base held one way every "
                f"groove shifts by that and keeps its width; where the router turns, it may come out "
                f"{voice.length(2.0 * apart)} narrower or wider, though no narrower than the bit, and what you "
                "measure is off by as much."
            )
        ]
        if apart
        else []
    )
    depths = " and then ".join(voice.rule(plan.stack.sheet + depth) for depth in plan.stack.passes())
    return section(
        f"{number}. The test",
        [
            *_numbered(made),
            *freed_lines(plan, voice),
            f"Clamp an offcut of the joint's own wood, at least {voice.at_least(plan.cut.solid.depth + 6.0)} thick and "
            f"as large as the coupon, under it: {clamps_room([plan], voice)}.",
            f"{plan.bit.name} in {plan.bushing.name}, {depths} below the base, as the job cuts; feed clockwise inside "
            "each opening, one side of the base always facing the same way.",
            *([Known(made.shared)] if made.shared else []),
            *axes,
            f"Try {made.mate} in the grooves: the one that fits tells by how much the drawn width has to change.",
            "Measure an opening and its groove, both across, at the same place, and the bit over its edges: with its "
            "diameter the kit knows what of the difference is the bit's. Then run this with what you measured, each "
            "with its unit:",
            f'  jigcam bushing adjust {made.kit_file} --pair "{plan.bit.name},{plan.bushing.name}" --opening OPENING '
            "--measured GROOVE --bit-diameter BIT",
            Known("The kit then knows the pair as it is; every job that names this kit uses it."),
        ],
    )


def _numbered(made: CouponPlan) -> list[str]:
    """How openings that are all but alike are told apart, where no bit engraves their widths."""
    if made.coupon.plan.marker is not None:
        return []
    return [
        f"While it is still clamped as it was milled, write beside the openings, from the left, 1 to "
        f"{len(made.coupon.widths)}: no bit of the kit engraves their widths."
    ]
