"""Choosing a bit and a bushing: every pair of a kit judged for a cut, and why each misfit is one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass, field
from itertools import product
from math import ceil

from jigcam.findings import Finding, stops
from jigcam.kit import Bit, Bushing, Kit, Measured, Want
from jigcam.kit.want import Lack
from jigcam.template import bushing as sums
from jigcam.template.stack import COLLAR_SPARE, REACH_SPARE, SLENDER, Stack
from jigcam.tolerances import TOLERANCES
from jigcam.units import MM, Voice

SLACK = 1e-6
"""mm; a limit that is missed by less than this, as rounding makes it, is kept."""
NO_PLAY = 0.01
"""A bushing with less play than this does not go into its opening at all, mm: less than a good bushing is round."""
LITTLE_PLAY = 0.1
"""mm of a bushing's play in its opening, under which chips make it bind (common practice, no source)."""
CHIP_ROOM = 0.8
"""Room for chips all round the bit in its bushing, mm (common practice, no source)."""
MOST_LAPS = 3
"""A bit that has to go more often than this side by side is a poor choice where a larger one fits."""


@dataclass(frozen=True, slots=True)
class Need:
    """What a cut asks of its tools, mm. corners: whether it has inside corners, which are left for the chisel.

    voice: of the wording; what: the cut, in words.
    """

    width: float
    depth: float
    corners: bool = False
    voice: Voice = MM
    what: str = "groove"


@dataclass(frozen=True, slots=True)
class Pair:
    """A bit that runs in a bushing.

    measured: what a test cut has shown of the two, if there was one; bit and bushing then have the sizes at which they
    act together, see `jigcam.kit.measured`. sold: both as they are sold, where they come from a kit.
    """

    bit: Bit
    bushing: Bushing
    measured: Measured | None = None
    sold: tuple[Bit, Bushing] | None = field(default=None, compare=False)

    @classmethod
    def of(cls, bit: Bit, bushing: Bushing, kit: Kit, known: Bit | None = None) -> Pair:
        """The pair as the kit knows it: by its nominal sizes, or by test cuts. known: the bit as measured, if asked."""
        found, known = kit.measurement(bit, bushing), known or kit.as_measured(bit)
        sold = next((each for each in kit.bits if each.name == bit.name), bit)
        if found is None:
            return cls(known, bushing, sold=(sold, bushing))
        if found.diameter is None and known != sold:
            found = found.model_copy(update={"diameter": known.diameter})
        return cls(*found.tools(sold, bushing), found, (sold, bushing))

    @property
    def bit_measured(self) -> bool:
        """Whether the bit's diameter was measured itself; else one that differs was concluded from a test cut."""
        return self.measured is None or self.measured.diameter is not None

    @property
    def offset(self) -> float:
        """(B − d)/2, mm."""
        return sums.offset(self.bit.diameter, self.bushing.outside)

    @property
    def difference(self) -> float:
        """B − d, mm: how much wider the opening is than the cut; the true one where it was measured."""
        return self.bushing.outside - self.bit.diameter

    def __str__(self) -> str:
        return f"{self.bit.name} in {self.bushing.name}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a pair would do for a cut, mm. findings: its stops and cautions.

    opening: width of the opening; play: of the bushing across it; chip_room: all round the bit; corner_radius: left in
    inside corners; laps: how often the bit goes side by side, to cover the width; lacking: all lengths and diameters by
    which its stops miss, added up.
    """

    pair: Pair
    opening: float
    play: float
    chip_room: float
    corner_radius: float
    laps: int
    stack: Stack
    findings: tuple[Finding, ...]
    lacking: float = 0.0

    @property
    def ok(self) -> bool:
        """Whether nothing stops the pair."""
        return not stops(self.findings)

    @property
    def stops(self) -> tuple[str, ...]:
        """What stops it, a sentence each."""
        return tuple(finding.says for finding in stops(self.findings))

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why it is refused, or what to watch, a sentence each; empty for a pair without fault."""
        return tuple(finding.says for finding in self.findings)


