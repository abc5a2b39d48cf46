"""What is to be said about a template: why this pair, why not, how it lies, how it is ridden."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from jigcam.findings import Finding
from jigcam.geometry import intersection
from jigcam.kit import Bit, Kit
from jigcam.template import bushing as sums
from jigcam.template.far_sides import far_sides
from jigcam.template.marking import Marking
from jigcam.template.opening import RoundedCorner
from jigcam.template.pair_words import Sums
from jigcam.template.pairs import Need, Pair, Verdict
from jigcam.template.screws import Screws, SheetHole
from jigcam.template.sheet import FenceStrip, SheetLayout, TooLarge
from jigcam.template.stack import Stack
from jigcam.template.support import Support
from jigcam.units import Voice
from jigcam.wood.band import at_hand, sides
from jigcam.wood.solid import Cut

Says = Callable[[float], str]

LEAST_SUPPORT = 0.5
"""Share of the base that should rest on the sheet (common practice, no source)."""
COUNTS = {2: "two", 3: "three", 4: "four"}
"""Numbers that are written out."""
SEPARATE = "leave the key template out of one of these joints, so that it gets a sheet of its own"
"""The way that works where openings cannot be on one sheet."""
CONCENTRIC = 0.1
"""A good fit of bushing and bit on one axis, mm (from memory)."""


def choice_findings(
    joint: str, best: Verdict, ranked: Sequence[Verdict], need: Need, *, named: bool, why: str = ""
) -> Iterator[Finding]:
    """Why this pair. ranked: those that it was chosen from, best first. named: the job asked for just this one.

    why: it was chosen, where that was not for its rank.
    """

    says = need.voice.length
    told = Sums.of(need.width, best.pair.difference, need.voice)
    sums_text = (
        f"{best.pair}: the opening is {told.difference} wider and longer than the {need.what}, {told.opening} wide, "
        f"{told.offset} on every side; the bushing has {says(best.play)} of play in it"
    )
    yield from _measured_pair(joint, best.pair, says)
    if named:
        yield Finding("note", "pair", joint, f"{sums_text}, as the job asks")
        return
    if why:
        yield Finding("note", "pair", joint, f"{sums_text}; {why}")
        return
    laps = "in one lap" if best.laps == 1 else f"in {best.laps} laps side by side"
    size = "the stiffest bit and the least play" + (", corners or not, as the chisel comes anyway," * need.corners)
    others = [verdict for verdict in ranked[1:] if verdict.ok]
    refused = len(ranked) - 1 - len(others)
    rest = f"; next best: {others[0].pair}" if others else ""
    rest += f"; {refused} other pair{'s' if refused != 1 else ''} of the kit will not do" if refused else ""
    yield Finding(
        "note",
        "pair",
        joint,
        f"{sums_text}; chosen as it covers the width {laps} with {size} among those that fit{rest}",
    )


def _measured_pair(joint: str, pair: Pair, says: Says) -> Iterator[Finding]:
    """The note that a test cut decides the opening, and not the nominal sizes."""
    found = pair.measured
    if found is None:
        return
    yield Finding(
        "note",
        "measured-pair",
        joint,
        f"{pair}: the opening goes by the test cut of {found.date.isoformat()}, whose opening of "
        f"{says(found.opening)} gave a cut of {says(found.width)}: the true difference is {says(found.difference)}, "
        f"so it is reckoned with a bit of {says(pair.bit.diameter)} and a bushing of {says(pair.bushing.outside)}",
    )


def refusal(joint: str, asked: Sequence[Verdict], everything: Sequence[Verdict], *, named: bool) -> list[Finding]:
    """The stops for a choice without a pair that works. asked: those that the job allows; everything: the kit's."""
    better = next((verdict for verdict in everything if verdict.ok), None)
    if not everything:
        return [
            Finding(
                "stop",
                "no-pair",
                joint,
                "the kit has no guide bushing, and a template needs one: add [[bushings]] to it",
            )
        ]
    if named and len(asked) == 1:
        found = list(asked[0].findings)
    else:
        straight = [verdict for verdict in asked if verdict.pair.bit.upright_walls] or list(asked)
        nearest = min(straight, key=lambda verdict: (verdict.lacking, str(verdict.pair)), default=None)
        why = f"; the nearest is {nearest.pair}: {'; '.join(nearest.stops)}" if nearest else ""
        what = "of those that the job allows" if named else "of the kit"
        found = [Finding("stop", "no-pair", joint, f"no pair of bit and bushing {what} will do{why}")]
    if better is not None:
        found.append(Finding("note", "better-pair", joint, f"{better.pair} would do"))
    return found


