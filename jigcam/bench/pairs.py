"""The bench's list of pairs: every bit in every bushing of a kit, judged for a cut, and what pairs do together."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING, Any

from jigcam.errors import InputError, Refused
from jigcam.findings import stops
from jigcam.making.columns import columns, prose
from jigcam.making.gcode_file import tidy
from jigcam.template import Need, Verdict, rank_pairs
from jigcam.template import bushing as sums
from jigcam.template.bare import opened, rests
from jigcam.units import Voice, length_text

if TYPE_CHECKING:
    from collections.abc import Sequence, Sized

    from jigcam.bench.cut import BenchCut
    from jigcam.kit import Kit
    from jigcam.template import Pair, Support

MOST_SHOWN = 100
"""So many working pairs are laid on a board and listed, the best ones; the rest of a large kit is counted."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A pair's verdict for a cut. corner: radius left in the cut's inside corners, mm.

    base: how the router's base rests round the ride, None without a board to lay a sheet on, and where `MOST_SHOWN`
    better pairs were laid on it. more: reasons beyond the verdict's that refuse its template.
    """

    verdict: Verdict
    corner: float
    base: Support | None = None
    more: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether nothing stops it."""
        return self.verdict.ok and not self.more

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why it is refused, or what to watch."""
        return (*self.verdict.reasons, *self.more)


@dataclass(frozen=True, slots=True)
class PairList:
    """All pairs for one cut, best first. what: the cut in words; need: what it asks of its tools."""

    what: str
    need: Need
    kit: Kit
    judged: tuple[Judged, ...]

    @property
    def inlay(self) -> list[sums.InlayPair]:
        """One bit and two bushings each, for a recess and its plug from one opening."""
        return list(sums.inlay_pairs(self.kit.bits, self.kit.bushings))

    @property
    def sharing(self) -> list[tuple[tuple[Any, Any], ...]]:
        """Groups of pairs that share one opening, among those that are not refused."""
        good = {(each.verdict.pair.bit.name, each.verdict.pair.bushing.name) for each in self.judged if each.ok}
        groups = sums.pairs_by_difference(self.kit.bits, self.kit.bushings)
        kept = [tuple(pair for pair in group if (pair[0].name, pair[1].name) in good) for group in groups]
        return [group for group in kept if len(group) > 1]

    def as_dict(self) -> dict[str, Any]:
        """For `--json`; mm."""
        return {
            "cut": self.what,
            "kit": self.kit.name,
            "width_mm": tidy(self.need.width),
            "depth_mm": tidy(self.need.depth),
            "pairs": [_pair_dict(each) for each in self.judged],
            "recess_and_plug": [
                {"bit": each.bit.name, "recess": each.recess.name, "plug": each.plug.name} for each in self.inlay
            ],
            "sharing_one_opening": [
                [{"bit": bit.name, "bushing": each.name} for bit, each in group] for group in self.sharing
            ],
        }


def pairs_for_width(kit: Kit, width: float, depth: float, radius: float | None = None) -> PairList:
    """Every pair judged for a cut of that width and depth, mm.

    radius: the tightest inside corner that the cut may keep; a bit with a larger one is refused. None: corners do not
    matter. Raises InputError for sizes that cannot be.
    """
    for name, size in (("--cut", width), ("--depth", depth), ("--radius", radius)):
        if size is not None and not 0.0 < size < 10_000.0:
            raise InputError(
                "no size for a cut",
                where=name,
                found=length_text(size, kit.voice.units),
                wanted=f"from 0 to {kit.voice.length(10_000.0)}",
            )
    need = Need(width, depth, radius is not None, kit.voice)
    judged = [_judged(verdict, radius, kit.voice) for verdict in rank_pairs(kit, need)]
    judged.sort(key=lambda each: not each.ok)
    return PairList(f"a cut {kit.voice.length(width)} wide", need, kit, tuple(judged))


def pairs_for_cut(each: BenchCut, kit: Kit, voice: Voice) -> PairList:
    """Every pair judged for a groove of a job, with the sheet that it would need laid on the board.

    How the base rests on a sheet that the groove shares is for that sheet: see `sheet_pairs`.
    """
    cut = each.cut
    need = Need(cut.narrowest, cut.solid.depth, each.guided.corners, voice)
    judged, shown = [], 0
    for verdict in rank_pairs(kit, need, where=cut.joint):
        base: Support | None = None
        more: tuple[str, ...] = ()
        if verdict.ok and each.sheet is None and shown < MOST_SHOWN:
            try:
                base = rests(opened(cut, verdict, (verdict,), verdict.findings, both_hands=False), kit, voice)
                shown += 1
            except Refused as refused:
                more = tuple(finding.says for finding in stops(refused.findings))
        judged.append(Judged(verdict, verdict.corner_radius, base, more))
    judged.sort(key=lambda one: not one.ok)
    shared = f" on the sheet {each.sheet}" if each.sheet is not None else ""
    return PairList(f"{cut.joint}{shared}, {voice.length(cut.width)} wide", need, kit, tuple(judged))


def _judged(verdict: Verdict, radius: float | None, voice: Voice) -> Judged:
    corner = verdict.corner_radius
    more: tuple[str, ...] = ()
    if verdict.ok and radius is not None and corner > radius + 1e-9:
        more = (
            f"{verdict.pair.bit.name} leaves inside corners of {voice.length(corner)}, and at most "
            f"{voice.length(radius)} is wanted: take a bit of at most {voice.length(2 * radius)}",
        )
    return Judged(verdict, corner, None, more)


def _pair_dict(each: Judged) -> dict[str, Any]:
    verdict, pair = each.verdict, each.verdict.pair
    stack = verdict.stack
    return {
        "bit": pair.bit.name,
        "bushing": pair.bushing.name,
        "ok": each.ok,
        "offset_mm": tidy(pair.offset),
        "opening_mm": tidy(verdict.opening),
        "play_mm": tidy(verdict.play),
        "chip_room_mm": tidy(verdict.chip_room),
        "corner_radius_mm": tidy(each.corner),
        "laps": verdict.laps,
        "measured": pair.measured is not None,
        "stack": {
            "sheet_mm": tidy(stack.sheet),
            "depth_mm": tidy(stack.depth),
            "collar_mm": tidy(stack.collar),
            "projection_mm": tidy(stack.projection),
            "reach_mm": tidy(stack.reach),
            "reach_spare_mm": tidy(stack.reach_spare),
            "collar_spare_mm": tidy(stack.collar_spare),
        },
        "base": None
        if each.base is None
        else {
            "fraction": round(each.base.fraction, 4),
            "x_mm": round(each.base.x, 3),
            "y_mm": round(each.base.y, 3),
            "tips": each.base.tips,
        },
        "reasons": list(each.reasons),
    }


LEGEND = (
    "offset: at each wall, and the opening holds two; play: how much wider the opening is than the bushing in it;",
    "chips: room all round the bit in its bushing; laps: how often the bit goes side by side to cover the width;",
    "below base: how far the bit is set; spare: how much further it would reach;",
    "corner: the radius that the bit leaves in an inside corner, and round ends have;",
    "base: the share of it that rests on the sheet at the worst place",
)
"""What the table's columns are."""


