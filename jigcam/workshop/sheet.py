"""The setup sheet: what a maker takes to the machine and to the bench, in plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from jigcam import __version__
from jigcam.findings import by_gravity
from jigcam.template.hand import hand_lines
from jigcam.units import format_angle, format_length, nearest_fraction
from jigcam.workshop.axes_apart import axes_line
from jigcam.workshop.cautions import cautions

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints import Groove
    from jigcam.kit import Kit
    from jigcam.template import TemplatePlan
    from jigcam.toolpath import Planned
    from jigcam.workshop.build import Built
    from jigcam.workshop.cutfile import CutFile
    from jigcam.workshop.work import JointProof, JointWork

WIDTH = 92
SMALLEST_FRACTION = 0.8
"""Lengths below this are clearances, which no rule shows, mm."""
EXACT = 1e-3
"""A fraction that is this near is the length itself, mm."""


def setup_sheet(work: JointWork, proof: JointProof, built: Built) -> list[str]:
    """All lines of one joint's sheet."""
    job, kit = built.job, built.kit
    by_hand = any(file.guide for file in work.cut_files)
    lines = [
        f"SETUP SHEET - {job.title}: {work.name}",
        f"kit: {kit.name}   written by jigcam {__version__}",
        *work.sheet,
        *section("Proof: the files were read back and cut virtually", proof_lines(proof, job.units)),
    ]
    findings = by_gravity([*work.findings, *proof.findings])
    said = [f"{f.level}: {f.says}" for f in findings if f.level != "note"]
    notes = [f.says for f in findings if f.level == "note"]
    lines += section("Watch", said) + section("Why so", notes)
    lines += section("Safety", cautions(machine=True, hand=by_hand))
    return lines


def section(title: str, sentences: Iterable[str]) -> list[str]:
    """A heading and its sentences as wrapped points; nothing where there are none."""
    points = [
        line
        for sentence in sentences
        for line in textwrap.wrap(
            sentence.strip(),
            WIDTH,
            initial_indent="  - " if not sentence.startswith("  ") else "      ",
            subsequent_indent="    " if not sentence.startswith("  ") else "      ",
        )
    ]
    return ["", title, *points] if points else []


