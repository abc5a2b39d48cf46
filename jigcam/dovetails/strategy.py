"""The steps that cut one end of a board for a dovetailed corner, in the setup that has been chosen for it.

Everything is cut inward from where the maker looks: upright from the outside face into a backer behind the inside face,
flat from the end inward, with the inside face cleared first so that nothing is left to break out of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial
from itertools import islice

from jigcam.dovetails.clamping_words import backing, corner_notes, flat_hold, free_behind, upright_hold
from jigcam.dovetails.corners import Opened
from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.lanes import THROUGH_STEP, cleared, walls_at
from jigcam.dovetails.layout import Strip
from jigcam.dovetails.terraced_runs import terraced
from jigcam.dovetails.undercut_runs import opened_in_steps, walls_undercut, web_opened
from jigcam.dovetails.ways import FLANK_ROOM
from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.job.slug import slug
from jigcam.kit import Bit, Kit, Want
from jigcam.making.flat import room_beside
from jigcam.making.setup import Setup, Step, Waste, corner_of
from jigcam.making.upright import LEAD, OVER
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.frame import Frame, extent, far_end, flat_frames, placed, reached, too_large
from jigcam.toolpath.full_section import full_section_feeds
from jigcam.toolpath.gap import Gap, Line, Mouth, Wall, blind_gap, through_gap
from jigcam.toolpath.gap_rows import quickest_rows
from jigcam.toolpath.gap_run import Pass, along_walls, clearing_run, crossing_run, wall_run
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.toolpath.program import Clamping, Operation
from jigcam.toolpath.time import runs_seconds
from jigcam.toolpath.track import Cutter, Run
from jigcam.units import MM, Voice
from jigcam.wood import PlacedSolid

Made = tuple[Cutter, tuple[Operation, ...], bool]
"""A bit as it is run, its operations, and whether it only clears the way for another one."""

STANDS: dict[Clamping, str] = {"upright": "held upright, that end up", "flat": "lying flat"}
"""How a board is clamped, in words."""
NECK_STEP = 1.9
"""Distance of lanes of a dovetail bit, in radii of its neck, which has to clear the mouth of the gap too."""


def end_setup(cut: EndCut, kit: Kit, *, voice: Voice = MM) -> tuple[Setup, list[Finding]]:
    """One clamping with its steps, and what is to be said. voice: of findings and notes.

    Upright boards have their own file frame: x from the operator's left, y from the outside face inward, z
    zero on the end grain. Flat ones start from the lower left corner, or from the lower right one where the board
    hangs off the machine. Raises `Refused` where the machine does not reach, or has no bit for a rabbet.
    """
    if cut.setup == "upright":
        return _upright(cut, kit, voice)
    return _flat(cut, kit, voice)


def _upright(cut: EndCut, kit: Kit, voice: Voice) -> tuple[Setup, list[Finding]]:
    matrix = cut.placement
    # Places in a gap are (e, t) = (depth from the outside face, board y); the matrix takes (board y, depth).
    (a, b, c), (d, e, f) = matrix
    mouth = Mouth(((b, a, c), (e, d, f)))
    if cut.lap:  # the mouth of a socket is at the inside face: depth = thickness − e
        thick = cut.board.thickness
        mouth = Mouth(((-b, a, c + b * thick), (-e, d, f + e * thick)))
    made = _tails_upright(cut, kit, mouth, voice) if cut.purpose == "tails" else _pins_upright(cut, kit, mouth, voice)
    need = extent([move for _, each, _ in made for operation in each for move in operation.moves])
    if not reached(need, kit.the_machine):
        raise too_large([need], kit.the_machine, cut.joint, voice)
    frame = Frame("operator's left edge, outside face, end grain", matrix)
    stock = (cut.board.width, cut.board.thickness, cut.board.length)
    return _setup(cut, frame, stock, made, upright_hold(cut, voice)), corner_notes(cut, voice)


def _setup(
    cut: EndCut, frame: Frame, stock: tuple[float, float, float], made: Sequence[Made], hold: Sequence[str]
) -> Setup:
    """made: each bit as it is run, its operations in the file's frame, and whether it only clears the way."""
    end = f"{cut.end} end"
    up = f"{end} up, outside face toward you" if cut.setup == "upright" else f"{cut.face} face up"
    size = stock[:2] if cut.setup == "upright" else (cut.board.length, cut.board.width)
    return Setup(
        name=f"{cut.joint}, {cut.board.name}, {end}, {cut.purpose}",
        board=cut.board.name,
        clamping=cut.setup,
        stock=stock,
        zero=frame.zero,
        placement=frame.placement,
        clear_height=made[0][0].clear,
        title=f"{cut.board.name}, {end}: {cut.purpose}, {STANDS[cut.setup]}",
        hold=tuple(hold),
        steps=tuple(Step(c, _stem(cut, clears), each, (_waste(cut, frame, clears),)) for c, each, clears in made),
        corner=corner_of(frame.placement, *size),
        comments=(f"{cut.board.name}: {up}", *backing(cut)),
        facts={"end": cut.end, "face": cut.face},
        face=cut.face,
        end=cut.end,
        opened=(Waste(cut.purpose, PlacedSolid(cut.opened, frame.placement)),) if cut.opened else (),
        backer="behind" if cut.setup == "upright" and not cut.lap else None,
        free=free_behind(cut),
    )


