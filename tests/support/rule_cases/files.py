"""Rules of the proof, on files written by hand, and of what several files come to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from support.grooves import groove_job
from support.hand_files import HandFile, file_of, hand_files, slot_file
from support.hand_targets import target_of
from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.geometry import Path, Region, bar, difference, offset, rectangle, slot
from jigcam.job import kit_for
from jigcam.job.repeat import Repeat
from jigcam.joints import load_job
from jigcam.kit import Bit, load_kit
from jigcam.making.dry_run import _prove as prove_dry_run
from jigcam.proof import KeepOut, Removal, Stock, Target, fit, prove, ride
from jigcam.proof.fit import findings_of
from jigcam.workshop.build import plan_job
from jigcam.workshop.prove_file import _file_meant

ROOT = FilePath(__file__).resolve().parents[3]
KIT = load_kit("inch-shop")
QUARTER = KIT.bit("straight 1/4")
SLOT = slot_file()
BOARD = rectangle(0.0, 0.0, 300.0, 200.0)
LINE = Path.through([(50.0, 60.0), (200.0, 60.0)])


def proved(
    text: str, file: HandFile = SLOT, *, bit: Bit | None = None, target: Target | None = None, **machine: Any
) -> Say:
    """What the proof says of a text, on the drawing of a file written by hand."""
    shop = KIT.machine.model_copy(update=machine)
    return said(lambda: prove(text, target or target_of(file), shop, bit or KIT.bit(file.bit)).findings)


def changed(old: str, new: str, *, count: int = 1, **more: Any) -> Say:
    """The slot with something changed in its text."""
    assert old in SLOT.text
    return proved(SLOT.text.replace(old, new, count), **more)


def named(name: str) -> HandFile:
    return next(file for file in hand_files() if file.name == name)


def whole(name: str, change: Callable[[str], str] = str) -> Say:
    """Another of the files, as it is or changed."""
    return proved(change(named(name).text), named(name))


def powered(share: float) -> Say:
    """The slot on a spindle that has `share` times the power of the worst of it."""

    def findings() -> Findings:
        worst = prove(SLOT.text, target_of(SLOT), KIT.machine, QUARTER).loads["power_w"]["value"]
        machine = KIT.machine.model_copy(update={"power": share * worst})
        return prove(SLOT.text, target_of(SLOT), machine, QUARTER).findings

    return said(findings)


def unknown_tool() -> Findings:
    return prove(SLOT.text, target_of(SLOT), KIT.machine, {7: QUARTER}).findings


def kept_out(x: float) -> Say:
    """The slot with a clamp whose left side is at x."""
    drawn = target_of(SLOT)
    clamp = KeepOut(x, 35.0, 140.0, 60.0, 4.0, "clamp")
    return proved(SLOT.text, target=Target(drawn.stock, drawn.removals, keep_outs=(clamp,), units="mm"))


RING = ("G0 X30. Y40.", "G0 Z1.", "G1 Z-12.8 F200", "G1 X70. F800", "Y60.", "X30.", "Y40.", "G0 Z5.")
AFTER = ("G0 X50. Y50.", "G0 Z1.", "G1 Z-3. F200", "G0 Z5.")


def ring(*lines: str) -> Say:
    """A ring cut through, so that its core is free, and what comes after."""
    drawn = difference(rectangle(26.825, 36.825, 73.175, 63.175), rectangle(33.175, 43.175, 66.825, 56.825))
    target = Target(Stock.of_size(120.0, 100.0, 12.7), (Removal.prism("ring", drawn, 12.7),), spoil=0.5)
    return proved(file_of(*RING, *lines), target=target, bit=QUARTER)


def ridden(opening: Region, bushing: float = 18.0, drawn: Region | None = None) -> Say:
    """A bit of 12 in a bushing, in an opening for a groove 13 wide."""
    wanted = slot((50.0, 60.0), (200.0, 60.0), 13.0) if drawn is None else drawn
    return said(lambda: ride(opening, bushing, 12.0, wanted, BOARD, centreline=LINE).findings)


def wide(by: float = 0.0) -> Region:
    """The opening for the groove, wider by that much."""
    return slot((47.0 - by / 2.0, 60.0), (203.0 + by / 2.0, 60.0), 19.0 + by)


def mated(width: float) -> Say:
    """A mate of 12.2 in a groove of that width, where 0.2 of clearance is drawn."""
    cut = bar((50.0, 60.0), (200.0, 60.0), width)
    return said(lambda: findings_of(fit(cut, LINE, 12.2), 0.2, "groove"))


def dry(z: float) -> Say:
    """A dry run at a height."""

    def findings() -> Findings:
        prove_dry_run(f"G21\nG90\nG0 Z5.\nG0 X10. Y10.\nG1 X20. Z{z} F100\nM30\n", "dry-run.nc")
        return ()

    return said(findings)


def lifted(words: str) -> Say:
    """The slot with words put in while the tool is well above the stock."""
    return changed("\nG0 Z1.", f"\nG0 Z5.\n{words}\nG0 Z1.")


def changer(words: str) -> Say:
    """The slot on a machine that changes bits, each with its own length offset, after those words."""
    target = replace(target_of(SLOT), length_offsets=True)
    return changed("G0 Z5.\n", f"{words}\nG0 Z5.\n", target=target, tool_change="automatic")


def spoken(line: str, *told: str, asked: bool = False) -> Say:
    """The slot with a comment in front, where the planned file has the comments `told`."""
    return proved(f"{line}\n{SLOT.text}", target=replace(target_of(SLOT), told=told, asked=asked))


METRIC = load_kit("metric-shop")
SIX = METRIC.bit("straight 6")
SLIM = SIX.model_copy(update={"name": "slim", "diameter": 3.0, "cutting_length": 30.0, "overall_length": 70.0})


def slotted(depth: float, feed: int, bit: Bit = SIX) -> Say:
    """A slot as wide as the bit, in one pass, by a light machine."""
    r = bit.radius
    lines = ("G0 X30. Y30.", "G0 Z1.", f"G1 Z{-depth} F150", f"X120. F{feed}")
    drawn = Removal.prism("slot", slot((30.0 - r, 30.0), (120.0 + r, 30.0), 2.0 * r), depth)
    target = Target(Stock.of_size(150.0, 60.0, 25.0), (drawn,))
    return said(lambda: prove(file_of(*lines), target, METRIC.machine, bit).findings)


def named_as(name: str, *, asked: bool = False) -> Say:
    """The groove of the direct shelf, in a file of that name."""
    path = ROOT / "examples" / "music-cabinet" / "tilted-shelf-direct.toml"
    job = load_job(path)
    joints = plan_job(job, kit_for(job))
    first, other = [file for joint in joints for file in joint.files][:2]
    own = first.file if name == "its own" else other.file
    return said(lambda: _file_meant(FilePath(own), first.text, joints, asked=asked)[2])


def sheet_of(*templates: str | None, asked: str | None = None, **keys: Any) -> Say:
    """Two grooves of the metric side that name sheets, planned; asked: the only joint that is asked for; keys: of the
    first."""

    def findings() -> Findings:
        job = groove_job(name="shelf", template=templates[0], **keys)
        other = groove_job(name="strip", template=templates[1], start_point=(300.0, 38.0)).joints
        both = job.model_copy(update={"joints": (*job.joints, *other)})
        return [each for made in plan_job(both, METRIC, asked) for each in made.findings]

    return said(findings)


START = "G0 X26.0000 Y27.1750\nG0 Z1."
DEEP = "Z-6.0000"
SOUND = proved(SLOT.text)
BLUNT = QUARTER.model_copy(update={"plunges": False})
SHORT = QUARTER.model_copy(update={"cutting_length": 2.0})
WIDE_BIT = QUARTER.model_copy(update={"diameter": 80.0})
SQUARE = bar((50.0, 60.0), (200.0, 60.0), 14.0)
FITS = mated(12.4)

FILES: dict[str, Case] = {
    "alone-on-sheet": case(sheet_of("both", None), silent=sheet_of("both", "both")),
    "whole-sheet": case(sheet_of("both", "both", asked="strip"), silent=sheet_of("both", "both")),
    "laid-again": case(
        sheet_of("both", "both", repeat=Repeat(count=2, pitch=(60.0, 0.0))), silent=sheet_of("both", "both")
    ),
    "one-sheet": case(sheet_of("both", "both"), silent=sheet_of("both", None)),
    "gouge": case(changed(DEEP, "Z-6.06"), silent=SOUND),
    "left": case(changed(DEEP, "Z-5.94"), silent=SOUND),
    "for-the-chisel": case(whole("pocket"), ridden(offset(SQUARE, 3.0), drawn=SQUARE), silent=SOUND),
    "mark-missing": case(whole("marks", lambda text: text.replace("X40. Y10. F800\n", "")), silent=whole("marks")),
    "tool-unknown": case(said(unknown_tool), silent=SOUND),
    "no-motion": case(proved("G21\nG61\nM30\n"), silent=SOUND),
    "units": case(whole("inch groove", lambda text: text.replace("G20", "G21")), silent=whole("inch groove")),
    "path-mode": case(changed(" G61", " G64"), changed(" G61", ""), silent=SOUND),
    "place-unknown": case(changed("G0 X26.0000 Y27.1750\n", ""), silent=SOUND),
    "first-move": case(changed("G0 Z5.\nS16000", "G0 X0. Z5.\nS16000"), silent=SOUND),
    "end-low": case(changed("G0 Z5.\nM5", "M5"), silent=SOUND),
    "rapid-in-wood": case(changed("G0 Z1.", "G0 Z-2."), silent=SOUND),
    "rapid-low": case(changed(START, "G0 Z1.\nG0 X26. Y27.175\nG0 X26. Y40.\nG0 Z0.5\nG0 Y27.175"), silent=SOUND),
    "rapid-aslant": case(changed(START, "G0 X26. Y27.175 Z0.5"), silent=SOUND),
    "plunge": case(changed("G1 Z0. F400", "G1 Z-2. F400", bit=BLUNT), silent=proved(SLOT.text, bit=BLUNT)),
    "shank-in-wood": case(proved(SLOT.text, bit=SHORT), silent=SOUND),
    "keep-out": case(kept_out(110.0), silent=kept_out(125.0)),
    "travel": case(changed("G21", "G20"), silent=SOUND),
    "spindle-off": case(changed("S16000 M3", "S16000"), silent=SOUND),
    "spindle-direction": case(changed("S16000 M3", "S16000 M4"), silent=SOUND),
    "spindle-speed": case(changed("S16000", "S30000"), silent=SOUND),
    "bit-speed": case(
        proved(SLOT.text, bit=QUARTER.model_copy(update={"max_rpm": 12000.0})),
        silent=proved(SLOT.text, bit=QUARTER.model_copy(update={"max_rpm": 16000.0})),
    ),
    "feed-over": case(changed("F1000", "F6000"), silent=SOUND),
    "tool-change-low": case(changed("F1000\n", "F1000\nM5\nT1 M6\nS16000 M3\n"), silent=SOUND),
    "tool-change-spindle": case(
        changed("\nG0 Z1.", "\nT1 M6\nG0 Z5.\nS16000 M3\nG0 Z1.", tool_change="automatic"),
        silent=changed("\nG0 Z1.", "\nM5\nT1 M6\nG0 Z1.\nS16000 M3", tool_change="automatic"),
    ),
    "tool-change": case(lifted("T2"), silent=SOUND),
    "length-offset": case(lifted("G43 H1"), silent=SOUND),
    "length-offset-missing": case(changer("T1 M6"), silent=changer("T1 M6\nG43 H1")),
    "stop-turning": case(lifted("M0"), silent=lifted("M5\nM0\nS16000 M3")),
    "end-turning": case(proved("%\n" + SLOT.text.replace("M5\nM30\n", "%\n")), silent=SOUND),
    "pallet-change": case(lifted("M5\nM60\nS16000 M3"), silent=SOUND),
    "message": case(spoken("", "MSG, put in the bit"), silent=spoken("", "put in the bit")),
    "comment": case(spoken("(bit: straight 1/2)"), silent=spoken("(slowly now)")),
    "another-file": case(
        spoken("(file: other/groove.nc)"),
        spoken("(file: other/groove.nc)", asked=True),
        silent=spoken("(file: it/groove.nc)", "file: it/groove.nc"),
    ),
    "another-name": case(named_as("another"), named_as("another", asked=True), silent=named_as("its own")),
    "engagement": case(slotted(18.0, 2560), slotted(6.0, 3000), silent=slotted(3.0, 2000)),
    "bit-bends": case(slotted(18.0, 1500, SLIM), slotted(4.0, 1500, SLIM), silent=slotted(3.0, 2000)),
    "pause-in-stock": case(
        changed("F1000\n", "F1000\nG4 P3\n"),
        changed("F1000\n", "F1000\nG4 P0.5\n"),
        silent=changed("G0 Z1.", "G0 Z1.\nG4 P1"),
    ),
    "chip-load": case(changed("F1000", "F45000", count=-1), changed("F1000", "F100", count=-1), silent=SOUND),
    "power": case(powered(0.9), powered(1.5), silent=powered(3.0)),
    "rim-speed": case(proved(SLOT.text, bit=WIDE_BIT), silent=SOUND),
    "comes-loose": case(ring(), silent=whole("sheet")),
    "cuts-loose-piece": case(ring(*AFTER), silent=ring()),
    "bushing-does-not-pass": case(ridden(wide(), bushing=19.5), silent=ridden(wide())),
    "ride-gouge": case(ridden(wide(0.06)), silent=ridden(wide())),
    "ride-left": case(ridden(wide(-0.06)), silent=ridden(wide())),
    "does-not-fit": case(mated(12.1), silent=FITS),
    "tight": case(mated(12.25), silent=FITS),
    "dry-run": case(dry(-1.0), silent=dry(2.0)),
}
