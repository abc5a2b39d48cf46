"""A cut list as text that people read, and as CSV (RFC 4180) for programs that buy and cut by it."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from jigcam.making.columns import columns, hanging
from jigcam.piece.cut_list import GRAIN
from jigcam.units import INCH, nearest_fraction

if TYPE_CHECKING:
    from jigcam.piece.cut_list import CutLine, CutList, Sizes
    from jigcam.units import Voice

RULED: Final = 0.02
"""A division of the rule that is this near stands for the size, mm."""
QUARTER: Final = INCH / 4.0
"""Sawn stock is called by so many of these in inches: 5/4."""
HEAD: Final = ("no.", "board", "length", "width", "thick", "sawn length", "sawn width", "sawn thick")
"""Of the columns; each says what it is by itself, as a narrow screen folds the table."""


def cut_list_lines(
    cuts: CutList, width: int | None = None, *, kit: str | None = None, by_hand: bool = False
) -> list[str]:
    """The list in lines. width: of the screen, in columns; None: no limit. kit: the name of that with which the joints
    are planned; None: the order of clampings is reckoned from the drawing alone. by_hand: whether all
    of them are."""
    voice = cuts.voice
    unit = "inches" if voice.inch else "mm"
    lines = hanging(f"Cut list, in {unit}: each board as finished, then as it is sawn out; the grain {GRAIN}", width, 0)
    for wood in dict.fromkeys(line.wood for line in cuts.lines):
        rows = [
            (str(line.count), line.board.name, *_sizes(line.finished, voice), *_sizes(line.rough, voice))
            for line in cuts.lines
            if line.wood == wood
        ]
        lines += ["", wood, *columns(HEAD, rows, left=2, width=width)]
    lines += ["", "Wood as sawn out", *_totals(cuts, width), "", *_sentences(cuts, width)]
    if any(line.work.clampings for line in cuts.lines):
        lines += ["", *_work(cuts, width, kit, by_hand=by_hand)]
    return lines


def cut_list_csv(cuts: CutList) -> str:
    """The list as CSV, lengths in the units of the job; each line ends as RFC 4180 has it."""
    unit = cuts.voice.units
    out = io.StringIO()
    rows = csv.writer(out)
    sizes = [f"{kind}{name}_{unit}" for kind in ("", "rough_") for name in ("length", "width", "thickness")]
    rows.writerow(
        ["board", "count", "opposite_hand", "wood", "sawn", "grain", *sizes, "board_feet", "cubic_metres", "work"]
    )
    for line in cuts.lines:
        rows.writerow(
            [
                line.board.name,
                line.count,
                line.opposite,
                line.board.wood or "",
                line.board.sawn or "",
                GRAIN,
                *(_number(size, cuts.voice) for size in (*line.finished, *line.rough)),
                f"{line.board_feet:.3f}",
                f"{line.cubic_metres:.6f}",
                "; ".join(each.told for each in line.work.clampings),
            ]
        )
    return out.getvalue()


def _number(mm: float, voice: Voice) -> str:
    """A length in the job's units, for programs."""
    text = f"{mm / INCH:.5f}" if voice.inch else f"{mm:.3f}"
    return text.rstrip("0").rstrip(".")


def _sizes(sizes: Sizes, voice: Voice) -> tuple[str, ...]:
    """Each without its unit: fractions of an inch where a rule shows it, else a decimal."""
    return tuple(_size(size, voice) for size in sizes)


def _size(mm: float, voice: Voice) -> str:
    if voice.inch:
        fraction = nearest_fraction(mm)
        if abs(fraction.error_mm) < RULED:
            return fraction.text.removesuffix(" in")
    return voice.length(mm).split(" ")[0]


def stock_words(thickness: float, voice: Voice) -> str:
    """A thickness of sawn stock as a yard calls it: "5/4", "27 mm"."""
    quarters = thickness / QUARTER
    if voice.inch and abs(quarters - round(quarters)) < 1e-6:
        return f"{round(quarters)}/4"
    return voice.rule(thickness)


