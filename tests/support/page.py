"""The page that plays the cut: its films, and what it says to somebody who has it open and moves its slider."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from support.browser import Tab

from jigcam.job import kit_for
from jigcam.making.built import Built
from jigcam.making.setup_sheet import setup_sheet
from jigcam.player.film import film_of
from jigcam.player.riding import rides_of
from jigcam.workshop.build import build_job
from jigcam.workshop.loading import load_job


def built(path: Path, kit: str | None = None) -> Built:
    """The job of a file, made in memory. kit: another than it names."""
    job = load_job(path)
    return build_job(job, kit_for(job, kit))


def films_of(made: Built) -> list[dict[str, Any]]:
    """The films of all files, and of the rides after them, in the order of the joints."""
    machine, voice = made.kit.the_machine, made.job.voice
    return [
        each
        for joint, proof in zip(made.joints, made.proofs, strict=True)
        for each in (
            *(film_of(file, proof.files[file.file], machine, voice) for file in joint.files),
            *rides_of(joint, made.kit, voice),
        )
    ]


def sheet_times(made: Built) -> dict[str, str]:
    """How long each file takes, by its name, in the words of the setup sheets: `5 min 34 s`."""
    found: dict[str, str] = {}
    for joint, proof in zip(made.joints, made.proofs, strict=True):
        text = "\n".join(setup_sheet(joint, proof, made))
        for file in joint.files:
            # A file's own lines follow its name, which stands alone in a line.
            own = re.search(rf"^\s*{re.escape(file.file)}\s*$.*?^\s*time\s+about (\d+ min \d\d s)", text, re.M | re.S)
            assert own, file.file
            found[file.file] = own[1]
    return found


def time_faults(films: list[dict[str, Any]], told: dict[str, str]) -> list[str]:
    """Films of files whose time is another than that on the setup sheet, or whose strokes come to another."""
    faults = []
    for each in films:
        if each["kind"] != "mill":
            continue
        minutes, seconds = divmod(each["seconds"], 60)
        if f"{minutes} min {seconds:02d} s" != told[each["name"]]:
            faults.append(f"{each['name']}: {each['seconds']} s on the page, {told[each['name']]} on the sheet")
        if abs(sum(each["strokes"]["ticks"]) / 10_000 - each["seconds"]) > 0.501:
            faults.append(f"{each['name']}: strokes of {sum(each['strokes']['ticks']) / 10_000} s")
    return faults


def at_the_end(tab: Tab, *, hurried: bool = False) -> dict[str, Any]:
    """What the page says when the slider is moved to its end, as a hand moves it.

    hurried: without the moment that it waits whether the hand goes on.
    """
    tab.run(
        "(() => { const t = document.getElementById('time'); t.value = t.max; t.dispatchEvent(new Event('input'));"
        f" if ({str(hurried).lower()}) jigcamPlayer.sayPlace(); }})()"
    )
    tab.wait("document.body.dataset.ended && document.body.dataset.drawn === 'all'")
    said = tab.run(
        "JSON.stringify({verdict: document.body.dataset.ended, said: document.getElementById('said').textContent,"
        " faults: [...document.querySelectorAll('#faults li')].map((each) => each.textContent),"
        " rows: [...document.querySelectorAll('#agreement tbody tr')].map("
        "   (row) => [...row.cells].map((cell) => cell.textContent)),"
        " sums: jigcamPlayer.film.agreement.map((row) => row.sum)})"
    )
    found: dict[str, Any] = json.loads(said)
    return found
