"""Making a joint without the machine: which tools a way wants, and what is offered where they are not there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding

if TYPE_CHECKING:
    from jigcam.job import Entry
    from jigcam.kit import Kit

OFFER = 'it can be made by hand: write way = "hand", which needs no machine and no bushing'
"""What a refusal for want of tools ends with."""


def check_tools(entry: Entry, kit: Kit, *, template: bool) -> None:
    """Refuses a way for which the kit has no machine, no router or no sheet at all, with the ways that would do.

    template: whether the kind can also be cut with one. Raises `Refused`.
    """
    if entry.way == "direct" and kit.machine is None:
        others = ""
        if template and kit.router and kit.sheet and kit.bushings:
            others = '; way = "template" works without one: the template is then made with saw and rasp'
        says = f'way = "direct" cuts on a machine, and the kit {kit.name} has no [machine]{others}'
        raise _refused(entry, "no-machine", says)
    if entry.way == "template" and kit.router is None:
        raise _refused(entry, "no-router", _needs("a hand-held router", "router", kit))
    if entry.way == "template" and kit.sheet is None:
        raise _refused(entry, "no-sheet", _needs("a sheet to make it of", "sheet", kit))
    if entry.way == "template" and not kit.bushings:
        raise _refused(entry, "no-bushings", _needs("a guide bushing", "bushings", kit))


def _needs(what: str, table: str, kit: Kit) -> str:
    return f"a template needs {what}, and the kit {kit.name} has no [{table}]"


def offering(refused: Refused, entry: Entry) -> Refused:
    """The same refusal of a way, with the hand offered at the end of its last stop; as it is where that was the way."""
    stops = [number for number, each in enumerate(refused.findings) if each.level == "stop"]
    if entry.way == "hand" or not stops:
        return refused
    findings = list(refused.findings)
    last = findings[stops[-1]]
    findings[stops[-1]] = replace(last, says=f"{last.says.rstrip().removesuffix('.')}; {OFFER}")
    return Refused(refused.what, findings)


def _refused(entry: Entry, rule: str, says: str) -> Refused:
    return Refused(
        f"{entry.name} cannot be made so with the tools of the kit", [Finding("stop", rule, entry.name, says)]
    )
