"""Which bit cuts a joint directly: the widest straight one that goes in, with the reason against every other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf
from typing import NamedTuple

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.kit import Bit, Kit, Want
from jigcam.units import Voice


class Rejection(NamedTuple):
    """A bit that was not taken, why, and what would cure it."""

    bit: Bit
    rule: str
    why: str
    cure: str


def fault_of(bit: Bit, kit: Kit, width: float, depth: float, voice: Voice, room: str = "the cut") -> Rejection | None:
    """The first reason why a bit cannot cut a slot of that width and depth (mm) on the kit's machine, or None.

    width: inf where a bit may be as wide as it likes. room: what is as wide as that.
    """
    says = voice.length
    lacks = Want("upright_walls", kit.machine, width=width, edges=depth).lacks(bit)
    if "ability" in lacks:
        return Rejection(bit, "bit-kind", f"it is a {bit.kind} bit", "a straight bit")
    if "collet" in lacks:
        return Rejection(
            bit, "bit-shank", f"no collet of the machine takes its {says(bit.shank)} shank", "a collet of that size"
        )
    if "width" in lacks:
        return Rejection(
            bit,
            "bit-too-wide",
            f"it is {says(bit.diameter)} wide and {room} only {says(width)}",
            f"a bit of at most {says(width)}",
        )
    if "edges" in lacks:
        return Rejection(
            bit,
            "bit-too-short",
            f"its edges are {says(bit.cutting_length)} long and the cut is {says(depth)} deep",
            f"a bit with edges of at least {says(depth)}",
        )
    return None


def direct_bit(
    kit: Kit, width: float, depth: float, named: str | None, where: str, voice: Voice, room: str = "the cut"
) -> tuple[Bit, list[Finding]]:
    """The bit for a direct cut: the named one, if it can, else the widest that can; with findings that say why.

    width: the widest that goes in, mm, inf where all do; room: what is as wide as that.

    Raises `Refused` where the named one cannot, or none can; InputError for a name that is not in the kit.
    """
    if named is not None:
        bit = kit.bit(named)
        fault = fault_of(bit, kit, width, depth, voice, room)
        if fault is not None:
            stop = Finding("stop", fault.rule, where, f"{bit.name} cannot cut it: {fault.why}. Take {fault.cure}.")
            raise Refused(f"{bit.name} cannot cut {where}", [stop])
        return bit, []
    verdicts = [(bit, fault_of(bit, kit, width, depth, voice, room)) for bit in kit.bits]
    able = [bit for bit, fault in verdicts if fault is None]
    if not able:
        most = f" of at most {voice.length(width)}" if width < inf else ""
        cure = f"a straight bit{most}, with edges {voice.length(depth)} long"
        stop = Finding("stop", "no-bit", where, f"No bit of the kit can cut it; it wants {cure}.")
        raise Refused(f"no bit can cut {where}", [stop, *_not_taken(verdicts, None, where)])
    best = max(able, key=lambda bit: (bit.diameter, -bit.overall_length, bit.name))
    taken = Finding(
        "note",
        "bit-choice",
        where,
        f"{best.name} was taken: the widest straight bit that fits the cut, so the stiffest and the quickest.",
    )
    return best, [taken, *_not_taken(verdicts, best, where)]


def _not_taken(verdicts: Iterable[tuple[Bit, Rejection | None]], best: Bit | None, where: str) -> Iterator[Finding]:
    """One note on all the bits that were not taken, those with the same reason together."""
    reasons: dict[str, list[str]] = {}
    for bit, fault in verdicts:
        if bit is not best:
            why = fault.why if fault else f"{best.name if best else 'another'} is wider"
            reasons.setdefault(why, []).append(bit.name)
    if reasons:
        says = "; ".join(f"{', '.join(names)}: {why}" for why, names in reasons.items())
        yield Finding("note", "bits-not-taken", where, f"Not taken: {says}.")