def pair_lines(results: Sequence[PairList], voice: Voice, width: int | None = None) -> list[str]:
    """For people, cut by cut: what works, best first, what to watch, what is refused and why; then what goes together.

    What is the same for several cuts is said once. width: columns of the screen, to which tables are folded; None: any.
    """
    lines: list[str] = []
    told: dict[tuple[str, ...], str] = {}
    legend = list(LEGEND)
    for result in results:
        title = f"{result.what}, {voice.length(result.need.depth)} deep, with the {result.kit.name}"
        table, reasons = _table(result, voice, width), _verdicts(result)
        first = told.setdefault((*table, *reasons), result.what)
        if first is not result.what:
            same = lines[-1:] and lines[-1].endswith(f": as {first}")
            lines += [*([] if same else [""]), f"{result.what}: as {first}"]
            continue
        lines += [""] * bool(lines)
        lines += [*prose([title], width), "", *table]
        if result.judged and result.judged[0].ok and legend:
            lines += ["", *prose(legend, width)]
            legend = []
        lines += prose(reasons, width)
    for together in dict.fromkeys(tuple(_together(result)) for result in results):
        lines += prose(together, width)
    return lines


def _table(result: PairList, voice: Voice, width: int | None) -> list[str]:
    """The pairs that work."""
    says = voice.length
    good = [each for each in result.judged if each.ok]
    if not good:
        return ["no pair of the kit will do"]
    table = columns(
        [
            "",
            "bit",
            "bushing",
            "offset",
            "opening",
            "play",
            "chips",
            "laps",
            "below base",
            "spare",
            "corner",
            "base",
        ],
        [
            [
                str(rank),
                each.verdict.pair.bit.name,
                each.verdict.pair.bushing.name,
                says(each.verdict.pair.offset),
                says(each.verdict.opening),
                says(each.verdict.play),
                says(each.verdict.chip_room),
                str(each.verdict.laps),
                says(each.verdict.stack.projection),
                says(each.verdict.stack.reach_spare),
                says(each.corner),
                "" if each.base is None else f"{each.base.fraction:.0%}",
            ]
            for rank, each in enumerate(good[:MOST_SHOWN], 1)
        ],
        left=3,
        width=width,
    )
    return [*table, *_rest(good, "work by their sums, after these")]


