"""The strict reader: RS-274/NGC text (NISTIR 6556) into a Reading. It trusts nothing and raises for no text."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from jigcam.gcode import plain
from jigcam.gcode.execute import Executor
from jigcam.gcode.faults import Fault
from jigcam.gcode.reading import PathMode, Reading, Recorder, Units
from jigcam.gcode.state import State
from jigcam.gcode.words import scan

MOST_FAULTS = 100
"""Reading stops there: whoever mends a file does not read a longer list."""
REMEMBERED, LONGEST = 32, 1 << 18
"""How many readings are kept, and of texts of how many characters at most: of one job's files a few megabytes."""

_PATH_MODES: dict[int | None, PathMode | None] = {
    610: "exact path",
    611: "exact stop",
    640: "continuous",
    None: None,
}


def read(text: str) -> Reading:
    """Read a whole file.

    text: the file, lines ended by LF or CR LF. A file on disk may hold any bytes: decode it as latin-1, which cannot
    fail; what is not ASCII becomes a fault. The result holds every motion that the text orders a machine to make, in mm
    and mm/min, and every fault and remark with its line. Never raises.

    Each check asks for the whole text anew, and all get the one reading that it has: nothing of it can be changed.
    """
    return _remembered(text) if len(text) <= LONGEST else Reader(text).reading()


@lru_cache(maxsize=REMEMBERED)
def _remembered(text: str) -> Reading:
    return Reader(text).reading()


class Reader:
    """One reading of one text.

    short_cut: take plain lines on the short cut (the result is the same without). delete: the operator's switch for
    block delete is on, and lines that open with / are passed over (NISTIR 6556 section 3.3).
    """

    def __init__(self, text: str, *, short_cut: bool = True, delete: bool = False) -> None:
        self._text = text
        self._delete = delete
        lines = text.replace("\r\n", "\n").split("\n")
        if lines and lines[-1] == "":
            lines.pop()
        self._lines: Sequence[str] = lines
        self._short_cut = short_cut
        self._state = State()
        self._recorder = Recorder()
        self._executor = Executor(self._state, self._recorder)
        self._units: Units | None = None
        self._path_mode: PathMode | None = None

    def reading(self) -> Reading:
        """Read to the end."""
        recorder = self._recorder
        ended = self._read_lines()
        recorder.faults.sort(key=lambda fault: (fault.line, fault.column))
        if len(recorder.faults) > MOST_FAULTS:
            recorder.faults[MOST_FAULTS:] = [
                Fault(recorder.faults[MOST_FAULTS].line, 0, "reading stopped after so many faults", "too-many-faults")
            ]
        return Reading(
            motions=recorder.columns(),
            faults=tuple(recorder.faults),
            remarks=tuple(recorder.remarks),
            stops=tuple(recorder.stops),
            dwells=tuple(recorder.dwells),
            tool_changes=tuple(recorder.tool_changes),
            comments=tuple(recorder.comments),
            messages=tuple(recorder.messages),
            units=self._units,
            path_mode=self._path_mode,
            ended=ended,
            lines=len(self._lines),
            selections=tuple(recorder.selections),
            doubts=tuple(doubt.closed(recorder.count) for doubt in recorder.doubts),
            # M2 and M30 stop the spindle (section 3.6.1); a % line ends the program and leaves it as it is.
            ends_turning=ended and not self._executor.ended and self._state.turning,
            deleted=self._with_switch(),
        )

    def _with_switch(self) -> Reading | None:
        """The reading with block delete on, if that is another one."""
        if self._delete or not any(map(_deletable, self._lines)):
            return None
        return Reader(self._text, short_cut=self._short_cut, delete=True).reading()

    def _read_lines(self) -> bool:
        """Read every line; whether the program came to its end."""
        lines, state, recorder, executor = self._lines, self._state, self._recorder, self._executor
        index = next((i for i, line in enumerate(lines) if line.strip(" \t")), len(lines))
        demarcated = index < len(lines) and lines[index].strip(" \t") == "%"
        index += demarcated
        while index < len(lines):
            if self._short_cut and recorder.count and state.plain and not executor.doubts:
                index = plain.run(lines, index, state, recorder)
                if index == len(lines):
                    break
            text = lines[index]
            index += 1
            if demarcated and text.strip(" \t") == "%":
                self._after_end(index)
                return True
            if text and not (self._delete and _deletable(text)):
                before = recorder.count
                executor.run(scan(text, index))
                if not before and recorder.count:
                    self._note_first_motion()
            if executor.ended:
                self._end(index, demarcated)
                return True
            if len(recorder.faults) > MOST_FAULTS:
                return False
        if demarcated:
            recorder.faults.append(
                Fault(len(lines), 0, "the file opens with % and has no second % line", "percent-unclosed")
            )
        else:
            recorder.faults.append(Fault(len(lines), 0, "the file ends without M2 or M30", "program-end-missing"))
        return False

    def _note_first_motion(self) -> None:
        state = self._state
        if state.units_stated:
            self._units = "mm" if state.scale == 1.0 else "in"
        self._path_mode = _PATH_MODES[state.path]

    def _end(self, index: int, demarcated: bool) -> None:
        """After M2 or M30, `index` being the next line: only the closing % of a file that opens with one is awaited."""
        for place in range(index, len(self._lines)):
            text = self._lines[place].strip(" \t")
            if demarcated and text == "%":
                self._after_end(place + 1)
                return
            if text:
                self._recorder.remarks.append(
                    Fault(place + 1, 1, "text after the end of the program is not read", "after-end")
                )
                if not demarcated:
                    return
        if demarcated:
            self._recorder.faults.append(
                Fault(len(self._lines), 0, "the file opens with % and has no second % line", "percent-unclosed")
            )

    def _after_end(self, index: int) -> None:
        """Remark on text from that line on."""
        for place in range(index, len(self._lines)):
            if self._lines[place].strip(" \t"):
                self._recorder.remarks.append(
                    Fault(place + 1, 1, "text after the end of the program is not read", "after-end")
                )
                return


def _deletable(text: str) -> bool:
    return text.lstrip(" \t").startswith("/")
