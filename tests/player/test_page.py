"""The page that plays the cut, in a browser: at its end it shows what the proof found, for every kind's starter."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from support.browser import Tab
from support.hand_files import slot_file
from support.jobs import job_table, write_job
from support.page import at_the_end, built
from support.shop import content, jigcam

from jigcam.geometry import Region, rectangle, slot
from jigcam.kit import load_kit
from jigcam.player.film import film
from jigcam.player.page import in_script, page_of, page_with
from jigcam.proof import Removal, Stock, Target, prove
from jigcam.units import MM
from jigcam.workshop.calls import make
from jigcam.workshop.results import results_schema

EVIL = "</script><script>window.ran=1</script><img src=x onerror=window.ran=1>"
"""A name that would run as a script, if a page took it for anything but text."""
SLOT = (100.0 - 12.0) * 12.0 + math.pi * 36.0
"""Area of the slot of `slot_file`, mm²: 100 long over its round ends, 12 wide."""


def slot_film(text: str | None = None) -> dict[str, Any]:
    """The hand-written slot, or a change to its text, as a film with its proof."""
    hand, kit = slot_file(), load_kit("inch-shop")
    text = hand.text if text is None else text
    drawn = slot_region(20.0, 120.0, 30.0, 6.0)
    target = Target(Stock.of_size(*hand.stock), (Removal.prism("slot", drawn, 6.0),))
    bit = kit.bit(hand.bit)
    proof = prove(text, target, kit.the_machine, bit)
    return film(EVIL, [("file", EVIL)], text, target, kit.the_machine, bit, proof)


def slot_region(x0: float, x1: float, y: float, half: float) -> Region:
    return slot((x0, y), (x1, y), 2.0 * half)


@pytest.fixture
def slot_page(tab: Tab, folder: Path) -> Tab:
    """The page of the slot, just opened."""
    path = folder / "slot.html"
    path.write_bytes(page_with(EVIL, EVIL, MM, [slot_film()]))
    tab.open(path)
    return tab


def turn(ride: dict[str, Any]) -> float:
    """Which way a ride goes round: twice the area within the corners of its way, negative for clockwise; mm²."""
    x, y = ride["strokes"]["x"], ride["strokes"]["y"]
    corners = zip(x, y, [*x[1:], x[0]], [*y[1:], y[0]], strict=True)
    return sum(x0 * y1 - x1 * y0 for x0, y0, x1, y1 in corners)


def test_the_end_of_every_starter_agrees_with_its_proof(
    tab: Tab, folder: Path, starters: dict[str, list[dict[str, Any]]]
) -> None:
    path = folder / "starters.html"
    films = [each for made in starters.values() for each in made]
    path.write_bytes(page_with("starters", "kit", MM, films))
    tab.open(path)
    for number, (kind, each) in enumerate((kind, each) for kind, made in starters.items() for each in made):
        tab.run(f"jigcamPlayer.choose({number})")
        end, where = at_the_end(tab, hurried=True), f"{kind}: {each['name']}"
        assert end["verdict"] == "agrees", (where, end)
        assert all(row[-1] == "yes" for row in end["rows"]), (where, end)
        measured = [height for height in each["heights"] if "area" in height]
        assert measured, where
        for height, own in zip(measured, end["sums"][1:], strict=True):
            # What a radius wrong by a fortieth of a millimetre would already come to along the outline.
            assert own["area"] == pytest.approx(height["area"], abs=0.025 * height["edge"]), (where, height)
        assert end["rows"][0][1] == f"{each['proof']['depth']:.2f} mm", where
        assert ("for the chisel" in " ".join(end["faults"])) == bool(each["proof"]["corners"]), where
    assert tab.messages == []
    assert tab.requests == [path.as_uri()]
    assert all(turn(each) < 0.0 for made in starters.values() for each in made if each["kind"] == "ride")
    hands = [each["name"] for each in starters["groove"] if each["kind"] == "ride"]
    assert [name.rpartition(", ")[2] for name in hands] == ["as drawn", "opposite"], "the starter asks for both hands"


def test_the_slot_comes_to_its_area_by_hand(slot_page: Tab) -> None:
    end = at_the_end(slot_page)
    assert end["verdict"] == "agrees"
    assert end["sums"][1]["area"] == pytest.approx(SLOT, abs=1.0)
    assert "nothing is cut too far, nothing is left over; it cuts 6.00 mm deep" in end["said"]
    assert not end["faults"]


def test_a_sum_is_as_good_wherever_its_edges_fall_between_dots(slot_page: Tab) -> None:
    """Once a groove's own sum differed from the proof by an eighth of a dot along its edges, as they fell unluckily."""
    off = slot_page.run(
        """(() => {
          const p = jigcamPlayer, film = p.film, height = film.heights.find((each) => each.area !== undefined);
          const drawing = film.drawings[height.drawing], must = drawing.must, found = [];
          for (let k = 0; k < 24; k++) {
            // What has to go besides, further and further off, makes the dots larger.
            drawing.must = [...must, [19 - 0.6 * k, 30, 0, 19.01 - 0.6 * k, 30, 0, 19 - 0.6 * k, 30.01, 0]];
            const sum = sumAt(film, p.s, height, p.s.n, 0);
            found.push((sum.area - AREA) / (height.edge * sum.dot));
          }
          drawing.must = must;
          return found;
        })()""".replace("AREA", str(SLOT))
    )
    assert max(off) - min(off) > 0.01, "they do fall differently"
    assert max(map(abs, off)) < 0.07


