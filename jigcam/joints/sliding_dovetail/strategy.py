"""The setups that cut a sliding dovetail: the socket with its board flat, the tail with its board standing.

The dovetail bit comes into the socket, and leaves it, only through an open end, and is never lifted within. Around the
tail it goes along both cheeks from one edge of the board into a backer at the other, and comes back by its own way.
"""

from __future__ import annotations

from dataclasses import replace
from math import tan
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.geometry import Path, rectangle
from jigcam.job.slug import slug
from jigcam.joints.sliding_dovetail.choice import Choice
from jigcam.joints.sliding_dovetail.solids import Socket
from jigcam.making.flat import lying, room_beside, zero_line
from jigcam.making.setup import Setup, Step, Waste, corner_of
from jigcam.making.upright import room_round, vise_faults
from jigcam.toolpath.channel import ONE_BIT_WIDE, channel_operations
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.frame import Frame, extent, far_end, flat_frames, placed, reached, too_large
from jigcam.toolpath.full_section import full_section_feeds
from jigcam.toolpath.gap import Gap, Line, Mouth, Wall, through_gap
from jigcam.toolpath.gap_run import Pass, clearing_run, wall_run
from jigcam.toolpath.operations import in_turn, operation
from jigcam.toolpath.track import Cutter, Run
from jigcam.toolpath.undercut import undercut_runs, undercut_slot
from jigcam.wood import Cut, PlacedSolid

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Kit
    from jigcam.toolpath.program import Operation
    from jigcam.units import Voice

RUN_OUT = 1.5
"""How far the rim of the bit is clear of the board where it goes down before the socket, mm."""
LEAD, OVER = 2.0, 0.5
"""How far the rim stays off the tail board before it comes in, and goes on into the backer behind it, mm."""
NECK_STEP = 1.9
"""Distance of lanes in radii of the bit's neck, which has to clear the top of the cheeks too."""


def socket_setup(choice: Choice, kit: Kit, voice: Voice) -> tuple[Setup, list[Finding]]:
    """The clamping for the socket, face up: the straight bit, then the dovetail bit. Raises `Refused`."""
    joint, bit = choice.joint, choice.bit
    board, shape = joint.board, joint.shape
    dovetail = Cutter(bit, full_section_feeds(bit, board.wood, shape.depth, kit.the_machine, voice), kit.the_machine)
    outline = rectangle(0.0, 0.0, board.length, board.width)
    # The innermost pass lies up to half the width within, at the ends too, and has to reach the air as the others do.
    path = Socket(shape, joint.band, over=shape.base / 2.0 + bit.radius + RUN_OUT)
    if shape.base - bit.diameter <= ONE_BIT_WIDE:
        first, last = path.stretch()
        axis = Path.through([joint.band.at(first + bit.radius), joint.band.at(last - bit.radius)])
        runs = [undercut_slot(axis.reversed() if shape.enters_at_finish else axis, dovetail, shape.depth)]
        note = "Full depth at once, in at the open end and back the same way; never lifted within."
    else:
        runs = undercut_runs(
            path.section(-shape.depth),
            dovetail,
            shape.depth,
            lambda points: -outline.signed_distance(points) - bit.radius,
            joint.name,
        )
        note = "Full depth at once; in and out through an open end only, and never lifted within."
    cut = in_turn("cut the socket", dovetail, [[run] for run in runs], note, hops=False)
    parts: list[tuple[Cutter, tuple[Operation, ...]]] = [(dovetail, (cut,))]
    if choice.clearing:
        straight, channel = choice.clearing
        cutter = Cutter(
            straight, choose(straight, board.wood, kit.the_machine, channel.solid.depth, voice=voice), kit.the_machine
        )
        drawn = Cut(joint.name, board, joint.face, "as drawn", channel.solid, channel.line, channel.width)
        drawn = replace(drawn, open_start=not shape.stopped_start, open_finish=not shape.stopped_finish)
        parts.insert(0, (cutter, channel_operations(drawn, cutter, voice)))
    every = [each for _, operations in parts for each in operations]
    frame, moved = placed(every, flat_frames(board.length), kit.the_machine, joint.name, voice)
    must = Socket(shape, joint.band, round_to=bit.radius)
    steps = []
    for cutter, operations in parts:
        mine, moved = moved[: len(operations)], moved[len(operations) :]
        if cutter is dovetail:
            waste = Waste(
                "socket", PlacedSolid(joint.socket, frame.placement), PlacedSolid(must, frame.placement), upright=False
            )
            steps.append(Step(cutter, "socket", mine, (waste,)))
        else:
            assert choice.clearing is not None
            cleared = PlacedSolid(choice.clearing[1].solid, frame.placement)
            steps.append(Step(cutter, "socket-clear", mine, (Waste("socket", cleared),)))
    setup = Setup(
        name=f"{joint.name}, {board.name}, socket",
        board=board.name,
        clamping="flat",
        stock=(board.length, board.width, board.thickness),
        zero=frame.zero,
        placement=frame.placement,
        clear_height=dovetail.clear,
        steps=tuple(steps),
        corner=corner_of(frame.placement, board.length, board.width),
        title=f"Cut the socket in {board.name}, lying flat",
        hold=(
            lying(joint.face),
            zero_line(frame),
            "Clamps outside the path.",
            *room_beside([(each, cutter.radius) for cutter, some in parts for each in some], board, joint.face, voice),
            "Stop the feed rather than the spindle if anything goes wrong in the socket: the dovetail bit does not "
            "lift out of it.",
        ),
        face=joint.face,
    )
    return setup, far_end(frame, board.name, joint.name)