def no_cutter(joint: str, rejected: dict[str, str]) -> Finding:
    """The stop for a kit that cannot mill the template. rejected: its straight bits, and why each cannot."""
    why = "; ".join(f"{name}: {fault}" for name, fault in rejected.items())
    says = f"no bit of the kit can mill the template ({why or 'none is straight'})"
    return Finding("stop", "no-template-cutter", joint, says)


def too_large(
    joint: str, sheet: TooLarge, kit: Kit, voice: Voice, what: str = "groove", *, shared: bool = False
) -> Finding:
    """The stop for a sheet that the machine cannot make. shared: it has the openings of several joints."""

    def size(x: float, y: float) -> str:
        return f"{voice.length(x)} by {voice.length(y)}"

    needs = f"the template needs a blank of at least {size(*sheet.blank)}"
    if shared:
        reach = "" if kit.machine is None else f", and the machine travels {size(*kit.machine.travel[:2])}"
        says = f"{needs} for all its openings{reach}: {SEPARATE}"
    elif kit.machine is None:
        says = f"{needs}, which is unhandy to make by hand: cut the {what} in two settings"
    else:
        says = (
            f"{needs}, and the machine travels {size(*kit.machine.travel[:2])}: make the template by hand, cut the "
            f"{what} in two settings, or use a larger machine"
        )
    return Finding("stop", "template-too-large", joint, says)


def support_findings(joint: str, held: Support, layout: SheetLayout, kit: Kit, voice: Voice) -> Iterator[Finding]:
    """How the base rests."""
    says = voice.length
    base = f"the router's base of {says(2.0 * kit.the_router.base_radius)}"
    if held.tips:
        x, y = held.lever_at
        yield Finding(
            "stop",
            "base-tips",
            joint,
            f"{base} would tip where the bushing is at x {says(x)}, y {says(y)}: its middle is not over what carries "
            f"it; the sheet reaches only {says(layout.margin)} beyond the ride, as the machine allows",
        )
    elif held.fraction < LEAST_SUPPORT:
        yield Finding(
            "caution",
            "base-support",
            joint,
            f"only {held.fraction:.0%} of {base} rests on the sheet where the bushing is at x {says(held.x)}, "
            f"y {says(held.y)}: hold the router down on the sheet's side, or lay a strip of the same thickness beside "
            "it",
        )
    else:
        yield Finding(
            "note",
            "base-support",
            joint,
            f"at least {held.fraction:.0%} of {base} rests on the sheet, all round the ride",
        )