def table(title: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    """A heading and named values, the values under each other and wrapped in their column."""
    wide = max(len(name) for name, _ in rows)
    lines = ["", title]
    for name, value in rows:
        parts = textwrap.wrap(value, WIDTH - wide - 4) or [""]
        lines.append(f"  {name.ljust(wide)}  {parts[0]}")
        lines += [" " * (wide + 4) + part for part in parts[1:]]
    return lines


def says(mm: float, units: str) -> str:
    """A length in the job's units; inches with the nearest 64th, and how far that is off, where it is a size to set."""
    text = format_length(mm, units)
    if units != "in" or mm < SMALLEST_FRACTION:
        return text
    fraction = nearest_fraction(mm)
    off = fraction.error_mm
    if abs(off) < EXACT:
        return text if fraction.text == text else f"{text} ({fraction.text})"
    return f"{text} ({fraction.text} {'less' if off > 0.0 else 'and'} {format_length(abs(off), units, 4)})"


def proof_lines(proof: JointProof, units: str) -> list[str]:
    """What the virtual cut came to."""
    lines = [
        f"nothing is cut more than {proof.gouge:.3f} mm beyond the drawing",
        f"nothing more than {proof.left:.3f} mm is left inside it, corners for the chisel apart",
    ]
    lines += fit_lines(proof.chain.fit, units)
    corners = proof.as_dict()["left_for_chisel"]
    if corners:
        largest = max(corner["size_mm"] for corner in corners)
        lines.append(f"{len(corners)} corners are left for the chisel, the largest {largest:.2f} mm")
    return lines


def fit_lines(fit: dict[str, Any], units: str) -> list[str]:
    """How the mates go together as they were cut, from the manifest's `fit`."""
    lines = []
    if fit.get("mate") is not None:
        name = f"the {fit['mate']}" if fit["mate"] else "the mate"
        lines.append(
            f"{name}, {format_length(fit['thickness_mm'], units)} thick, has "
            f"{format_length(fit['total_mm'], units)} of room in all across the groove as cut"
        )
        if fit["ends_mm"] is not None:
            lines.append(
                "its rounded edges seat in the groove's round ends"
                if fit["seats"]
                else "its rounded edges do NOT seat in the groove's round ends"
            )
    for corner in fit.get("corners", ()):
        span = f"from {corner['least_mm']:.3f} to {corner['most_mm']:.3f} mm between the flanks as cut"
        lines.append(f"{corner['tails']} in {corner['pins']}: {span}; drawn {corner['clearance_drawn_mm']:.3f}")
    if "gap_mm" in fit:
        lines.append(
            f"the key has from {fit['gap_least_mm']:.3f} to {fit['gap_most_mm']:.3f} mm of room in all in its "
            f"recess, both as cut; {fit['gap_mm']:.3f} is meant"
        )
    if "play_mm" in fit and ("mate" in fit or "gap_mm" in fit):
        lines.append(axes_line(fit, units))
    return lines


def groove_table(groove: Groove, units: str) -> list[str]:
    """The joint itself, and what its mate needs."""
    x, y = groove.centreline.start
    board, mate = groove.board, groove.mate
    rows = [
        (
            "board",
            f"{board.name}, {says(board.length, units)} x {says(board.width, units)} x "
            f"{says(board.thickness, units)}"
            f"{', ' + board.wood if board.wood else ''}; cut its {groove.face} face",
        ),
        (
            "starts at",
            f"{says(x, units)} along the grain, {says(y, units)} from the lower edge, on the centreline, as "
            f"seen on the {groove.face} face with the lower edge down",
        ),
        ("direction", f"{format_angle(groove.band.angle)} from the grain, anticlockwise"),
        ("length", says(groove.length, units)),
        ("width", says(groove.width, units)),
        ("depth", says(groove.depth, units)),
    ]
    if mate.board:
        rows.append(
            (
                "receives",
                f"{mate.board}, {says(mate.thickness, units)} thick, with "
                f"{says(mate.clearance, units)} of clearance in all",
            )
        )
    if mate.edge_radius > 0.0:
        rows.append(
            (
                "round over",
                f"the edges of the mate from both faces, to a radius of "
                f"{says(mate.edge_radius, units)}; it enters {says(mate.enters, units)}",
            )
        )
    return table("The joint", rows)


def files_table(files: Sequence[CutFile], kit: Kit, units: str) -> list[str]:
    """What runs on the machine, in order."""
    lines: list[str] = []
    for number, file in enumerate(files, start=1):
        program = file.program
        stock = " x ".join(format_length(size, units) for size in program.stock)
        bits = "; ".join(f"{bit.name}, {format_length(bit.diameter, units)}" for bit in program.bits)
        lines += table(
            f"File {number} of {len(files)}: {file.file}",
            [
                ("setup", program.setup),
                ("hand", file.hand),
                ("stock", stock),
                ("zero", program.zero),
                ("bit", bits),
                ("writes", f"{kit.machine.output_units}, and has a dry run beside it"),
            ],
        )
    return lines


def template_sheet(
    groove: Groove, plan: TemplatePlan, planned: Planned, files: Sequence[CutFile], job: Job, kit: Kit
) -> list[str]:
    """The joint's part of the sheet, by way of a template."""
    units = job.units
    stack = plan.stack
    width = groove.width + plan.bushing.outside - plan.bit.diameter
    return [
        *groove_table(groove, units),
        *table(
            "The template",
            [
                ("blank", " x ".join(says(size, units) for size in plan.blank) + f", {kit.sheet.material}"),
                ("bit", f"{plan.bit.name}, {says(plan.bit.diameter, units)}"),
                ("bushing", bushing_words(plan, kit, units)),
                ("offset", f"{says(plan.offset, units)} at each wall: (bushing - bit) / 2"),
                ("opening", f"{says(width, units)} wide: the groove and two offsets"),
                ("base", f"{100 * plan.support.fraction:.0f} % of it rests on the sheet at the worst place"),
            ],
        ),
        *section(
            "Mill the template on the machine",
            [
                "Screw or tape the blank to a spoilboard: the last pass goes through the sheet into it.",
                "Clamps stay outside the outline; the tabs hold the sheet until it is sawn free and its edge trimmed.",
                *planned.sheet_lines,
            ],
        ),
        *files_table(files, kit, units),
        *section(
            "Cut the groove with the hand-held router",
            [
                f"Set the bit {says(stack.projection, units)} below the base for the full depth: sheet and depth "
                "of cut.",
                "Lay the fence against the board's edge and the index line on its mark; clamp board and template.",
                *hand_lines(plan, units, kit.router.base_radius),
                *(
                    [
                        "For the opposite hand turn the template over about its short way, end for end, and move fence "
                        "and stop to the other face through the same holes."
                    ]
                    if groove.opposite_hand
                    else []
                ),
            ],
        ),
    ]


def bushing_words(plan: TemplatePlan, kit: Kit, units: str) -> str:
    """The bushing by name and size, and the size at which it acts where a test cut has measured the pair."""
    sold = kit.bushing(plan.bushing.name)
    words = f"{sold.name}, {says(sold.outside, units)} outside"
    if kit.measurement(plan.bit, sold) is not None and abs(plan.bushing.outside - sold.outside) > EXACT:
        words += f"; by its test cut it acts as {format_length(plan.bushing.outside, units)}"
    return words


def direct_sheet(groove: Groove, job: Job, kit: Kit, files: Sequence[tuple[CutFile, Planned]]) -> list[str]:
    """The joint's part of the sheet, cut directly."""
    lines = groove_table(groove, job.units)
    lines += files_table([file for file, _ in files], kit, job.units)
    return lines + section(
        "On the machine",
        [
            f"The {groove.face} face up, the lower edge toward you; clamps outside the path.",
            *(
                ["A spoilboard or backer under and beside the open ends keeps the edge from breaking out."]
                if groove.open_start or groove.open_finish
                else []
            ),
            *dict.fromkeys(line for _, planned in files for line in planned.sheet_lines),
        ],
    )
