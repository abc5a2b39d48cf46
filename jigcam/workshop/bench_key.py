"""Bow-tie keys: the files of their template, recess and key as the milled opening leaves them, and how to cut them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.drawing.scenes.key import scene_key
from jigcam.drawing.scenes.template import scene_template
from jigcam.findings import Finding
from jigcam.geometry import rectangle
from jigcam.job import KeyEntry
from jigcam.proof import ride
from jigcam.proof.fit import SEAT
from jigcam.template.hand import hand_lines
from jigcam.template.inlay import FIT, PROUD, plug_in
from jigcam.template.key_plan import KeyPlan, plan_key
from jigcam.tolerances import TOLERANCES
from jigcam.toolpath import template_programs
from jigcam.units import format_angle, format_length
from jigcam.workshop.axes_apart import MEND
from jigcam.workshop.sheet import files_table, says, section, table
from jigcam.workshop.template_files import milled_opening, template_files
from jigcam.workshop.work import Chain, JointWork

if TYPE_CHECKING:
    from jigcam.geometry import Region
    from jigcam.job import Entry, Job
    from jigcam.joints import Key
    from jigcam.kit import Kit
    from jigcam.proof import Ride
    from jigcam.units import Unit
    from jigcam.workshop.cutfile import CutFile

ALONG = 0.5
"""Between places along a key at which its clearance is taken, mm."""


def key_work(key: Key, entry: Entry, job: Job, kit: Kit) -> JointWork:
    """The files that mill the template of keys. Raises `Refused`; InputError for a bushing that the kit lacks."""
    assert isinstance(entry, KeyEntry)
    plan = plan_key(
        key,
        kit,
        bit=kit.bit(entry.bit) if entry.bit else None,
        bushing=kit.bushing(entry.bushing) if entry.bushing else None,
        plug=kit.bushing(entry.plug) if entry.plug else None,
        units=job.units,
    )
    planned = template_programs(plan.template, kit, units=job.units)
    findings = tuple(dict.fromkeys([*key.findings, *plan.findings, *planned.findings]))
    folder = job.folders[key.name]
    files = template_files(plan.template, planned, job, kit, folder, findings)
    return JointWork(
        key.name,
        folder,
        tuple(files),
        findings,
        (*_sheet(plan, job, kit, files), *section("Mill the template on the machine", planned.sheet_lines)),
        {
            "keys": scene_key(plan, units=job.units),
            "template": scene_template(plan.template, units=job.units, base_radius=kit.router.base_radius),
        },
        lambda texts: _chain(plan, files, texts, kit, job.units),
    )


def _chain(plan: KeyPlan, files: list[CutFile], texts: Mapping[str, str], kit: Kit, units: Unit) -> Chain:
    """The recess as the larger bushing rides it in the milled opening, and the key as the smaller one leaves it."""
    template, inlay = plan.template, plan.inlay
    cut, board = template.cut, template.cut.board
    opening = milled_opening(template, files, texts, kit)
    ridden = ride(
        opening,
        template.bushing.outside,
        template.bit.diameter,
        cut.solid.section(0.0),
        rectangle(0.0, 0.0, board.length, board.width),
        centreline=cut.centreline,
        eccentricity=kit.router.eccentricity or 0.0,
        milled_with=template.cutter.diameter,
        depth=cut.solid.depth,
        where=cut.joint,
        units=units,
    )
    plug = plug_in(opening, inlay.plug.bit.diameter, inlay.plug.bushing.outside)
    findings = list(ridden.findings)
    if plug.is_empty or ridden.cut.is_empty:
        findings.append(Finding("stop", "no-key", cut.joint, "nothing is left of the key: its waist is too narrow"))
        return Chain(ridden.gouge_mm, ridden.left_mm, ridden.left_for_chisel, {}, tuple(findings))
    # The key's outline lies within the recess by half the gap, all round.
    room = _clearance(ridden.cut, plug)
    least, most = room["least_mm"], room["most_mm"]
    if most - least > 2.0 * TOLERANCES.left or abs(least - inlay.gap / 2.0) > TOLERANCES.left:
        findings.append(
            Finding(
                "stop",
                "key-and-recess",
                cut.joint,
                f"key and recess differ by {2.0 * least:.3f} to "
                f"{2.0 * most:.3f} mm across, and {inlay.gap:.3f} mm is meant",
            )
        )
    apart, warns = _apart(plan, ridden, opening, units)
    facts = {
        **room,
        "gap_mm": round(inlay.gap, 4) + 0.0,
        "gap_least_mm": round(2.0 * least, 4),
        "gap_most_mm": round(2.0 * most, 4),
        "recess_bushing": inlay.recess.bushing.name,
        "plug_bushing": inlay.plug.bushing.name,
        "corner_radius_mm": round(inlay.recess.bit.radius, 4),
        "keys": len(plan.key.centres),
        "play_mm": None if ridden.play_mm is None else round(ridden.play_mm, 4),
        **apart,
    }
    return Chain(ridden.gouge_mm, ridden.left_mm, ridden.left_for_chisel, facts, (*findings, *warns))


def _clearance(recess: Region, plug: Region) -> dict[str, Any]:
    """From the key's outline to the recess all along it, at one side, mm; where: (x, y) of the least, face frame."""
    points = np.vstack(
        [
            np.vstack([loop.points(TOLERANCES.curve), loop.at(np.arange(0.0, loop.length, ALONG))[0]])
            for loop in plug.loops
        ]
    )
    room = recess.signed_distance(points)
    x, y = points[int(room.argmin())].tolist()
    return {
        "least_mm": round(float(room.min()), 4) + 0.0,
        "median_mm": round(float(np.median(room)), 4) + 0.0,
        "most_mm": round(float(room.max()), 4) + 0.0,
        "where": [round(x, 3), round(y, 3)],
        "seats": bool(room.min() >= -SEAT),
    }


