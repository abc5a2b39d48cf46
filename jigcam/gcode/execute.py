"""Carries out one line in the standard's order (NISTIR 6556 section 3.8, Table 8) and records the motions.

A fault in how a line is written, or in which words stand together, keeps the whole line from being carried out. A fault
in a motion itself leaves that motion out: what stands before it in the order has taken effect, and reading goes on
from where the motion would have ended, so that one mistake is one fault and not a hundred.
"""

from __future__ import annotations

import math

from jigcam.gcode import arcs, cycles, modal
from jigcam.gcode.faults import Fault, Objection
from jigcam.gcode.reading import (
    CCW,
    CW,
    FEED,
    FLOOD,
    MIST,
    OFF,
    RAPID,
    Cause,
    Comment,
    Dwell,
    OpenDoubt,
    Recorder,
    Selection,
    Stop,
    StopKind,
    ToolChange,
)
from jigcam.gcode.state import ABSOLUTE, INCH_SCALE, INVERSE_TIME, NO_COMPENSATION, TO_INITIAL, State
from jigcam.gcode.words import Block

_STOPS: dict[int, StopKind] = {0: "pause", 1: "optional", 60: "pallet", 2: "end", 30: "end"}
_PLANE_PLACE = {170: 0, 180: 1, 190: 2}
Point = tuple[float, float, float]
UNKNOWN: Point = (math.nan, math.nan, math.nan)


