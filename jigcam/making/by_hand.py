"""Making a joint without the machine: which tools a way wants, and what is offered where they are not there."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from pydantic import ValidationError

from jigcam.document import Misfit
from jigcam.errors import JigcamError, Refused
from jigcam.findings import Finding

if TYPE_CHECKING:
    from jigcam.job import Entry
    from jigcam.kit import Kit

OFFER = 'it can be made by hand: write way = "hand", which needs no machine and no bushing'
"""What a refusal for want of tools ends with."""
BY_TEMPLATE = 'way = "template" works without one: the template is then made with saw and rasp'
"""And before that, where a machine is wanting and a template does."""

Try = Callable[["Entry"], object]
"""Plans an entry; raises `Refused` or another error of ours where it cannot be."""


def check_tools(entry: Entry, kit: Kit) -> None:
    """Refuses a way for which the kit has no machine, no router or no sheet at all. Raises `Refused`."""
    if entry.way == "direct" and kit.machine is None:
        says = f'way = "direct" cuts on a machine, and the kit {kit.name} has no [machine]'
        raise _refused(entry, "no-machine", says)
    if entry.way == "template" and kit.router is None:
        raise _refused(entry, "no-router", _needs("a hand-held router", "router", kit))
    if entry.way == "template" and kit.sheet is None:
        raise _refused(entry, "no-sheet", _needs("a sheet to make it of", "sheet", kit))
    if entry.way == "template" and not kit.bushings:
        raise _refused(entry, "no-bushings", _needs("a guide bushing", "bushings", kit))


def _needs(what: str, table: str, kit: Kit) -> str:
    return f"a template needs {what}, and the kit {kit.name} has no [{table}]"


def offering(refused: Refused, entry: Entry, attempt: Try) -> Refused:
    """The same refusal of a way, with the ways that were tried and do at the end of its last stop.

    attempt: plans the joint by another way. By hand nothing is offered where that was the way.
    """
    stops = [number for number, each in enumerate(refused.findings) if each.level == "stop"]
    if entry.way == "hand" or not stops:
        return refused
    findings = list(refused.findings)
    last = findings[stops[-1]]
    offers = []
    if last.rule == "no-machine" and (left_out := _way_that_works(entry, "template", attempt)) is not None:
        offers.append(_with_left_out(BY_TEMPLATE, left_out))
    if (left_out := _way_that_works(entry, "hand", attempt)) is not None:
        offers.append(_with_left_out(OFFER, left_out))
    if not offers:
        return refused
    findings[stops[-1]] = replace(last, says="; ".join([last.says.rstrip().removesuffix("."), *offers]))
    return Refused(refused.what, findings)


def without_offers(says: str) -> str:
    """What a refusal says without the ways that `offering` adds."""
    return re.split(f"; (?:{re.escape(OFFER)}|{re.escape(BY_TEMPLATE)})", says)[0]


def _with_left_out(offer: str, left_out: tuple[str, ...]) -> str:
    return offer + (f"; then leave {' and '.join(left_out)} out" if left_out else "")


def _way_that_works(entry: Entry, way: str, attempt: Try) -> tuple[str, ...] | None:
    """The keys that have to be left out for the joint to be made by that way; None where it cannot be."""
    keys = {name: getattr(entry, name) for name in entry.model_fields_set} | {"way": way}
    optional = {name for name, field in type(entry).model_fields.items() if not field.is_required()} - {"way"}
    left_out: list[str] = []
    while True:
        try:
            attempt(type(entry).model_validate(keys))
        except ValidationError as error:
            wrong = [name for name in _blamed(error) if name in keys and name in optional]
            if not wrong:
                return None
            left_out += wrong
            keys = {name: value for name, value in keys.items() if name not in wrong}
        except JigcamError:
            return None
        else:
            return tuple(left_out)


def _blamed(error: ValidationError) -> Iterator[str]:
    """The keys that a model which cannot be blames."""
    for each in error.errors():
        fault = each.get("ctx", {}).get("error")
        keys = [key for key, _ in fault.faults] if isinstance(fault, Misfit) else [each["loc"]]
        yield from dict.fromkeys(str(key[0]) for key in keys if key)


def _refused(entry: Entry, rule: str, says: str) -> Refused:
    return Refused(
        f"{entry.name} cannot be made so with the tools of the kit", [Finding("stop", rule, entry.name, says)]
    )