def _waste(cut: EndCut, frame: Frame, clears: bool) -> Waste:
    """What goes: all, or what one bit clears for another."""
    if clears:
        assert cut.cleared is not None, "nothing is cleared without a drawing of it"
        web = PlacedSolid(cut.cleared, frame.placement)
        if cut.way.undercut:  # the dovetail bit does not go where the straight one cuts the floor: two wastes
            assert cut.way.clearing is not None, "an undercut way has both bits"
            must = PlacedSolid(Opened(cut.cleared, cut.way.clearing.radius), frame.placement)
            return Waste(f"web of {cut.purpose}", web, must)
        return Waste(cut.purpose, web)
    may, must = PlacedSolid(cut.solid, frame.placement), PlacedSolid(cut.needed, frame.placement)
    return Waste(cut.purpose, may, must, upright=cut.plumb)


def _stem(cut: EndCut, clears: bool) -> str:
    return slug(f"{cut.board.name} {cut.end} {_clearing_word(cut) if clears else ''}{cut.purpose}")


def _clearing_word(cut: EndCut) -> str:
    return "web of " if cut.way.undercut else "clear between "


def _tails_upright(cut: EndCut, kit: Kit, mouth: Mouth, voice: Voice) -> list[Made]:
    cutter = _undercutter(cut, kit, voice)
    bit, reach = cut.bit, cut.depth
    neck = bit.radius - reach * math.tan(bit.angle)
    share = reach / cut.way.layout.length
    made: list[Made] = []
    if cut.way.clearing and cut.cleared:
        clearing = _cutter(cut.way.clearing, cut, kit, reach, voice)
        radius = clearing.radius
        levels = even_levels(cut.cleared.depth, clearing.feeds.depth_per_pass)
        gaps = [_through(strip, 0.0, radius, radius, cut.board.thickness).inset(FLANK_ROOM) for strip in cut.strips]
        runs = cleared(gaps, clearing, mouth, levels)
        note = "In from the outside face, and back the same way."
        made.append((clearing, (operation("clear between the tails", clearing, runs, note),), True))
    runs = []
    for gap in (_through(strip, share, bit.radius, neck, cut.board.thickness) for strip in cut.strips):
        runs.append(wall_run(gap, cutter, mouth, -reach))
        lanes = gap.lanes(NECK_STEP * neck)
        between = lanes[1 if gap.low_wall else 0 : len(lanes) - (1 if gap.high_wall else 0)]
        if between:
            runs.append(clearing_run([Pass(-reach, gap, between)], cutter, mouth))
    note = "Full depth at once, in from the outside face, and back the same way; never lifted between the tails."
    return [*made, (cutter, (operation("cut the tails", cutter, runs, note),), False)]


def _pins_upright(cut: EndCut, kit: Kit, mouth: Mouth, voice: Voice) -> list[Made]:
    gaps, radius = [], cut.bit.radius
    for strip in cut.strips:
        length = cut.way.layout.length
        if cut.lap:
            gaps.append(blind_gap(*_walls_from_inside(strip, length), radius, cut.reach, lead=LEAD))
            continue
        low, high = _walls_along(strip, length)
        gaps.append(through_gap(low, high, radius, cut.board.thickness, cover=radius, lead=LEAD, over=OVER))
    face = "inside" if cut.lap else "outside"
    cutter, runs, note = _sockets_cut(gaps, cut, kit, mouth, voice)
    note += f" Then each wall in one pass of the full depth, in from the {face} face."
    return [(cutter, (operation("cut the sockets", cutter, runs, note),), False)]