def judge(pair: Pair, kit: Kit, need: Need, where: str = "") -> Verdict:
    """A pair of the kit judged for a cut. where: of its findings."""
    bit, bushing = pair.bit, pair.bushing
    stack = Stack.of(bit, bushing, sheet=kit.the_sheet.thickness, depth=need.depth, router=kit.the_router)
    play = sums.play(need.width, bit.diameter)
    return Verdict(
        pair,
        opening=sums.opening_size(need.width, bit.diameter, bushing.outside),
        play=play,
        chip_room=sums.chip_room(bit, bushing),
        corner_radius=bit.radius,
        laps=max(1, ceil(need.width / bit.diameter - 0.1)),
        stack=stack,
        findings=tuple(_findings(pair, kit, need, stack, where)),
        lacking=sum(max(0.0, gap) for gap in _gaps(pair, kit, need, stack)),
    )


def _gaps(pair: Pair, kit: Kit, need: Need, stack: Stack) -> Iterator[float]:
    """By how much each of what stops a pair misses, mm; negative where it does not."""
    yield NO_PLAY - sums.play(need.width, pair.bit.diameter)
    yield -2.0 * sums.chip_room(pair.bit, pair.bushing)
    yield 0.0 if kit.the_router.takes(pair.bit) else pair.bit.shank
    yield -stack.collar_spare
    yield -stack.reach_spare
    yield stack.depth - stack.cutting


def _findings(pair: Pair, kit: Kit, need: Need, stack: Stack, where: str) -> Iterator[Finding]:
    lacks = Want("upright_walls", kit.the_router, width=need.width, edges=need.depth).lacks(pair.bit)
    if "ability" in lacks:
        says = f"{pair.bit.name} is a {pair.bit.kind} bit; this cut wants a straight one"
        yield Finding("stop", "bit-kind", where, says)
        return
    yield from _width_findings(pair, kit, need, lacks, where)
    yield from _stack_findings(pair, stack, need, lacks, where)


def _guessed(pair: Pair, kit: Kit) -> bool:
    """Whether the bit is reckoned with as its test cut may mean, and was not measured itself."""
    return pair.measured is not None and pair.measured.diameter is None and pair.bit != kit.as_measured(pair.bit)


def _width_findings(pair: Pair, kit: Kit, need: Need, lacks: Set[Lack], where: str) -> Iterator[Finding]:
    """The bit against the width of the cut, the router's collets and the inside of the bushing."""
    bit, bushing = pair.bit, pair.bushing

    says = need.voice.length
    if "collet" in lacks:
        collets = ", ".join(says(collet) for collet in kit.the_router.collets)
        yield Finding(
            "stop",
            "no-collet",
            where,
            f"the router's collets ({collets}) do not take the {says(bit.shank)} shank of {bit.name}",
        )
    play = sums.play(need.width, bit.diameter)
    doubt = " (as its test cut may mean; measure the bit, and give its diameter in [[measured]])"
    doubt = doubt if _guessed(pair, kit) else ""
    if play < -SLACK:
        yield Finding(
            "stop",
            "bit-too-wide",
            where,
            f"{bit.name} cuts {says(bit.diameter)}{doubt} and the {need.what} is {says(need.width)} wide: take a bit "
            f"of at most {says(need.width - TOLERANCES.binds)}, or widen the {need.what} by "
            f"{says(TOLERANCES.binds - play)}",
        )
    elif play < TOLERANCES.binds - SLACK:
        yield Finding(
            "stop" if play < NO_PLAY else "caution",
            "bushing-binds",
            where,
            f"{bushing.name} will bind in its opening: it has {says(max(play, 0.0))} of play{doubt}, and wants "
            f"{says(TOLERANCES.binds)}; widen the {need.what}{' (its clearance)' if need.what == 'groove' else ''} by "
            f"{says(TOLERANCES.binds - play)}, or take a bit of at most {says(need.width - TOLERANCES.binds)}",
        )
    elif play < LITTLE_PLAY - SLACK:
        yield Finding(
            "caution",
            "bushing-binds",
            where,
            f"{bushing.name} may bind in its opening, with only {says(play)} of play{doubt}, which chips or a swollen "
            f"sheet take up; with {says(LITTLE_PLAY)} it slides: widen the {need.what}"
            f"{' (its clearance)' if need.what == 'groove' else ''} by {says(LITTLE_PLAY - play)}, or take a bit of at "
            f"most {says(need.width - LITTLE_PLAY)}",
        )
    room, widest = sums.chip_room(bit, bushing), max(bit.diameter, bit.shank)
    part = "cutter" if bit.diameter >= bit.shank else "shank"
    if room <= SLACK:
        yield Finding(
            "stop",
            "bit-does-not-pass",
            where,
            f"the {says(widest)} {part} of {bit.name} does not pass {bushing.name}, which is {says(bushing.inside)} "
            f"inside: take one of more than that, {says(widest + 2.0 * CHIP_ROOM)} with room for chips, or a smaller "
            "bit",
        )
    elif room < CHIP_ROOM - SLACK:
        yield Finding(
            "caution",
            "tight-bushing",
            where,
            f"the {part} of {bit.name} has {says(room)} all round in {bushing.name}: chips want {says(CHIP_ROOM)} "
            "(common practice); stop and clear them often, or take a larger bushing",
        )