def _rest(some: Sized, what: str = "") -> list[str]:
    """The line that counts what a list of a large kit leaves out."""
    left = len(some) - MOST_SHOWN
    return [f"  and {left:,} more {what}".rstrip()] if left > 0 else []


def _verdicts(result: PairList) -> list[str]:
    """What to watch, and what is refused."""
    straight = [each for each in result.judged if not each.ok and each.verdict.pair.bit.upright_walls]
    others = dict.fromkeys(
        each.verdict.pair.bit.name for each in result.judged if not each.verdict.pair.bit.upright_walls
    )
    lines = _reasons("watch", _watched(result), all_of_them=True)
    lines += _reasons("refused", straight, all_of_them=False)
    if others:
        lines += ["", f"not for this cut, as they are not straight: {', '.join(others)}"]
    return lines


def _watched(result: PairList) -> list[Judged]:
    """The listed ones that have cautions."""
    return [each for each in islice((each for each in result.judged if each.ok), MOST_SHOWN) if each.reasons]


def _reasons(title: str, some: Sequence[Judged], *, all_of_them: bool) -> list[str]:
    said: dict[str, list[Pair]] = {}
    for each in some:
        for reason in each.reasons if all_of_them else each.reasons[:1]:
            said.setdefault(reason, []).append(each.verdict.pair)
    listed = [f"  {_named(pairs)}: {reason}" for reason, pairs in islice(said.items(), MOST_SHOWN)]
    return [*(["", title] if said else []), *listed, *_rest(said)]


def _named(pairs: Sequence[Pair]) -> str:
    """Pairs in words, those of one bit together."""
    bushings: dict[str, list[str]] = {}
    for pair in pairs:
        bushings.setdefault(pair.bit.name, []).append(pair.bushing.name)
    return "; ".join(f"{bit} in {', '.join(names)}" for bit, names in bushings.items())


def _together(result: PairList) -> list[str]:
    lines: list[str] = []
    inlay, sharing = result.inlay, result.sharing
    if inlay:
        lines += [
            "",
            "recess and plug from one opening with one bit: the bushings differ by twice the bit (B1 - B2 = 2d)",
        ]
        lines += [
            f"  {each.bit.name}: recess with {each.recess.name}, plug with {each.plug.name}"
            for each in inlay[:MOST_SHOWN]
        ]
        lines += _rest(inlay)
    if sharing:
        lines += ["", "pairs that share one opening: bushing less bit (B - d) is the same for them"]
        lines += [
            "  " + "; ".join(f"{bit.name} in {each.name}" for bit, each in group) for group in sharing[:MOST_SHOWN]
        ]
        lines += _rest(sharing)
    return lines