def _totals(cuts: CutList, width: int | None) -> list[str]:
    """By wood and stock, in board feet where it is sold by the inch, else in cubic metres."""
    inch = cuts.voice.inch
    unit = "bd ft" if inch else "m³"
    more = 1.0 + (cuts.allowance.waste or 0.0) / 100.0
    amounts = [total.board_feet if inch else total.cubic_metres for total in cuts.totals]
    rows = [
        (total.wood, stock_words(total.thickness, cuts.voice), *_amounts(amount, more, inch))
        for total, amount in zip(cuts.totals, amounts, strict=True)
    ]
    if len(rows) > 1:
        rows.append(("in all", "", *_amounts(sum(amounts), more, inch)))
    return columns(("wood", "stock", unit, f"to buy: {unit}"), rows, left=1, width=width)


def _amounts(amount: float, more: float, inch: bool) -> tuple[str, str]:
    """As sawn out to a tenth of a foot, or of a litre, and what is bought, rounded up to half feet, or litres."""
    if inch:
        return f"{amount:.1f}", f"{math.ceil(amount * more * 2.0 - 1e-6) / 2.0:.1f}"
    return f"{amount:.4f}", f"{math.ceil(amount * more * 1e3 - 1e-6) / 1e3:.3f}"


def _sentences(cuts: CutList, width: int | None) -> Iterator[str]:
    voice, usual = cuts.voice, cuts.allowance
    sentences = [
        f"Sawn out larger by {_allowed(usual.length, voice)} in length and {_allowed(usual.width, voice)} in width; "
        f"thickness is that of stock that still has {_allowed(usual.thickness, voice)} to plane away. What is bought "
        f"has {usual.waste:g} % more, for knots, splits and offcuts. [allowance] in the job changes each of these.",
        "A width that no plank has is glued up: add the width allowance for each further strip.",
    ]
    if voice.inch and any(line.rough[2] < INCH for line in cuts.lines):
        sentences.append("Board feet count stock of less than 1 in as 1 in thick.")
    sentences += [
        f"{line.board.name}: {voice.rule(line.finished[1])} wide, {voice.rule(line.room)} less than as drawn from "
        "groove to groove, half of it before each: so much it may grow when it is damp."
        for line in cuts.lines
        if line.room > 0.0
    ]
    thick = [line.board.name for line in cuts.lines if line.rough[2] > max(usual.stock or (math.inf,))]
    if thick:
        sentences.append(f"No stock is thick enough for {', '.join(thick)}: glued up of two thicknesses.")
    for sentence in sentences:
        yield from hanging(sentence, width, 0)


def _allowed(mm: float | None, voice: Voice) -> str:
    return voice.rule(mm or 0.0)


def _work(cuts: CutList, width: int | None, kit: str | None, *, by_hand: bool) -> Iterator[str]:
    first = "flat, to thickness, the lower edge straight, both ends square and to length: all is laid out from these"
    yield from hanging(f"What is done to each board, in this order; before it {first}.", width, 0)
    says = (
        "The order is that of the sheets, by hand: what is laid out from a side comes before what takes that away."
        if by_hand
        else f"The order is by how the sheets of the {kit} clamp and zero each board."
        if kit
        else "The order is by the drawing, without a kit: the cut list of `jigcam make` knows how each board is "
        "clamped and zeroed; where it has another order, go by that one."
    )
    yield from hanging(says, width, 0)
    for line in cuts.lines:
        if not line.work.clampings:
            continue
        many = f", each of {line.count}" if line.count > 1 else ""
        hands = f", {line.opposite} of them for the opposite hand, as mirror images" if line.opposite else ""
        yield from hanging(f"  {line.board.name}{many}{hands}", width)
        for number, each in enumerate(line.work.clampings, start=1):
            yield from hanging(f"  {number:>3}  {each.told}", width, 5)
        yield from _against(line, width)


def _against(line: CutLine, width: int | None) -> Iterator[str]:
    for one, other in line.work.against:
        yield from hanging(f"       {one.words} takes what {other.words} bears on: mark it before", width, 2)
