"""The bench's answer on tolerance: how far a groove's width and place may come out, and how its mate will fit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigcam.bench.cut import BenchCut, chosen_verdict
from jigcam.errors import InputError
from jigcam.kit import Accuracy
from jigcam.kit.accuracy import LARGEST
from jigcam.making.columns import columns, hanging, prose
from jigcam.template import Pair
from jigcam.template.tolerance import CURES, CUTS, SEED, Errors, Tolerance, tolerance
from jigcam.units import MM, Voice, length_text
from jigcam.wood.practice import PRACTICE

if TYPE_CHECKING:
    from collections.abc import Mapping

    from jigcam.kit import Kit

MOST_CUTS = 5_000_000
"""More cuts than this are not simulated: they add digits that nobody cuts to."""


@dataclass(frozen=True, slots=True)
class JointSpread:
    """The spread of one groove, cut with that pair."""

    joint: str
    mate: str
    width: float
    pair: Pair
    spread: Tolerance

    def as_dict(self) -> dict[str, Any]:
        """For `--json`; mm."""
        return {
            "joint": self.joint,
            "mate": self.mate,
            "width_mm": round(self.width, 6),
            "bit": self.pair.bit.name,
            "bushing": self.pair.bushing.name,
            **self.spread.as_dict(),
        }


def joint_spread(
    each: BenchCut,
    kit: Kit,
    *,
    given: Mapping[str, float] | None = None,
    turns: bool = True,
    least: float = 0.0,
    most: float | None = None,
    cuts: int = CUTS,
    seed: int = SEED,
    voice: Voice = MM,
) -> JointSpread:
    """The spread of a groove of a job. given: limits (mm) that replace the kit's, by key of its table `tolerances`. The
    axes' distance is the router's eccentricity, where the kit knows it and no limit is given.

    turns: the router turns as it goes round. least, most: clearances between which the mate fits; most None: the
    looseness at which a glue line fails, or twice the clearance as drawn if that is more. Raises InputError.
    """
    if not 1 <= cuts <= MOST_CUTS:
        raise InputError(
            "so many cuts cannot be simulated", where="--cuts", found=str(cuts), wanted=f"from 1 to {MOST_CUTS}"
        )
    drawn = each.mate.clearance
    if most is None:
        most = max(PRACTICE.loose, 2.0 * drawn)
    if most <= least:
        raise InputError(
            "the loosest fit is tighter than the tightest",
            where="--most",
            found=length_text(most, voice.units),
            wanted=f"more than {voice.length(least)}",
        )
    pair = chosen_verdict(each, kit, kit.voice).pair
    given = given or {}
    apart = kit.the_router.eccentricity if "concentricity" not in given else None
    limits = _limits(kit.accuracy, {**given, **({} if apart is None else {"concentricity": apart})}, voice)
    errors = Errors(limits, turns, pair.measured is not None, apart is not None)
    spread = tolerance(errors, drawn, least=least, most=most, cuts=cuts, seed=seed)
    mate = each.mate.board or "the mate"
    return JointSpread(each.entry.name, mate, each.cut.width, pair, spread)


def _limits(accuracy: Accuracy, given: Mapping[str, float], voice: Voice) -> Accuracy:
    if not given:
        return accuracy
    for key, value in given.items():
        if not 0.0 <= value <= LARGEST:
            raise InputError(
                "no tolerance",
                where=f"--{key}",
                found=length_text(value, voice.units),
                wanted=f"from 0 to {voice.length(LARGEST)}",
            )
    kept = {key: getattr(accuracy, key) for key in accuracy.model_fields_set}
    return Accuracy(**{**kept, **given})


TERMS = (
    "worst case: all errors at their limits at once; by squares: errors that know nothing of each other, their squares "
    "added up; of the cuts: the same from cuts with errors drawn by chance; u: the standard uncertainty, about half of "
    "what 95 % of all cuts stay within."
)
"""What the heads of the columns mean."""


def tolerance_lines(result: JointSpread, voice: Voice, width: int | None = None) -> list[str]:
    """For people: lengths in the job's units, one place more than usual. width: columns of the screen; None: any."""
    places = 4 if voice.inch else 3

    def says(mm: float) -> str:
        return voice.length(mm, places)

    t = result.spread
    rows = []
    for name, each in (("width", t.width), ("place", t.place), ("clearance", t.clearance)):
        mc = t.simulated[name]
        middle = t.drawn if name == "clearance" else 0.0
        rows.append(
            [
                name,
                f"± {says(each.worst)}",
                f"± {says(each.expanded)}",
                f"{says(mc.low - middle)} to {says(mc.high - middle)}",
                says(each.uncertainty),
                says(mc.deviation),
            ]
        )
    title = (
        f"{result.joint}: {voice.length(result.width)} wide, cut with {result.pair}; clearance of "
        f"{result.mate} {says(t.drawn)} as drawn"
    )
    lines = [
        *prose([title], width),
        "",
        *columns(
            ["", "worst case", "95 %, by squares", f"95 % of {t.cuts} cuts", "u, by squares", "u of the cuts"],
            rows,
            width=width,
        ),
        "",
        *prose([TERMS], width),
        "",
        f"fit of {result.mate}: tight under {says(t.least)}, loose over {says(t.most)}",
        *columns(
            ["", "tight", "right", "loose"],
            [
                ["of the cuts", *_percent(t.fits.tight, t.fits.right, t.fits.loose)],
                ["by squares", *_percent(t.normal.tight, t.normal.right, t.normal.loose)],
            ],
        ),
        "",
        "what it comes from, as a share of the clearance's variance",
    ]
    lines += [f"  {source:<20} {share:>4.0%}  {_bar(share)}".rstrip() for source, share in t.clearance.shares().items()]
    if t.first:
        lines += ["", *prose([f"attack first: {t.first} - {CURES[t.first]}"], width)]
    accuracy = t.errors.accuracy
    skipped = {"bit", "bushing"} if t.errors.measured else {"measuring"}
    lines += ["", "limits that were used, each ±"]
    for key in type(accuracy).model_fields:
        if key not in skipped:
            limit = f"  {key:<14} {says(getattr(accuracy, key)):>11}  "
            lines += hanging(f"{limit}{t.errors.source(key)}", width, len(limit) - 2)
    if not t.errors.turns:
        lines.append("  the router is held one way round, so its axes shift the groove and do not widen it")
    return lines


def _percent(*shares: float) -> list[str]:
    return [f"{100.0 * share:.1f} %" for share in shares]


def _bar(share: float) -> str:
    return "#" * round(30.0 * share)
