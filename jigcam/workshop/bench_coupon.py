"""The bench's test coupon: its files, proved like those of any template, and how it is used."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from jigcam.drawing.scenes.template import scene_template
from jigcam.errors import InputError, Refused
from jigcam.findings import stops
from jigcam.geometry import rectangle
from jigcam.kit import profiles_folder
from jigcam.proof import ride
from jigcam.proof.fit import across
from jigcam.template.coupon import Coupon, plan_coupon
from jigcam.toolpath import template_programs
from jigcam.units import INCH, format_length
from jigcam.workshop.bench_cut import chosen_verdict
from jigcam.workshop.build import Built, prove_joint
from jigcam.workshop.sheet import files_table, section, table
from jigcam.workshop.template_files import milled_opening, template_files
from jigcam.workshop.work import Chain, JointWork, Progress

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.workshop.bench_cut import BenchCut
    from jigcam.workshop.cutfile import CutFile

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
        raise InputError("no such number of steps", where="--steps", found=str(steps), wanted=f"from 1 to {MOST_STEPS}")
    if not 0.02 <= step <= 1.0:
        raise InputError("no step for a test", where="--step", found=f"{step:g} mm", wanted="from 0.02 mm to 1 mm")
    verdict = chosen_verdict(each, kit, job.units)
    coupon = plan_coupon(
        each.entry.name, each.cut.width, each.cut.solid.depth, verdict, kit, steps=steps, step=step, units=job.units
    )
    work = _work(coupon, each, job, kit)
    texts = {file.file: file.text for file in work.cut_files}
    built = Built(job, kit, (work,), (prove_joint(work, kit, texts, progress),))
    if stops(built.findings):
        raise Refused("the proof found faults; nothing was written", built.findings)
    return built


def _work(coupon: Coupon, each: BenchCut, job: Job, kit: Kit) -> JointWork:
    plan = coupon.plan
    planned = template_programs(plan, kit, units=job.units)
    findings = tuple(dict.fromkeys([*plan.findings, *planned.findings]))
    folder = f"{job.folders[each.entry.name]}-test"
    files = template_files(plan, planned, job, kit, folder, findings)
    return JointWork(
        plan.cut.joint,
        folder,
        tuple(files),
        findings,
        (*_sheet(coupon, each, job, kit, files), *section("On the machine", planned.sheet_lines)),
        {"template": scene_template(plan, units=job.units, base_radius=kit.router.base_radius)},
        lambda texts: _chain(coupon, files, texts, kit),
    )


def _chain(coupon: Coupon, files: list[CutFile], texts: Mapping[str, str], kit: Kit) -> Chain:
    """The bushing in each opening as milled, against the grooves as drawn."""
    plan, apart = coupon.plan, kit.router.eccentricity or 0.0
    board = plan.cut.board
    ridden = ride(
        milled_opening(plan, files, texts, kit),
        plan.bushing.outside,
        plan.bit.diameter,
        plan.cut.solid.section(0.0),
        rectangle(0.0, 0.0, board.length, board.width),
        centreline=plan.cut.centreline,
        eccentricity=apart,
        milled_with=plan.cutter.diameter,
        depth=plan.cut.solid.depth,
        where=plan.cut.joint,
    )
    steps = [
        {"groove_mm": round(width, 4), "opening_mm": round(opening, 4)}
        for width, opening in zip(coupon.widths, coupon.openings, strict=True)
    ]
    fit: dict[str, Any] = {
        "steps": steps,
        "wanted": coupon.wanted + 1,
        "play_mm": None if ridden.play_mm is None else round(ridden.play_mm, 4),
    }
    if apart > 0.0:
        # Across the wanted groove, in what the bit surely cuts and in all that it may cut where the router turns.
        narrow, wide = (
            across(each, plan.cut.centreline, plan.cut.width).width for each in (ridden.sure, ridden.envelope)
        )
        fit["axes_apart"] = {
            "eccentricity_mm": round(apart, 4),
            "held": {"shifted_mm": round(apart, 4)},
            "turned": {
                "narrowest_mm": round(max(float(narrow.min()), plan.bit.diameter), 4),
                "widest_mm": round(float(wide.max()), 4),
            },
        }
    return Chain(ridden.gouge_mm, ridden.left_mm, ridden.left_for_chisel, fit, ridden.findings)


def _sheet(coupon: Coupon, each: BenchCut, job: Job, kit: Kit, files: list[CutFile]) -> list[str]:
    units, plan = job.units, coupon.plan

    def says(mm: float) -> str:
        return format_length(mm, units)

    rows = [
        (
            f"{number}{' (wanted)' if number == coupon.wanted + 1 else ''}",
            f"groove {says(width)}, opening {says(opening)}",
        )
        for number, (width, opening) in enumerate(zip(coupon.widths, coupon.openings, strict=True), 1)
    ]
    mate = each.groove.mate.board or "the mate"
    apart = kit.router.eccentricity
    axes = (
        [
            f"Bushing and bit are {says(apart)} out of line, as measured: with the base held one way every groove "
            f"shifts by that and keeps its width; where the router turns, it may come out {says(2.0 * apart)} narrower "
            "or wider, though no narrower than the bit, and what you measure is off by as much."
        ]
        if apart
        else []
    )
    own = kit.path is not None and kit.path.parent.resolve() != profiles_folder().resolve()
    kit_file = str(kit.path) if own else "MY-COPY-OF-THE-KIT.toml"
    return [
        *table(f"Test coupon of {each.entry.name}, from the left", rows),
        *files_table(files, kit, units),
        *section(
            "The test",
            [
                f"Clamp an offcut of the joint's own wood, at least {says(plan.cut.solid.depth + 6.0)} thick and "
                "as large as the coupon, under it.",
                f"{plan.bit.name} in {plan.bushing.name}, {says(plan.stack.projection)} below the base; feed clockwise "
                "inside each opening, one side of the base always facing the same way.",
                *axes,
                f"Try {mate} in the grooves: the one that fits tells by how much the drawn width has to change.",
                "Measure an opening and its groove, both across, at the same place; then run",
                f'  jigcam bushing adjust {kit_file} --pair "{plan.bit.name},{plan.bushing.name}" --opening T '
                "--measured W",
                "with what you measured, each with its unit: the kit then knows the pair as it is, and "
                "later jobs use it.",
            ],
        ),
    ]