def _sockets_cut(
    gaps: Sequence[Gap], cut: EndCut, kit: Kit, mouth: Mouth, voice: Voice
) -> tuple[Cutter, list[Run], str]:
    """The bit as it is run, a run for each gap, which it leaves finished, and a note.

    Each is cleared in lanes, or in rows along the mouth, with as many levels as take the least time.
    """
    face, cutter = "inside" if cut.lap else "outside", _cutter(cut.bit, cut, kit, cut.depth, voice)
    insets = [gap.inset(ALLOWANCE) for gap in gaps]
    levels = even_levels(cut.depth, cutter.feeds.depth_per_pass)
    # The last wall is the one at which rows begin, as do those of the next socket.
    walls = [partial(along_walls, gap=gap, relieve=cut.relieved, rises=True, turned=not mouth.rising) for gap in gaps]
    lanes = cleared(insets, cutter, mouth, levels, relieve=cut.relieved, then=walls)
    plain = cutter, lanes, f"In from the {face} face, and back the same way."
    if cut.relieved:  # in its corners the bit is buried at each level
        return plain

    def narrow(width: float) -> Cutter:
        return _cutter(cut.bit, cut, kit, cut.depth, voice, width=width)

    under = runs_seconds(lanes, cutter.machine)
    rows = quickest_rows(insets, cutter, narrow, mouth, cut.depth, under=under, then=walls)
    if rows is None:
        return plain
    note = f"In rows along the {face} face, the first from outside by climb milling, each further one deeper in."
    return *rows, note


def _through(strip: Strip, share: float, radius: float, cover: float, thickness: float) -> Gap:
    """A gap with sides straight across the board, as wide as a strip is at a share of its length."""
    low, high = (Wall(Line(flank.at(share)), flank.edge) for flank in (strip.lower, strip.upper))
    return through_gap(low, high, radius, thickness, cover=cover, lead=LEAD, over=OVER)


def _walls_from_inside(strip: Strip, length: float) -> tuple[Wall, Wall]:
    """The sides of a strip along the way in from the inside face, where it is narrowest."""
    low, high = (
        Wall(Line(flank.base, (flank.end - flank.base) / length), flank.edge) for flank in (strip.lower, strip.upper)
    )
    return low, high


def _walls_along(strip: Strip, length: float) -> tuple[Wall, Wall]:
    """The sides of a strip along u."""
    low, high = (
        Wall(Line(flank.end, (flank.base - flank.end) / length), flank.edge) for flank in (strip.lower, strip.upper)
    )
    return low, high


def _flat(cut: EndCut, kit: Kit, voice: Voice) -> tuple[Setup, list[Finding]]:
    length = cut.board.length
    mouth = Mouth(((-1.0, 0.0, length), (0.0, 1.0, 0.0)) if cut.at_right else ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))
    made = _undercut_flat(cut, kit, mouth, voice) if cut.way.undercut else [_one_bit_flat(cut, kit, mouth, voice)]
    every = [each for _, operations, _ in made for each in operations]
    beside = room_beside(
        [(each, cutter.radius) for cutter, some, _ in made for each in some], cut.board, cut.face, voice
    )
    frame, moved = placed(every, flat_frames(length, right=cut.at_right), kit.the_machine, cut.joint, voice)
    rest = iter(moved)
    made = [(cutter, tuple(islice(rest, len(operations))), clears) for cutter, operations, clears in made]
    stock = (length, cut.board.width, cut.board.thickness)
    notes = [*corner_notes(cut, voice), *far_end(frame, cut.board.name, cut.joint)]
    return _setup(cut, frame, stock, made, [*flat_hold(cut, voice), *beside]), notes