def _apart(plan: KeyPlan, ridden: Ride, opening: Region, units: str) -> tuple[dict[str, Any], list[Finding]]:
    """Key and recess with the axes as far apart as was measured: held one way both shift alike; turned, each may come
    out larger or smaller by twice that."""
    e = ridden.eccentricity_mm
    if e <= 0.0:
        return {}, []
    inlay = plan.inlay
    bit, bushing = inlay.plug.bit.diameter, inlay.plug.bushing.outside
    tightest = _clearance(ridden.sure, plug_in(opening, bit, bushing - 2.0 * e))
    loosest = _clearance(ridden.envelope, plug_in(opening, bit, bushing + 2.0 * e))
    low, high = 2.0 * tightest["least_mm"], 2.0 * loosest["most_mm"]
    facts = {
        "eccentricity_mm": round(e, 4),
        "held": {"shifted_mm": round(e, 4)},
        "turned": {
            "tightest": {**tightest, "total_mm": round(low, 4)},
            "loosest": {**loosest, "total_mm": round(high, 4)},
        },
    }
    findings = []
    if low < min(0.0, inlay.gap) - 2.0 * SEAT or high > inlay.gap + FIT:
        findings.append(
            Finding(
                "caution",
                "axes-apart",
                plan.key.name,
                f"bushing and bit are {format_length(e, units)} out of line, as measured: where the router turns, the "
                f"key may have from {format_length(low, units)} to {format_length(high, units)} of room in its "
                "recess, "
                f"and {format_length(inlay.gap, units)} is meant; held one way, recess and key shift alike: {MEND}",
            )
        )
    return {"axes_apart": facts}, findings


def _sheet(plan: KeyPlan, job: Job, kit: Kit, files: list[CutFile]) -> list[str]:
    units, key, inlay = job.units, plan.key, plan.inlay
    places = [
        (f"key {number}", f"middle {says(x, units)} along the grain, {says(y, units)} from the lower edge")
        for number, (x, y) in enumerate(key.centres, 1)
    ]
    deeper = format_length(plan.template.stack.projection + PROUD, units)
    return [
        *table(
            "The keys",
            [
                ("board", f"{key.board.name}, its {key.face} face"),
                *places,
                ("direction", f"{format_angle(key.angle)} from the grain; the key's own grain runs the same way"),
                (
                    "size",
                    f"{says(key.length, units)} long, ends {says(key.ends, units)}, waist {says(key.waist, units)}",
                ),
                ("depth", says(key.depth, units)),
                ("bit", inlay.recess.bit.name),
                ("recess", f"with {inlay.recess.bushing.name}, {says(inlay.recess.bushing.outside, units)} outside"),
                ("key", f"with {inlay.plug.bushing.name}, {says(inlay.plug.bushing.outside, units)} outside"),
            ],
        ),
        *files_table(files, kit, units),
        *section(
            "Cut the recess with the hand-held router",
            [f"Fit {inlay.recess.bushing.name}.", *hand_lines(plan.template, units, kit.router.base_radius)],
        ),
        *section(
            "Cut the keys from stock with the same template",
            [
                f"Fit {inlay.plug.bushing.name} instead, with the same bit; clamp the template on the key stock, grain "
                "along the key.",
                f"Set the bit in the same passes, and at last {deeper} below the base.",
                "Go clockwise once round with the bushing against the wall all the way; leaving the wall "
                "spoils the key.",
                "Saw the key off its stock, glue it in, grain across the crack, and plane it flush.",
            ],
        ),
    ]