def sheet_findings(
    name: str,
    cuts: Sequence[Cut],
    layout: SheetLayout,
    screws: Sequence[SheetHole],
    marking: Marking,
    engraver: Bit | None,
    kit: Kit,
    *,
    both_hands: bool,
    voice: Voice,
) -> Iterator[Finding]:
    """How the sheet is placed on the board, and read. name: of the sheet; cuts: that its openings are for."""
    says = voice.rule

    cut = cuts[0]
    names = sides(cut.face)
    for strip, what in ((layout.fence, "fence"), (layout.stop, "stop block")):
        if strip is not None:
            rule = "fence" if strip is layout.fence else "stop-block"
            yield Finding("note", rule, name, _strip_text(strip, what, at_hand(names[strip.side], cut.face), kit, says))
            for each in cuts:
                yield from _cut_strip(each, strip, what)
    if layout.fence is None:
        moved = all(any(step[axis] for step in layout.steps) for axis in (0, 1))
        why = (
            "the sheet is moved along the board and across it, so that no strip leads it"
            if moved
            else "no side of the board is in reach of a sheet that the machine can make"
        )
        says_so = f"{why}: lay the sheet by its index lines, and clamp it; check both before routing"
        yield Finding("caution", "no-fence", name, says_so)
    yield from far_sides(name, cut, layout)
    for index in layout.indexes:
        yield Finding(
            "note",
            "index-line",
            name,
            f"draw a line on the board {says(index.distance)} from its {at_hand(names[index.side], cut.face)}, "
            "parallel to it and all the way over, and lay the sheet on it: "
            f"{'its own' if engraver is None else 'the engraved'} line ends at both rims of each "
            "sight (a hole to see the board through), and the drawn one has to lie in line with these "
            "ends; a block clamped there places the next board"
            + ("; carry the line round the sheet's edge onto its other face with a square" if both_hands else ""),
        )
    on_line = sum(hole.says.endswith("centreline") for hole in marking.sights)
    if on_line:
        which = "a sight shows" if on_line == 1 else f"{COUNTS.get(on_line, str(on_line))} sights show"
        lines = f"the centreline of the {cut.what}" if len(cuts) == 1 else "the centrelines of the cuts"
        them = "it" if len(cuts) == 1 else "them"
        yield Finding(
            "note",
            "sights",
            name,
            f"{which} {lines}, and whether the sheet lies right: draw {them} on the board; through each "
            "hole the line must run on in line with the marks "
            f"{'drawn' if engraver is None else 'engraved'} on the sheet",
        )
    for strip, what in ((layout.fence, "fence"), (layout.stop, "stop block")):
        count = sum(_holds(strip, hole) for hole in screws) if strip else 2
        if count < 2:
            yield Finding(
                "caution",
                "few-screws",
                name,
                f"there is room for {count} screw{'s' if count != 1 else ''} in the {what} strip: glue it as well",
            )
    if both_hands:
        yield Finding(
            "note",
            "turn-over",
            name,
            "for the opposite hand turn the sheet over like the page of a book, left for right, and screw its strips "
            f"to the other face through the same holes; the {'marked' if engraver is None else 'engraved'} face is "
            "up for the hand as drawn",
        )
    if engraver is None:
        why = "no bit of a machine engraves the marks"
        yield Finding("note", "marks-by-hand", name, f"{why}: write them by hand, as the drawing has them")
    if marking.left_out:
        texts = "; ".join(marking.left_out)
        yield Finding("note", "marks-by-hand", name, f"no room was found on the sheet for: {texts}; write them")


def sawn_findings(name: str, layout: SheetLayout, kit: Kit, voice: Voice) -> Iterator[Finding]:
    """The size to which a blank is sawn that a machine mills, and which of its edges count."""
    if kit.machine is None or not kit.the_sheet.sawn_to_size:
        return
    wide, high = (voice.rule(size) for size in layout.box.size)
    right, upper = layout.true_corner
    edges = f"its {'upper' if upper else 'lower'} and its {'right' if right else 'left'} edge"
    yield Finding(
        "note",
        "sawn-blank",
        name,
        f"saw the blank to {wide} by {high} before it goes on the machine, and {edges}, as the opening is drawn, "
        "straight and square: zero and the strips lie on them, and no outline is milled",
    )


def _strip_text(strip: FenceStrip, what: str, side: str, kit: Kit, says: Says) -> str:
    wide, high = strip.box.size
    across, along = (wide, high) if strip.upright else (high, wide)
    return (
        f"the {what} is a strip of sheet {says(across)} wide and {says(kit.the_sheet.thickness)} thick, as long as the "
        f"sheet's edge allows, {says(along)}, screwed under the sheet flush with its edge; it bears against the {side} "
        "of the board"
    )