class Executor:
    """A state and a recorder, and the lines that change them. `ended` after M2 or M30. doubts: those still open."""

    def __init__(self, state: State, recorder: Recorder) -> None:
        self.state = state
        self.recorder = recorder
        self.ended = False
        self.doubts: list[OpenDoubt] = []
        self._note_conditions()

    def run(self, block: Block) -> None:
        """Carry out a line; faults and remarks go to the recorder."""
        recorder = self.recorder
        for text in block.comments:
            self._comment(block.line, text)
        g_codes, m_codes = modal.sort_codes(block)
        recorder.faults.extend(block.faults)
        if block.faults:
            return
        if block.deletable:
            self._remark(block, "block-delete", "an operator's switch decides whether this line counts; it was read")
        try:
            motion = modal.motion_of(block, g_codes, self.state.motion)
            modal.check_words(block, g_codes, motion)
            self._check_machine_move(block, g_codes, motion)
            rotary = next((letter for letter in block.words if letter in modal.ROTARY), "")
            if rotary:
                raise Objection("rotary-not-judged", f"{rotary}: turning axes are not judged here", rotary)
            self._carry_out(block, g_codes, m_codes, motion)
        except Objection as objection:
            column = block.columns.get(objection.letter, 0)
            recorder.faults.append(Fault(block.line, column, objection.says, objection.rule))

    def _comment(self, line: int, text: str) -> None:
        self.recorder.comments.append(Comment(line, text))
        head, comma, message = text.partition(",")
        if comma and "".join(head.split()).upper() == "MSG":
            self.recorder.messages.append(Comment(line, message.strip()))

    def _remark(self, block: Block, rule: str, says: str, letter: str = "") -> None:
        self.recorder.remarks.append(Fault(block.line, block.columns.get(letter, 0), says, rule))

    @staticmethod
    def _check_machine_move(block: Block, g_codes: dict[int, int], motion: int | None) -> None:
        """What the standard asks of G10 and G53 before anything on the line is carried out."""
        zero = g_codes.get(modal.NON_MODAL)
        if zero == 100:
            system = modal.whole(block.words.get("P", 0.0))
            if modal.whole(block.words.get("L", 0.0)) != 2 or system is None or not 1 <= system <= 9:
                raise Objection("g10-form", "G10 needs L2 and P from 1 to 9", "G10")
        if zero == 530 and motion not in (modal.RAPID_CODE, modal.LINE_CODE):
            raise Objection("g53-motion", "G53 needs G0 or G1 and an axis word", "G53")

    def _carry_out(self, block: Block, g_codes: dict[int, int], m_codes: dict[int, int], motion: int | None) -> None:
        state, words = self.state, block.words
        state.feed_mode = g_codes.get(modal.FEED_GROUP, state.feed_mode)
        if "F" in words and state.feed_mode != INVERSE_TIME:
            state.feed = words["F"] * state.scale
        state.rpm = words.get("S", state.rpm)
        if "T" in words:
            state.selected = round(words["T"])
            self.recorder.selections.append(Selection(block.line, state.selected, self.recorder.count))
        self._machine_words(block, m_codes)
        if g_codes.get(modal.NON_MODAL) == 40:
            self.recorder.dwells.append(Dwell(block.line, words["P"], self.recorder.count, state.turning))
        state.plane = g_codes.get(modal.PLANE_GROUP, state.plane)
        self._units(block, g_codes.get(modal.UNITS_GROUP))
        self._offsets(block, g_codes)
        if modal.SYSTEM_GROUP in g_codes:
            self._system(block, g_codes[modal.SYSTEM_GROUP])
        state.path = g_codes.get(modal.PATH_GROUP, state.path)
        state.distance = g_codes.get(modal.DISTANCE_GROUP, state.distance)
        state.retract = g_codes.get(modal.RETRACT_GROUP, state.retract)
        self._note_conditions()
        if modal.NON_MODAL in g_codes:
            self._non_modal(block, g_codes[modal.NON_MODAL])
        if modal.MOTION_GROUP in g_codes:
            state.motion = g_codes[modal.MOTION_GROUP]
            if state.motion not in modal.CYCLES:
                state.sticky.end()
        if motion is not None and motion != modal.NO_MOTION:
            self._move(block, motion, in_machine=g_codes.get(modal.NON_MODAL) == 530)
        if modal.STOP_GROUP in m_codes:
            kind = _STOPS[m_codes[modal.STOP_GROUP]]
            self._stop(block, kind)
            self.ended = kind == "end"

    def _stop(self, block: Block, kind: StopKind) -> None:
        self.recorder.stops.append(Stop(block.line, kind, self.recorder.count, self.state.turning))
        if kind != "end":
            self._doubt(block, "pause", [None, None, None])

    def _doubt(self, block: Block, cause: Cause, said: list[int | None]) -> None:
        """From here on the coordinates that are None in `said` have to be given anew."""
        doubt = OpenDoubt(block.line, cause, self.recorder.count, said)
        self.recorder.doubts.append(doubt)
        self.doubts.append(doubt)

    def _said(self, block: Block, motion: int) -> None:
        """The words of a line have given coordinates, from the motion with that index on."""
        if not self.doubts or self.state.distance != ABSOLUTE:
            return
        for doubt in self.doubts:
            for axis, letter in enumerate("XYZ"):
                if doubt.said[axis] is None and letter in block.words:
                    doubt.said[axis] = motion
        self.doubts = [doubt for doubt in self.doubts if None in doubt.said]

    def _machine_words(self, block: Block, m_codes: dict[int, int]) -> None:
        state = self.state
        if modal.TOOL_GROUP in m_codes:
            change = ToolChange(block.line, state.selected, self.recorder.count, state.turning)
            state.tool, state.spindle = state.selected, OFF
            self.recorder.tool_changes.append(change)
            self._doubt(block, "tool change", [None, None, None])
        if modal.SPINDLE_GROUP in m_codes:
            state.spindle = {3: CW, 4: CCW, 5: OFF}[m_codes[modal.SPINDLE_GROUP]]
        if modal.COOLANT_GROUP in m_codes:
            state.coolant = {7: state.coolant | MIST, 8: state.coolant | FLOOD, 9: 0}[m_codes[modal.COOLANT_GROUP]]

    def _units(self, block: Block, code: int | None) -> None:
        if code is None:
            return
        state = self.state
        scale = INCH_SCALE if code == 200 else 1.0
        if state.units_stated and scale != state.scale and self.recorder.count:
            self._remark(block, "units-changed", "the units change after moves were made", f"G{code // 10}")
        state.scale, state.units_stated = scale, True

    def _offsets(self, block: Block, g_codes: dict[int, int]) -> None:
        """G40–G42: what moves the path by numbers that are not in the file is a fault. G43, G49: the length offset is
        the machine's own measure of a bit; which one is in force is recorded, and where z has to be given anew."""
        state, words = self.state, block.words
        cutter, length = g_codes.get(modal.CUTTER_GROUP), g_codes.get(modal.LENGTH_GROUP)
        if cutter is not None and cutter != NO_COMPENSATION:
            name = f"G{cutter // 10}"
            if state.plane != 170:
                raise Objection("compensation-plane", f"{name} works in the XY plane only", name)
            raise Objection(
                "compensation-not-judged",
                f"{name}: cutter compensation moves the path by a number that the file does not hold",
                name,
            )
        if length == 430 and "H" not in words:
            raise Objection("length-offset-index", "G43 without H", "G43")
        if length is not None:
            number = round(words["H"]) if length == 430 else 0
            if number != state.length:
                # Before the first motion no z is known yet that could be doubted.
                if self.recorder.count:
                    self._doubt(block, "length offset", [self.recorder.count, self.recorder.count, None])
                state.length = number

    def _system(self, block: Block, code: int) -> None:
        state = self.state
        system = (code - 540) // 10 + 1 if code <= 590 else 6 + code - 590
        if system != 1:
            says = f"{modal.code_name(code)}: another zero than that of G54, which the setup names"
            self._remark(block, "other-zero", says, modal.code_name(code))
        if system == state.frames.system:
            return
        state.frames.select(system)
        self._remark_unknown_offset(block)

    def _note_conditions(self) -> None:
        state = self.state
        self.recorder.conditions(
            _PLANE_PLACE[state.plane],
            state.rpm,
            state.spindle,
            state.tool,
            state.coolant,
            state.exact,
            state.length,
        )

    def _non_modal(self, block: Block, code: int) -> None:
        state, frames = self.state, self.state.frames
        values = {axis: block.words[letter] * state.scale for axis, letter in enumerate("XYZ") if letter in block.words}
        if code == 100:
            frames.set_origin(round(block.words["P"]), values)
        elif code in (280, 300):
            self._go_home(block)
        elif code == 920:
            before = list(state.position)
            frames.set_here(state.position, values)
            if any(new != old and not math.isnan(new) for new, old in zip(state.position, before, strict=True)):
                self.recorder.jump(self.position)
        elif code in (921, 922):
            frames.clear_offset(forget=code == 921)
        elif code == 923:
            frames.restore_offset()
        if code in (100, 920, 921, 922, 923):
            name = modal.code_name(code)
            self._remark(block, "zero-moved", f"{name} moves the zero that was set for the stock", name)
            self._remark_unknown_offset(block)

    def _remark_unknown_offset(self, block: Block) -> None:
        if any(map(math.isnan, self.state.frames.shift)):
            self._remark(
                block, "offset-unknown", "from here on coordinates rest on offsets that only the machine knows"
            )

    def _go_home(self, block: Block) -> None:
        """G28, G30: by way of the point given, if any, to a place that only the machine knows."""
        self._anchor(block)
        if any(letter in block.words for letter in "XYZ"):
            self._straight(block, RAPID, self.state.target(block.words), 0.0)
        self._lose(UNKNOWN)
        self.recorder.straight(block.line, RAPID, UNKNOWN, 0.0)
        self._remark(block, "position-unknown", "the move ends at a place that only the machine knows")

    def _lose(self, end: Point) -> None:
        """Move to a point some of whose coordinates only the machine knows."""
        state = self.state
        for axis in range(3):
            if math.isnan(end[axis]) and not math.isnan(state.position[axis]):
                state.frames.lost.add(axis)
        state.position[:] = end

    @property
    def position(self) -> Point:
        """Where the tool is, mm in the file frame."""
        x, y, z = self.state.position
        return x, y, z

    def _anchor(self, block: Block) -> None:
        """Before the first motion."""
        state = self.state
        if state.frames.anchored:
            return
        state.frames.anchor()
        if not state.units_stated:
            self._remark(block, "units-unstated", "no G20 or G21 before the first move; millimetres were taken")

    def _move(self, block: Block, motion: int, *, in_machine: bool) -> None:
        self._anchor(block)
        if in_machine:
            self._machine_move(block, motion)
        elif motion in modal.CYCLES:
            self._cycle(block, motion)
        elif motion == modal.PROBE_CODE:
            end = self.state.target(block.words)
            x, y, z = (a if a == b else math.nan for a, b in zip(end, self.position, strict=True))
            self._lose((x, y, z))
            raise Objection("probe-not-judged", "a probing move ends where the file does not say", "G38.2")
        elif motion in (modal.RAPID_CODE, modal.LINE_CODE):
            end = self.state.target(block.words)
            self._straight(block, RAPID if motion == modal.RAPID_CODE else FEED, end)
        else:
            self._arc(block, ccw=motion == modal.CCW_CODE)

    def _machine_move(self, block: Block, motion: int) -> None:
        state = self.state
        if state.distance != ABSOLUTE:
            raise Objection("g53-incremental", "G53 does not go with G91", "G53")
        end = list(state.position)
        for axis, letter in enumerate("XYZ"):
            if letter in block.words:
                end[axis] = state.frames.machine_zero[axis] + block.words[letter] * state.scale
        kind = RAPID if motion == modal.RAPID_CODE else FEED
        feed = 0.0 if kind == RAPID else self._feed(block, math.dist(state.position, end))
        place = (end[0], end[1], end[2])
        self.recorder.straight(block.line, kind, place, feed)
        self._lose(place)
        if any(map(math.isnan, place)):
            self._remark(block, "position-unknown", "the move ends at a place that only the machine knows", "G53")

    def _feed(self, block: Block, length: float) -> float:
        """mm/min of a cutting move that is so many mm long. Raises Objection if there is none."""
        state = self.state
        if state.feed_mode == INVERSE_TIME:
            per_minute = block.words.get("F", 0.0)
            if per_minute <= 0:
                raise Objection(
                    "feed-inverse-time",
                    "in G93 every cutting move has its own F above zero",
                    "F" if "F" in block.words else "",
                )
            return length * per_minute
        if state.feed <= 0:
            raise Objection("feed-missing", "a cutting move without a feed above zero")
        return state.feed

    def _leave_out(self, end: Point) -> None:
        """Reading goes on from the end of a motion that could not be recorded."""
        self.state.position[:] = end
        self.recorder.jump(end)

    def _straight(self, block: Block, kind: int, end: Point, feed: float | None = None, *, cycle: bool = False) -> None:
        if feed is None and kind == FEED:
            try:
                feed = self._feed(block, math.dist(self.position, end))
            except Objection:
                self._leave_out(end)
                raise
        self.recorder.straight(block.line, kind, end, feed or 0.0)
        self.state.position[:] = end
        if not cycle:
            self._said(block, self.recorder.count - 1)

    def _arc(self, block: Block, *, ccw: bool) -> None:
        state = self.state
        start, end = self.position, state.target(block.words)
        try:
            centre, sweep = arcs.solve(block.words, state.plane, state.scale, start, end, ccw)
            first, second, normal = arcs.PLANE_AXES[state.plane]
            radius = math.hypot(start[first] - centre[first], start[second] - centre[second])
            feed = self._feed(block, math.hypot(radius * sweep, end[normal] - start[normal]))
        except Objection:
            self._leave_out(end)
            raise
        self.recorder.arc(block.line, end, centre, sweep, feed)
        state.position[:] = end
        self._said(block, self.recorder.count - 1)

    def _cycle(self, block: Block, code: int) -> None:
        state, recorder = self.state, self.recorder
        if state.feed_mode == INVERSE_TIME:
            raise Objection("cycle-inverse-time", "no canned cycles in G93")
        setting = cycles.Setting(
            plane=state.plane,
            position=tuple(state.position),
            shift=tuple(state.frames.shift),
            scale=state.scale,
            incremental=state.distance != ABSOLUTE,
            to_initial=None if state.retract is None else state.retract == TO_INITIAL,
            spindle=state.direction,
        )
        steps = cycles.expand(code, block, state.sticky, setting)
        feed = self._feed(block, math.nan)
        turning = state.spindle
        for step in steps:
            if step.act in ("rapid", "feed"):
                rapid = step.act == "rapid"
                if step.end != self.position:
                    self._straight(block, RAPID if rapid else FEED, step.end, 0.0 if rapid else feed, cycle=True)
            elif step.act == "dwell":
                recorder.dwells.append(Dwell(block.line, step.value, recorder.count, state.turning))
            elif step.act == "spindle":
                state.spindle = {1: turning, 0: OFF, -1: CCW if turning == CW else CW}[int(step.value)]
                self._note_conditions()
            else:
                self._stop(block, "pause")
        # Within the cycle the tool set out from where it was; after it the words hold.
        self._said(block, recorder.count)