def tail_setup(choice: Choice, kit: Kit, voice: Voice) -> Setup:
    """The clamping for the tail, its end up. Raises `Refused` where the machine cannot hold or reach it."""
    joint, bit, machine = choice.joint, choice.bit, kit.the_machine
    board, end = joint.tail_board, joint.tail_end
    if stop := not_held(joint, kit, voice):
        raise Refused(f"the tail of {joint.name} cannot be cut standing", [stop])
    matrix = ((-1.0, 0.0, board.width), (0.0, 1.0, 0.0)) if end == "right" else ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    depth = joint.shape.tail_length
    cutter = Cutter(bit, full_section_feeds(bit, board.wood, depth, machine, voice), machine)
    operations = _cheeks(choice, cutter, matrix)
    need = extent([move for each in operations for move in each.moves])
    if not reached(need, machine):
        raise too_large([need], machine, joint.name, voice)
    frame = Frame("operator's left edge, outside face, end grain", matrix)
    waste = Waste("tail", PlacedSolid(joint.around_tail, frame.placement), upright=False)
    left, entered = ("lower" if end == "left" else "upper"), _entered(choice)
    far = "upper" if entered == "lower" else "lower"
    thick = voice.at_least(bit.diameter + OVER)
    return Setup(
        name=f"{joint.name}, {board.name}, {end} end, tail",
        board=board.name,
        clamping="upright",
        stock=(board.width, board.thickness, board.length),
        zero=frame.zero,
        placement=frame.placement,
        clear_height=kit.the_machine.clear_height,
        steps=(Step(cutter, slug(f"{board.name} {end} tail"), operations, (waste,)),),
        title=f"Cut the tail on the {end} end of {board.name}, standing",
        hold=(
            f"The {end} end up, the outside face toward you: the board's {left} edge is then on your left.",
            f"Clamp a backer of waste wood at least {thick} thick against the {far} edge, flush with the end: the bit "
            f"comes in at the {entered} edge and goes out into it.",
            f"Board and backer stand more than {voice.at_least(depth + LEAD)} above the vise.",
            *room_round([(each, cutter.radius) for each in operations], board, end, voice, backed=f"{far} edge"),
        ),
        corner=corner_of(frame.placement, board.width, board.thickness),
        comments=(
            f"{board.name}: {end} end up, outside face toward you",
            f"Clamp a backer of waste wood against the {far} edge, flush with the end",
        ),
        facts={"end": end, "face": "outside"},
        end=end,
        backer="left" if far == left else "right",
    )