def _stack_findings(pair: Pair, stack: Stack, need: Need, lacks: Set[Lack], where: str) -> Iterator[Finding]:
    """The lengths, from the base down."""
    bit, bushing = pair.bit, pair.bushing

    says = need.voice.length
    collar = f"the collar of {bushing.name} is {says(stack.collar)} long and the sheet {says(stack.sheet)} thick"
    if stack.collar_spare <= SLACK:
        yield Finding(
            "stop",
            "collar-too-long",
            where,
            f"{collar}: it would rub on the work; take a sheet of at least {says(stack.collar + COLLAR_SPARE)}, or "
            "shorten the collar",
        )
    elif stack.collar_spare < COLLAR_SPARE - SLACK:
        yield Finding(
            "caution",
            "collar-near-work",
            where,
            f"{collar}: it should be {says(COLLAR_SPARE)} shorter than the sheet (common practice)",
        )
    needs = (
        f"the {need.what} is {says(stack.depth)} deep and the sheet {says(stack.sheet)} thick, so the tip goes "
        f"{says(stack.projection)} below the base"
    )
    if stack.reach_spare < -SLACK:
        yield Finding(
            "stop",
            "bit-too-short",
            where,
            f"{needs}, and {bit.name} reaches {says(max(stack.reach, 0.0))}: the collet's grip, the base plate and the "
            f"bushing's flange take the rest of its length; take a longer bit or a thinner sheet, "
            f"{says(-stack.reach_spare)} is missing",
        )
    elif stack.reach_spare < REACH_SPARE - SLACK:
        yield Finding(
            "caution",
            "bit-just-reaches",
            where,
            f"{needs}; {bit.name} reaches only {says(stack.reach_spare)} further, so the collet's nut comes close to "
            "the bushing: try it, unplugged, before cutting",
        )
    if "edges" in lacks:
        yield Finding(
            "stop",
            "edges-too-short",
            where,
            f"{bit.name} has cutting edges of {says(stack.cutting)}, and the {need.what} is {says(stack.depth)} deep: "
            f"its shank would rub in the {need.what}; take a bit with longer edges",
        )
    if stack.slenderness > SLENDER:
        yield Finding(
            "caution",
            "slender-bit",
            where,
            f"{bit.name} stands out {stack.slenderness:.1f} times its diameter: over {SLENDER:g} times it bends and "
            "chatters (common practice); cut shallow passes, or take a thicker bit or a thinner sheet",
        )


def rank_pairs(
    kit: Kit,
    need: Need,
    *,
    bits: Iterable[Bit] | None = None,
    bushings: Iterable[Bushing] | None = None,
    where: str = "",
) -> tuple[Verdict, ...]:
    """Every pair judged, best first; the refused ones come last. bits, bushings: only these; None: all of the kit.

    Order: bushings that slide, as far as is known: a test cut alone does not say whether it was the bit that is wider,
    and a pair is not passed over for having been measured; fewest cautions; few laps; the largest bit (the stiffest,
    with the least play), inside corners or not, as the chisel comes to them with any bit; the least offset, as it
    leaves most sheet under the base; names.
    """
    known = [(bit, kit.as_measured(bit)) for bit in (kit.bits if bits is None else bits)]
    verdicts = [
        judge(Pair.of(bit, bushing, kit, itself), kit, need, where)
        for (bit, itself), bushing in product(known, kit.bushings if bushings is None else bushings)
    ]

    def rank(verdict: Verdict) -> tuple[bool, bool, int, bool, float, float, str]:
        pair = verdict.pair
        binds = sum(finding.rule == "bushing-binds" for finding in verdict.findings)
        known = 0 if _guessed(pair, kit) else binds
        return (
            not verdict.ok,
            known > 0,
            len(verdict.findings) - binds + known,
            verdict.laps > MOST_LAPS,
            -pair.bit.diameter,
            pair.offset,
            str(pair),
        )

    return tuple(sorted(verdicts, key=rank))