def strip_findings(
    name: str,
    cuts: Sequence[Cut],
    layout: SheetLayout,
    holes: Sequence[SheetHole],
    screws: Screws,
    kit: Kit,
    *,
    crossed: bool,
    both_hands: bool,
    voice: Voice,
) -> Iterator[Finding]:
    """The screws of the strips, and strips that are deeper than the board. crossed: holes for the hand are marked."""
    says = voice.length
    thick, board = kit.the_sheet.thickness, cuts[0].board.thickness
    strips = [what for what, strip in (("fence", layout.fence), ("stop block", layout.stop)) if strip is not None]
    if holes:
        screw = screws.screw
        held = " and ".join(f"the {what}" for what in strips)
        into = screws.length - thick
        who = "bored by the machine"
        if screws.by_hand:
            who = "drilled by hand at the engraved crosses" if crossed else "drilled by hand, as the drawing has them"
        turned = ", from both faces where the sheet is turned over" if both_hands else ""
        yield Finding(
            "note",
            "screws",
            name,
            f"{len(holes)} flat-headed screw{'s' * (len(holes) > 1)}, {screw.name} by {says(screws.length)}, "
            f"hold{'s' * (len(holes) == 1)} {held}: holes of {voice.drill(screw.hole)} go through the sheet, {who}; "
            f"countersink them {screw.angle:g}° to {voice.drill(screw.head)} across{turned}, so that no head stands "
            f"above the sheet; clamp the strip in its place and drill on into it, {voice.drill(screw.pilot)} wide and "
            f"{says(into)} deep, as far as a screw goes in",
        )
    if strips and thick > board:
        yield Finding(
            "caution",
            "strip-too-deep",
            name,
            f"the strips for {' and '.join(strips)} are {says(thick)} deep and {cuts[0].board.name} is only "
            f"{says(board)} thick: on a bench they would hold the sheet off it; make them of stock thinner than "
            f"{says(board)}, or lay the board on a packer of at least {says(thick - board)}",
        )


def _cut_strip(cut: Cut, strip: FenceStrip, what: str) -> Iterator[Finding]:
    """The note that a bit leaves the board through a strip."""
    if (cut.open_start or cut.open_finish) and intersection(cut.solid.section(0.0), strip.box.region).area > 0.0:
        yield Finding(
            "note",
            "strip-is-cut",
            cut.joint,
            f"the groove runs out through the {what}: the bit cuts into it, clear of the screws, and it backs the edge "
            "up against breaking out",
        )


def _holds(strip: FenceStrip, hole: SheetHole) -> bool:
    box = strip.box
    return box.x0 <= hole.x <= box.x1 and box.y0 <= hole.y <= box.y1


def use_findings(
    cut: Cut, pair: Pair, stack: Stack, corners: Sequence[RoundedCorner], kit: Kit, voice: Voice
) -> Iterator[Finding]:
    """How it is routed, and what comes out."""
    says = voice.length
    if corners:
        places = "; ".join(f"x {says(corner.x)}, y {says(corner.y)}" for corner in corners)
        yield Finding(
            "note",
            "corners",
            cut.joint,
            f"{len(corners)} corner{'s keep' if len(corners) > 1 else ' keeps'} a radius of {says(pair.bit.radius)} "
            f"for the chisel: {places}",
        )
    depths = ", ".join(says(stack.sheet + depth) for depth in stack.passes())
    yield Finding(
        "note",
        "hand-feed",
        cut.joint,
        f"set the bit below the base to {depths} in turn; move the router clockwise inside the opening, seen "
        "from above, so that the cut pulls the bushing against the wall; let the bit stop before lifting it out",
    )
    known = kit.the_router.eccentricity
    axes = CONCENTRIC if known is None else known
    error = sums.eccentricity(axes)
    off = f"{'if' if known is None else 'as measured,'} bushing and bit are {says(axes)} out of line"
    yield Finding(
        "note",
        "concentricity",
        cut.joint,
        f"{off}{',' if known is None else ':'} the {cut.what} of {says(cut.width)} shifts by "
        f"{says(error.shift)}, and comes out up to {says(cut.width + error.widening)} wide where the router turns: "
        "keep one side of its base facing the same way",
    )