def _one_bit_flat(cut: EndCut, kit: Kit, mouth: Mouth, voice: Voice) -> Made:
    bit = cut.bit if cut.strips else _rabbet_bit(cut, kit, voice)
    cutter = _cutter(bit, cut, kit, max(cut.depth, cut.rabbet), voice)
    operations: list[Operation] = []
    if cut.rabbet:
        operations.append(_rabbet(cut, cutter, mouth))
    if cut.steps:
        operations += opened_in_steps(cut, cutter, mouth, voice, cut.steps)
    elif cut.scallop:
        operations += terraced(cut, cutter, mouth, voice)
    elif cut.strips:
        operations += _blind(cut, cutter, mouth)
    return cutter, tuple(operations), False


def _undercut_flat(cut: EndCut, kit: Kit, mouth: Mouth, voice: Voice) -> list[Made]:
    """The web with the straight bit, then the walls with the dovetail bit."""
    assert cut.way.clearing is not None, "an undercut way has both bits"
    assert cut.cleared is not None, "an undercut way opens the web first"
    depth = cut.cleared.depth
    opener = _cutter(cut.way.clearing, cut, kit, depth, voice)
    cutter = _undercutter(cut, kit, voice)
    return [
        (opener, web_opened(cut, opener, mouth, depth), True),
        (cutter, walls_undercut(cut, cutter, mouth), False),
    ]


def _blind(cut: EndCut, cutter: Cutter, mouth: Mouth) -> list[Operation]:
    """Walls that stand upright where the board lies flat: spaces between tails, or sockets at their narrowest."""
    length = cut.way.layout.length
    levels = even_levels(cut.depth, cutter.feeds.depth_per_pass, top=-cut.rabbet)
    gaps = []
    for strip in cut.strips:
        walls = _walls_along(strip, length) if cut.of_tails else walls_at(strip, 1.0)
        gaps.append(blind_gap(*walls, cutter.radius, cut.floor, lead=LEAD))
    relieve = cut.relieved
    endings = [partial(along_walls, gap=gap, relieve=relieve) for gap in gaps]
    insets = [gap.inset(ALLOWANCE) for gap in gaps]
    runs = cleared(insets, cutter, mouth, levels, relieve=relieve, then=endings)
    note = "In from the end, and back the same way; then the walls in one pass of the full depth."
    return [operation("cut the waste", cutter, runs, note)]


def _rabbet(cut: EndCut, cutter: Cutter, mouth: Mouth) -> Operation:
    """From the end to the baseline, the shoulder last."""
    shoulder = cut.way.layout.length - cutter.radius
    outermost = min(0.5 * cutter.radius, shoulder)
    count = max(1, math.ceil((shoulder - outermost) / (THROUGH_STEP * cutter.bit.diameter)))
    lanes = [outermost + k / count * (shoulder - outermost) for k in range(count + 1)]
    levels = even_levels(cut.rabbet, cutter.feeds.depth_per_pass)
    run = crossing_run(cutter, mouth, lanes, cut.board.width, levels, LEAD)
    return operation("cut the rabbet", cutter, [run], "In from both edges to the middle, so that neither breaks out.")


def _rabbet_bit(cut: EndCut, kit: Kit, voice: Voice) -> Bit:
    """The widest straight bit that cuts a rabbet as deep and is no wider than it is. Raises `Refused` if none does."""
    want = Want("upright_walls", kit.the_machine, width=2.0 * cut.way.layout.length, edges=cut.rabbet)
    fit = want.met_by(kit.bits)
    if not fit:
        says = f"no straight bit of the kit cuts a rabbet {voice.length(cut.rabbet)} deep"
        raise Refused(f"no bit can cut the rabbet of {cut.joint}", [Finding("stop", "no-bit", cut.joint, says)])
    return max(fit, key=lambda bit: (bit.diameter, -bit.overall_length, bit.name))


def _cutter(bit: Bit, cut: EndCut, kit: Kit, depth: float, voice: Voice, *, width: float | None = None) -> Cutter:
    feeds = choose(bit, cut.board.wood, kit.the_machine, depth, voice=voice, width=width)
    return Cutter(bit, feeds, kit.the_machine)


def _undercutter(cut: EndCut, kit: Kit, voice: Voice) -> Cutter:
    """The dovetail bit of a cut, slow enough for its full section."""
    feeds = full_section_feeds(cut.bit, cut.board.wood, cut.depth, kit.the_machine, voice)
    return Cutter(cut.bit, feeds, kit.the_machine)