def test_a_gouge_and_what_is_left_are_coloured_and_said(tab: Tab, folder: Path) -> None:
    text = slot_file().text
    too_far = text.replace("G1 X114.0000 Y27.1750 Z-6.0000", "G1 X114.0000 Y24.0000 Z-6.0000", 1)
    assert too_far != text
    path = folder / "gouge.html"
    path.write_bytes(page_with("gouge", "kit", MM, [slot_film(too_far)]))
    tab.open(path)
    tab.run("jigcamPlayer.setMode('cross')")
    end = at_the_end(tab)
    assert "cut too far by" in end["said"]
    assert any(line.startswith("cut too far by") for line in end["faults"])
    assert any("cut beyond the drawing, by the picture" in line for line in end["faults"])
    count = """(() => {
      const plan = document.getElementById("plan"), dots = plan.getContext("2d");
      const data = dots.getImageData(0, 0, plan.width, plan.height).data, want = rgb(ink("gouge"));
      let found = 0;
      for (let j = 0; j < data.length; j += 4) {
        if (want.every((value, k) => Math.abs(data[j + k] - value) < 3)) found++;
      }
      return found;
    })()"""
    assert tab.run(count) > 100, "the gouge is to be seen"


def test_keys_alone_play_the_file(slot_page: Tab) -> None:
    tab = slot_page
    place, moves = "strokeAt(jigcamPlayer.s, jigcamPlayer.time).k", tab.run("jigcamPlayer.s.n")
    tab.run("document.getElementById('time').focus()")
    tab.press("End", 35)
    assert tab.run(place) == moves
    tab.press("Home", 36)
    assert tab.run("jigcamPlayer.time") == 0
    for _ in range(3):
        tab.press("ArrowRight", 39)
    on = tab.run(place)
    tab.press("ArrowLeft", 37)
    assert 0 < tab.run(place) < on
    tab.wait("document.getElementById('said').textContent.startsWith('Move ')")
    said = tab.run("document.getElementById('said').textContent")
    line = int(re.search(r"line (\d+)", said)[1])  # type: ignore[index]
    text = slot_file().text.splitlines()
    assert text[line - 1] in said, "the line of the file is said as it stands"
    assert tab.run("document.querySelector('#code [aria-current]').textContent") == text[line - 1]
    assert tab.run("document.getElementById('time').getAttribute('aria-valuetext')") == said
    tab.press(" ", 32, " ")
    assert tab.run("jigcamPlayer.playing")
    begun = tab.run("jigcamPlayer.time")
    tab.wait(f"jigcamPlayer.time > {begun}")
    tab.press(" ", 32, " ")
    assert not tab.run("jigcamPlayer.playing")
    tab.run("document.getElementById('height').focus()")
    tab.press("Home", 36)
    assert tab.run("document.getElementById('height').getAttribute('aria-valuetext')") == "the face"


def test_the_section_is_dragged_in_the_view_from_the_front(slot_page: Tab) -> None:
    tab = slot_page
    box = tab.run("JSON.stringify(document.getElementById('front').getBoundingClientRect())")
    left, top = (json.loads(box)[name] for name in ("left", "top"))
    for kind, z in (("mousePressed", 0.0), ("mouseMoved", -3.0), ("mouseReleased", -3.0)):
        y = top + tab.run(f"jigcamPlayer.front.yOf({z}) / jigcamPlayer.front.ratio")
        tab.call("Input.dispatchMouseEvent", type=kind, x=left + 40, y=y, button="left", buttons=1, clickCount=1)
    z = tab.run("jigcamPlayer.film.heights[jigcamPlayer.heightIndex].z")
    assert z == pytest.approx(-3.0, abs=0.3)
    assert tab.run("document.getElementById('cross').getAttribute('aria-pressed')") == "true"