def _entered(choice: Choice) -> str:
    """The edge of the tail board at which the bit comes in: the notched one, which is seen; else the lower one."""
    place = choice.joint.place
    low, high = place.notches
    if low or high:
        return "lower" if (low > 0.0) == place.up else "upper"
    return "lower"


def _cheeks(choice: Choice, cutter: Cutter, matrix: tuple[tuple[float, ...], ...]) -> tuple[Operation, ...]:
    """Both cheeks along the board's width, then the notch across its thickness."""
    joint, place = choice.joint, choice.joint.place
    board, shape, radius = joint.tail_board, joint.shape, cutter.radius
    depth = shape.tail_length
    neck = radius - depth * tan(cutter.bit.angle)
    (a, b, c), (d, e, f) = matrix
    from_lower = _entered(choice) == "lower"
    # Places are (way in from the edge where the bit enters, depth from the outside face); the matrix takes board y.
    turn, start = (1.0, 0.0) if from_lower else (-1.0, board.width)
    along = Mouth(((a * turn, b, a * start + c), (d * turn, e, d * start + f)))

    def line(low: bool) -> Line:
        flank = shape.low(shape.depth, tail=True) if low else shape.high(shape.depth, tail=True)
        v0, v1 = (place.deep(flank.at(place.station(start + turn * way))) for way in (0.0, board.width))
        return Line(v0, (v1 - v0) / board.width)

    outer, inner = (line(False), line(True)) if place.outside_high else (line(True), line(False))
    gaps = [
        through_gap(Wall(Line(0.0), True), Wall(outer), radius, board.width, cover=neck, lead=LEAD, over=OVER),
        through_gap(
            Wall(inner), Wall(Line(board.thickness), True), radius, board.width, cover=neck, lead=LEAD, over=OVER
        ),
    ]
    note = f"Full depth at once, in from the {_entered(choice)} edge and back the same way."
    runs = [run for gap in gaps for run in _gap_runs(gap, cutter, along, depth, neck)]
    operations = [operation("cut the cheeks", cutter, runs, note)]
    for notch, at_low in zip(place.notches, (True, False), strict=True):
        if notch:
            mouth = Mouth(((b, a, c), (e, d, f)))
            edge = place.ends(shape.depth)[0 if at_low else 1]
            wall, side = Wall(Line(place.y(edge))), 0.0 if at_low == place.up else board.width
            strip = (Wall(Line(side), True), wall) if side == 0.0 else (wall, Wall(Line(side), True))
            gap = through_gap(*strip, radius, board.thickness, cover=neck, lead=LEAD, over=OVER)
            runs = _gap_runs(gap, cutter, mouth, depth, neck)
            note = "Across the board, in from the outside face, after the cheeks."
            operations.append(operation("cut the notch", cutter, runs, note))
    return tuple(operations)


def _gap_runs(gap: Gap, cutter: Cutter, mouth: Mouth, depth: float, neck: float) -> list[Run]:
    """The wall of a cheek, and lanes beside it where it is wider than the bit."""
    runs = [wall_run(gap, cutter, mouth, -depth)]
    lanes = gap.lanes(NECK_STEP * neck)
    between = lanes[1 if gap.low_wall else 0 : len(lanes) - (1 if gap.high_wall else 0)]
    if between:
        runs.append(clearing_run([Pass(-depth, gap, between)], cutter, mouth))
    return runs


def not_held(joint: SlidingDovetail, kit: Kit, voice: Voice) -> Finding | None:
    """Why the tail board cannot stand in the machine; None where it can."""
    if kit.machine is None:
        ways = 'write tail_way = "router-table" for the same bit in a table, or tail_way = "hand"'
        return Finding("stop", "sliding-tail", joint.name, f"the kit has no machine to cut the tail on: {ways}")
    if faults := vise_faults(kit.machine, joint.tail_board, voice.length):
        ways = 'write tail_way = "hand" for the saw and the chisel; the socket is made as asked all the same'
        return Finding("stop", "sliding-tail", joint.name, f"{'; '.join(faults)}: {ways}")
    return None
