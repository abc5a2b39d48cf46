"""When the bit is where: one time on page and setup sheet, and what a page says that is too slow to show it all."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from support.browser import Tab
from support.jobs import kit_table, write_job
from support.kinds.sliding_dovetail import SMALL
from support.page import built, films_of, sheet_times, time_faults

from jigcam.gcode import read
from jigcam.kit import load_kit
from jigcam.making.built import Built
from jigcam.player.page import page_with
from jigcam.player.timing import CHANGED, Timing
from jigcam.proof.travel import travel_of
from jigcam.toolpath.time import TOOL_CHANGE
from jigcam.units import MM

SLOW = """(() => {
  // A machine that shows a picture every RATE ms: the page asks, and is answered that late.
  window.requestAnimationFrame = (act) => setTimeout(() => act(performance.now()), RATE);
})()"""


@pytest.fixture(params=["pause", "automatic"])
def two_bits(request: pytest.FixtureRequest, tmp_path: Path) -> Built:
    """A job with a file that needs several bits."""
    return built(write_job(tmp_path, SMALL, kit_table("mm", tool_change=request.param)))


def test_page_and_setup_sheet_say_one_time(
    made_starters: dict[str, Built], starters: dict[str, list[dict[str, Any]]]
) -> None:
    """The page once counted feeds alone: 0:47 for what the sheet had as 1 min 01 s, as it knows how axes speed up."""
    assert sum(len(sheet_times(made)) for made in made_starters.values()) >= 20
    faults = [fault for name, made in made_starters.items() for fault in time_faults(starters[name], sheet_times(made))]
    assert faults == []


def test_the_text_alone_takes_as_long_as_the_program_that_was_planned(made_starters: dict[str, Built]) -> None:
    """What is shared out over the strokes is rounding, no mistake: read back, the text takes as long within 0.2 %."""
    for made in made_starters.values():
        machine = made.kit.the_machine
        for file in made.gcode_files:
            reading = file.reading()
            timing = Timing(reading, reading.motions, travel_of(reading.motions), machine, file.program)
            lifts = 2.0 * len([each for each in timing.pauses if each[2] == CHANGED])
            assert timing.own == pytest.approx(timing.seconds, rel=2e-3, abs=0.05 + lifts), file.file


def test_a_move_that_speeds_up_and_slows_down_takes_what_a_machinist_reckons() -> None:
    """A line of 60 mm at 1,200 mm/min, from rest to rest: 60 / 20 s at its feed, and v / a once more for both ramps."""
    machine = load_kit("metric-shop").the_machine
    text = "G21\nG90\nG17\nG94\nG54\nG0 Z5\nG0 X0 Y0\nS18000 M3\nG1 X60 F1200\nM5\nM30\n"
    reading = read(text)
    timing = Timing(reading, reading.motions, travel_of(reading.motions), machine)
    assert timing.seconds == pytest.approx(60.0 / 20.0 + 20.0 / machine.acceleration[0], abs=1e-9)


def test_the_change_of_a_bit_is_a_pause_of_the_page_as_of_the_sheet(two_bits: Built) -> None:
    """Once the clock ran on over it, by minutes."""
    films, how = films_of(two_bits), two_bits.kit.the_machine.tool_change
    found = 0
    for film, file in zip(films, two_bits.gcode_files, strict=True):
        changes = [each for each in film["strokes"]["pauses"] if each[2] == CHANGED]
        assert len(changes) == sum(a.bit != b.bit for a, b in pairwise(file.program.operations))
        for place, seconds, _ in changes:
            assert seconds >= TOOL_CHANGE[how] > 0.0
            assert film["strokes"]["ticks"][place] / 10_000 >= seconds
        assert {str(number) for _, number in film["strokes"]["tool"]} == set(film["tools"])
        found += len(changes)
    assert found
    assert time_faults(films, sheet_times(two_bits)) == []


@pytest.fixture
def slow_page(tab: Tab, folder: Path, starters: dict[str, list[dict[str, Any]]]) -> Tab:
    path = folder / "slow.html"
    (marks,) = [each for each in starters["key"] if each["name"].endswith("marks.nc")]
    path.write_bytes(page_with("slow", "kit", MM, [marks]))
    tab.open(path)
    return tab


def test_a_page_that_is_too_slow_says_what_it_leaves_out(slow_page: Tab) -> None:
    tab, said = slow_page, "document.getElementById('lag').textContent"
    tab.run(SLOW.replace("RATE", "60"))
    tab.run(
        """(() => { const add = Pictures.prototype.add; window.log = [];
        Pictures.prototype.add = function (now, k) { add.call(this, now, k); log.push([now, k, this.said]); }; })()"""
    )
    plan = tab.run("jigcamPlayer.plan.height")
    tab.run("jigcamPlayer.play()")
    tab.wait(f"{said}.startsWith('A slow machine')", 10.0)
    log = tab.run("log")
    last = next(number for number, (_, _, told) in enumerate(log) if told)
    words = log[last][2]
    found = re.search(r"(\d+) pictures a second: each leaves out (\d+) places of the bit, but no cut", words)
    assert found, words
    times, places = zip(*((now, k) for now, k, _ in log[: last + 1]), strict=True)
    assert int(found[1]) == pytest.approx(1000.0 * last / (times[-1] - times[0]), abs=1.0)
    assert int(found[1]) < 17, "a picture takes 60 ms and more"
    assert int(found[2]) == pytest.approx((places[-1] - places[0]) / last - 1.0, abs=0.51)
    assert tab.run("jigcamPlayer.plan.height") == plan, "what is said moves no picture"
    tab.run("jigcamPlayer.stop()")
    tab.wait(f"{said} === ''", 10.0)


def test_a_page_that_is_quick_enough_says_nothing_of_it(slow_page: Tab) -> None:
    tab = slow_page
    spoken = """(() => { const p = new Pictures(), found = [];
      for (let k = 0; k < 200; k++) { p.add(k * STEP, 10 * k); found.push(p.said); }
      return found.filter(Boolean); })()"""
    assert tab.run(spoken.replace("STEP", "30")) == []
    slow = tab.run(spoken.replace("STEP", "40"))
    assert set(slow) == {"A slow machine, 25 pictures a second: each leaves out 9 places of the bit, but no cut."}