def test_files_are_found_by_joint_by_the_buttons_and_by_the_address(
    tab: Tab, folder: Path, starters: dict[str, list[dict[str, Any]]]
) -> None:
    path = folder / "files.html"
    films = [each for name in ("groove", "rabbet") for each in starters[name]]
    path.write_bytes(page_with("files", "kit", MM, films))
    tab.open(path)
    groups = tab.run("[...document.querySelectorAll('optgroup')].map((each) => [each.label, each.children.length])")
    assert [count for _, count in groups] == [len(starters[name]) for name in ("groove", "rabbet")]
    assert tab.run("document.getElementById('before').disabled")
    tab.run("document.getElementById('after').click()")
    assert tab.run("jigcamPlayer.film.name") == films[1]["name"]
    assert tab.run("decodeURIComponent(location.hash)") == f"#{films[1]['name']}"
    last = films[-1]["name"]
    tab.run(f"location.hash = '#' + encodeURI({json.dumps(last)})")
    tab.wait(f"jigcamPlayer.film.name === {json.dumps(last)}")
    assert tab.run("document.getElementById('after').disabled")


def test_engraved_lines_are_seen_and_measured(
    tab: Tab, folder: Path, starters: dict[str, list[dict[str, Any]]]
) -> None:
    (marks,) = [each for each in starters["key"] if each["name"].endswith("marks.nc")]
    lines = marks["proof"]["engraved"]
    assert lines["whole"]
    assert lines["lines"] == sum(len(mark["paths"]) for mark in marks["marks"])
    (half,) = [height for height in marks["heights"] if "area" in height]
    # The flanks of the vee stand at 45°: half way down, lines are as wide as what is left of the depth, twice.
    assert half["area"] == pytest.approx(lines["length"] * lines["depth"], rel=0.12)
    path = folder / "marks.html"
    path.write_bytes(page_with("marks", "kit", MM, [marks]))
    tab.open(path)
    wood = "(() => { const p = jigcamPlayer.plan, d = p.top.context.getImageData(0, 0, p.width, p.height).data;"
    wood += " const want = rgb(ink('wood')); let found = 0; for (let j = 0; j < d.length; j += 4)"
    wood += " if (d[j + 3] === 255 && want[0] - d[j] > 20) found++; return found; })()"
    assert tab.run(wood) == 0
    end = at_the_end(tab)
    assert end["verdict"] == "agrees"
    assert f"{lines['lines']} lines are engraved 0.40 mm deep" in end["said"]
    assert "engraved" in end["rows"][1][0]
    assert tab.run(wood) > 300, "from above too"


def test_a_name_with_markup_is_text(slot_page: Tab) -> None:
    tab = slot_page
    assert tab.run("document.getElementById('job').textContent") == EVIL
    assert tab.run("document.title") == f"{EVIL}: the cut"
    assert tab.run("document.querySelector('#film option').textContent") == EVIL
    assert tab.run("document.images.length") == 0
    assert tab.run("window.ran === undefined")
    assert tab.messages == []


def test_whoever_uses_a_screen_reader_is_told_what_each_thing_is(slot_page: Tab) -> None:
    nodes = slot_page.call("Accessibility.getFullAXTree")["nodes"]
    named = {(each["role"]["value"], each.get("name", {}).get("value", "")) for each in nodes if "role" in each}
    wanted = {("slider", "Place in the file"), ("slider", "Section at"), ("button", "Play"), ("combobox", "Show")}
    wanted |= {("button", "Show the one before"), ("button", "Show the next one"), ("list", "The file")}
    assert wanted <= named, named
    live = [each["nodeId"] for each in nodes if any(p["name"] == "live" for p in each.get("properties", []))]
    assert len(live) == 1, "the clock, which changes with every picture, is not read out"
    assert all(name for role, name in named if role in ("button", "slider", "combobox", "image"))
    assert slot_page.run("document.getElementById('said').getAttribute('aria-live')") == "polite"


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [1280, 400])
def test_it_fits_the_screen_and_can_be_read(slot_page: Tab, width: int, dark: bool) -> None:
    tab = slot_page
    tab.size(width, 800, dark=dark)
    try:
        assert tab.run("document.documentElement.scrollWidth <= innerWidth")
        dark_now = tab.run("getComputedStyle(document.body).backgroundColor.match(/\\d+/g).every((c) => c < 80)")
        assert dark_now == dark
        tab.wait("jigcamPlayer.plan.canvas.width > 200 && document.body.dataset.drawn === 'all'")
    finally:
        tab.size(1280, 800)


