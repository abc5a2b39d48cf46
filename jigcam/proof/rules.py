"""Findings of the proof: what a file cuts, how it moves, how the parts go together."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "gouge": Rule(
            ("stop",),
            "The file cuts wood that has to stay.",
            "Undo what was changed at that line, or make the files anew.",
        ),
        "left": Rule(
            ("stop",), "Wood is left that had to go.", "Undo what was changed near there, or make the files anew."
        ),
        "for-the-chisel": Rule(("note",), "A corner that the bit cannot reach.", "Cut it out with a chisel."),
        "mark-missing": Rule(
            ("stop",), "A mark is not engraved as drawn.", "Undo what was changed near there, or make the files anew."
        ),
        "tool-unknown": Rule(
            ("stop",),
            "The file calls a tool of which no bit is known.",
            "Give the tool the number that the setup sheet says.",
        ),
        "no-motion": Rule(("stop",), "Nothing in the file moves.", "Take the whole file."),
        "units": Rule(
            ("stop",),
            "The file is in other units than was agreed.",
            "Write the units that the setup sheet says at its head.",
        ),
        "path-mode": Rule(("stop",), "The machine may round off corners.", "Write G61 at the head, and leave out G64."),
        "place-unknown": Rule(
            ("stop",),
            "A cut starts or ends at a place that the file has not given.",
            "Give X, Y and Z before the first cut.",
        ),
        "first-move": Rule(
            ("stop",), "The first move does not lift straight up, clear of the stock.", "Begin with a rapid in Z alone."
        ),
        "end-low": Rule(("stop",), "The program ends with the tool low.", "Lift it before the end."),
        "rapid-in-wood": Rule(
            ("stop",), "A rapid goes through wood that still stands.", "Lift before moving across, or feed instead."
        ),
        "rapid-low": Rule(("stop",), "A rapid crosses close above the stock.", "Lift further before moving across."),
        "rapid-aslant": Rule(
            ("stop",),
            "A rapid goes across and down at once near the stock, where few machines keep a straight line.",
            "Cross over first, then go down.",
        ),
        "plunge": Rule(
            ("stop",),
            "A bit that does not cut at its centre is sent straight down into wood.",
            "Ramp in, or take a bit that plunges.",
        ),
        "shank-in-wood": Rule(
            ("stop",),
            "The bit's shank or the collet nut meets wood.",
            "Cut in shallower passes, or take a bit with longer edges.",
        ),
        "keep-out": Rule(
            ("stop",),
            "The tool enters a place to keep clear of.",
            "Move the clamp, or tell where it really is in `keep_out`.",
        ),
        "travel": Rule(
            ("stop",),
            "The path spans more than the machine travels.",
            "Check units and places, or use a larger machine.",
        ),
        "spindle-off": Rule(
            ("stop",),
            "The tool is in the stock and the spindle does not turn.",
            "Write M3 with a speed before the first cut.",
        ),
        "spindle-direction": Rule(("stop",), "The spindle turns backwards for a right-hand bit.", "Write M3 for M4."),
        "spindle-speed": Rule(("stop",), "The speed is out of the range of the spindle.", "Write a speed that it has."),
        "bit-speed": Rule(("stop",), "The bit turns faster than it is marked for.", "Write a lower speed."),
        "feed-over": Rule(("stop",), "The feed is higher than the machine moves.", "Write a lower feed."),
        "tool-change-low": Rule(("stop",), "A tool is changed while it is low.", "Lift before the change."),
        "tool-change-spindle": Rule(
            ("note",), "The change of tool stops the spindle, and no word before it says so.", "Write M5 before M6."
        ),
        "pause-in-stock": Rule(
            ("stop", "caution"),
            "The tool stands still in the wood, and burns it, or waits there for a person.",
            "Lift before the pause.",
        ),
        "stop-turning": Rule(
            ("stop",), "The spindle turns while the program waits for a person.", "Write M5 before the stop."
        ),
        "end-turning": Rule(("stop",), "The program ends and the spindle still turns.", "End with M5 and M30."),
        "pallet-change": Rule(("stop",), "M60 would change the piece on the table.", "Take M60 out."),
        "tool-change": Rule(
            ("stop",),
            "The bit is changed where the file has one bit, or in a way that the machine does not have.",
            "Undo what was changed at that line, or make the files anew for this machine.",
        ),
        "length-offset": Rule(
            ("stop",), "The length offset is another bit's.", "Write G43 H with the number of the bit in the spindle."
        ),
        "length-offset-missing": Rule(
            ("stop",), "A bit moves in z without its length offset.", "Write G43 H with its number after M6."
        ),
        "message": Rule(
            ("stop",),
            "A message that the machine shows to its operator is not the planned one.",
            "Take over the messages of the planned file.",
        ),
        "comment": Rule(
            ("stop",),
            "A comment names another bit, stock or measure than the job: a person would go by it.",
            "Take over the comments of the planned file, or take the comment out.",
        ),
        "another-file": Rule(
            ("stop", "caution"),
            "The comments at the head are those of another file, joint or job.",
            "Prove the file against the job that it was made from.",
        ),
        "engagement": Rule(
            ("stop", "caution"),
            "The bit takes more wood at once (width, depth and chip together) than is usual.",
            "Cut in shallower passes, or slower; make the files anew if a pass was lost.",
        ),
        "bit-bends": Rule(
            ("stop", "caution"),
            "The bit is so long and thin for its cut that it bends, and the wall comes out aslant.",
            "Hold the bit shorter, take a thicker one, or cut in shallower or slower passes.",
        ),
        "chip-load": Rule(
            ("stop", "caution"),
            "Each edge takes too thick a chip for the bit, or so thin a one that it rubs.",
            "Change the feed or the speed.",
        ),
        "power": Rule(
            ("stop", "caution"),
            "The cut wants much of the power of the spindle, or more than it has.",
            "Cut in shallower passes, or slower.",
        ),
        "rim-speed": Rule(("caution",), "The rim of the bit is faster than is usual.", "Write a lower speed."),
        "comes-loose": Rule(("caution",), "A piece is cut free and nothing holds it.", "Hold it, or leave tabs."),
        "cuts-loose-piece": Rule(
            ("stop",), "The bit cuts within reach of a piece that has come free.", "Leave tabs, or cut it free last."
        ),
        "bushing-does-not-pass": Rule(
            ("stop",),
            "The bushing does not go into the opening as milled.",
            "Undo what was changed in the opening, or make the files anew.",
        ),
        "ride-gouge": Rule(
            ("stop",),
            "Riding in the opening as milled, the bit can cut beyond the drawing.",
            "Undo what was changed in the opening, or make the files anew.",
        ),
        "ride-left": Rule(
            ("stop",),
            "Riding in the opening as milled, the bit cannot reach all of the drawing.",
            "Undo what was changed in the opening, or make the files anew.",
        ),
        "does-not-fit": Rule(
            ("stop",),
            "The parts do not go together as cut.",
            "Undo what was changed in the files, or give the joint more clearance.",
        ),
        "tight": Rule(
            ("caution",),
            "The mate has clearly less room than was asked for.",
            "Undo what was changed in the files, or ease the mate.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
