"""Findings about templates: the pair of bit and bushing, the sheet, how it lies and how it is ridden."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "pair": Rule(
            ("note",),
            "Which bit runs in which bushing, and why.",
            "Name `bit` and `bushing` in the job for another pair.",
        ),
        "measured-pair": Rule(
            ("note",),
            "A test cut in the kit decides the opening, and not the nominal sizes.",
            "Make the test cut anew if a bit was ground or a bushing replaced.",
        ),
        "no-pair": Rule(
            ("stop",),
            "No bit and bushing of those allowed make this cut.",
            "Add a pair that does to the kit, or name no tools in the job.",
        ),
        "better-pair": Rule(
            ("note",), "A pair of the kit that would do instead of the one named.", "Name that pair in the job."
        ),
        "one-pair": Rule(
            ("note",),
            "One pair of bit and bushing makes all openings of a sheet that several joints share.",
            "None is needed; name `bit` and `bushing` in the joints for others.",
        ),
        "several-pairs": Rule(
            ("note",),
            "The openings of a sheet that several joints share want different pairs of bit and bushing.",
            "Change them as the setup sheet says; the sheet stays clamped.",
        ),
        "sheet-wall": Rule(
            ("stop", "caution", "note"),
            "How much of the sheet stays between two openings of it, to carry the bushing.",
            "Give one of the joints a sheet of its own (leave `template` out), or draw them further apart.",
        ),
        "no-collet": Rule(
            ("stop",),
            "The router's collets do not take the bit's shank.",
            "Take a bit with another shank, or add the collet to the kit.",
        ),
        "bit-does-not-pass": Rule(
            ("stop",),
            "The cutter or shank of the bit does not go through the bushing.",
            "Take a bushing that is wider inside, or a smaller bit.",
        ),
        "tight-bushing": Rule(
            ("caution",),
            "There is little room for chips between bit and bushing.",
            "Stop and clear the chips often, or take a larger bushing.",
        ),
        "collar-too-long": Rule(
            ("stop",),
            "The bushing's collar stands out below the sheet and would rub on the work.",
            "Take a thicker sheet, or shorten the collar.",
        ),
        "collar-near-work": Rule(
            ("caution",),
            "The bushing's collar ends close above the work.",
            "Take a thicker sheet, or shorten the collar.",
        ),
        "bit-just-reaches": Rule(
            ("caution",),
            "The bit reaches the depth with little to spare, so the nut comes close to the bushing.",
            "Try it unplugged first, or take a longer bit.",
        ),
        "edges-too-short": Rule(
            ("stop",),
            "The bit's cutting edges are shorter than the cut is deep, so its shank would rub.",
            "Take a bit with longer edges, or make the cut shallower.",
        ),
        "slender-bit": Rule(
            ("caution",),
            "The bit stands out so far for its diameter that it bends and chatters.",
            "Cut in shallow passes, or take a thicker bit or a thinner sheet.",
        ),
        "no-template-cutter": Rule(
            ("stop",),
            "No bit of the kit can mill the template itself.",
            "Add a straight bit that goes through the sheet and is narrower than the opening.",
        ),
        "template-too-large": Rule(
            ("stop",),
            "The template is larger than the machine can mill.",
            "Make it by hand, make the cut in two settings, or use a larger machine.",
        ),
        "base-tips": Rule(
            ("stop",),
            "The router's base would tip somewhere along the ride.",
            "Move the cut, shorten it, or use a machine that makes a larger sheet.",
        ),
        "base-support": Rule(
            ("caution", "note"),
            "How much of the router's base rests on the sheet where it rests the least.",
            "Hold the router down on that side, or lay a strip of the same thickness beside the sheet.",
        ),
        "sawn-blank": Rule(
            ("note",),
            "The blank is sawn to the template's own size, as the kit says, so that no outline is milled.",
            "Saw it square as said; leave `sawn_to_size` out of the kit for an outline that the machine mills.",
        ),
        "fence": Rule(
            ("note",),
            "Where the fence goes under the sheet, and which side of the board it bears against.",
            "Screw it on as said.",
        ),
        "stop-block": Rule(
            ("note",),
            "Where the stop block goes under the sheet, and which end of the board it bears against.",
            "Screw it on as said.",
        ),
        "no-fence": Rule(
            ("caution",),
            "No side of the board is within reach of the sheet.",
            "Lay the sheet by its index lines, clamp it, and check both before routing.",
        ),
        "index-line": Rule(
            ("note",),
            "A line on the board by which the sheet is laid.",
            "Draw it, and look for it through the sights of the sheet.",
        ),
        "few-screws": Rule(("caution",), "There is too little room for screws in a strip.", "Glue the strip as well."),
        "strip-is-cut": Rule(
            ("note",),
            "The bit leaves the board through a strip, which keeps the edge from breaking out.",
            "Keep screws out of its way, as drawn.",
        ),
        "turn-over": Rule(
            ("note",),
            "The sheet serves the opposite hand as well.",
            "Turn it over, left for right, and screw its strips to the other face.",
        ),
        "marks-by-hand": Rule(
            ("note",), "Marks that cannot be engraved, or for which the sheet has no room.", "Write them by hand."
        ),
        "corners": Rule(
            ("note",), "Inside corners keep the radius of the bit.", "Square them with a chisel, or round what goes in."
        ),
        "hand-feed": Rule(
            ("note",),
            "The depths to set, and which way to move the router.",
            "Follow it, and let the bit stop before lifting it out.",
        ),
        "concentricity": Rule(
            ("note",),
            "What it does to the cut if bushing and bit are not on one axis.",
            "Keep one side of the base facing the same way, or centre the bushing.",
        ),
        "coupon": Rule(("note",), "Which test grooves the coupon has.", "Cut them, and try the mate in each."),
        "coupon-narrow": Rule(
            ("note",),
            "Narrower test grooves were left out, as the bushing would bind.",
            "Take a narrower bit to try them.",
        ),
        "far-side": Rule(
            ("caution",),
            "The sheet is laid by a side of the board from which the joint is not drawn, so the board's size counts.",
            "Measure the board; bring boards that belong together to one size first.",
        ),
        "screws": Rule(
            ("note",),
            "Which screws hold the strips, with their holes and countersinks.",
            "Drill and countersink them so.",
        ),
        "strip-too-deep": Rule(
            ("caution",),
            "A strip is deeper than the board is thick, and would hold the sheet off it.",
            "Make the strips of thinner stock, or lay the board on a packer.",
        ),
        "sights": Rule(
            ("note",),
            "What the sights on the cut's centreline are for.",
            "Draw the centreline on the board, and look through them before routing.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