def test_make_writes_the_page_once_for_the_whole_job(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table("mm") | {"job": EVIL})
    run = jigcam("make", job, "-o", tmp_path / "out", "--page", "--json")
    assert run.status == 0, run.err
    first = content(tmp_path / "out")
    assert first["page.html"] == make(job, page=True).files["page.html"], "the same bytes on a second run"
    (entry,) = [each for each in run.json["files"] if each["file"] == "page.html"]
    assert (entry["kind"], entry["joint"]) == ("preview", ""), "of the whole job, as files of the piece are"
    jsonschema.validate(run.json, results_schema())
    text = first["page.html"].decode("utf-8")
    assert EVIL not in text
    assert '<input type="range"' in text
    assert not re.search(r"(?:https?:)?//(?!\s)[\w.]+\.\w", re.sub(r"^\s*//.*$", "", text, flags=re.MULTILINE))
    data = json.loads(re.search(r'id="data">(.*?)</script>', text, re.DOTALL)[1])  # type: ignore[index]
    assert data["job"] == EVIL
    gcode = [each for each in run.json["files"] if each["kind"] == "gcode"]
    assert [each["name"] for each in data["films"]] == [each["file"] for each in gcode]
    for each in data["films"]:
        assert each["text"].encode() == first[each["name"]], "the text that is shown is the file's"


def test_without_the_option_there_is_no_page(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table("mm"))
    assert jigcam("make", job, "-o", tmp_path / "out").status == 0
    assert "page.html" not in content(tmp_path / "out")


def test_a_job_by_hand_has_a_page_that_says_so(slot_page: Tab, tmp_path: Path) -> None:
    made = built(write_job(tmp_path, job_table("mm", way="hand")))
    assert not made.gcode_files
    path = tmp_path / "page.html"
    path.write_bytes(page_of(made))
    slot_page.open(path)
    assert "by hand" in slot_page.run("document.getElementById('said').textContent")
    assert slot_page.run("document.getElementById('time').disabled")
    assert slot_page.messages == []


@pytest.mark.parametrize("text", [EVIL, "<!--<script>", "a & b", "\u2028\u2029\u202e", 'quote " and \\'])
def test_json_in_a_script_means_the_same_and_ends_nothing(text: str) -> None:
    made = in_script({"name": text})
    assert json.loads(made) == {"name": text}
    assert not set("<>&\u2028\u2029\u202e") & set(made)


def test_rectangles_of_the_drawing_keep_their_place() -> None:
    """A drawing reaches the page vertex by vertex: a corner that was somewhere else would be drawn somewhere else."""
    from jigcam.player.numbers import loops_of

    assert loops_of(rectangle(1.0, 2.0, 5.0, 4.0)) == [[1, 2, 0, 5, 2, 0, 5, 4, 0, 1, 4, 0]]


def test_every_control_is_reached_by_tab_and_shows_that_it_is(slot_page: Tab) -> None:
    tab, found = slot_page, {}
    wanted = "[...document.querySelectorAll('button, select, input')].filter((e) => !e.disabled).map((e) => e.id)"
    for _ in range(30):
        tab.press("Tab", 9)
        name, wide = tab.run("[document.activeElement.id, getComputedStyle(document.activeElement).outlineWidth]")
        found[name] = wide
    assert set(tab.run(wanted)) <= set(found)
    assert all(found[name] == "3px" for name in tab.run(wanted)), found


def test_what_has_to_go_and_is_not_cut_yet_all_still_stands(slot_page: Tab) -> None:
    """Once 97 %, as the round ends of a drawing were left out of the picture that was summed."""
    words = "document.getElementById('height-words').textContent"
    assert "all of it still stands" in slot_page.run(words)
    at_the_end(slot_page)
    slot_page.wait(f"{words}.includes('none of it still stands')")


def test_a_section_that_is_asked_for_is_said(slot_page: Tab) -> None:
    tab = slot_page
    tab.run("document.getElementById('height').focus()")
    tab.press("Home", 36)
    tab.wait("document.getElementById('said').textContent.startsWith('Section at the face. Gone there: 0.0 mm²')")
