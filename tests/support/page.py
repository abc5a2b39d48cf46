"""The page that plays the cut: its films, and what it says to somebody who has it open and moves its slider."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from support.browser import Tab

from jigcam.job import kit_for
from jigcam.making.built import Built
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
