"""The page that plays the cut as somebody who has it open: its slider moved, and what it says read."""

from __future__ import annotations

import json
from typing import Any

from support.browser import Tab


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
