"""What a kit is good for: a joint of each kind, planned with it by every way that the kind has; and what it lacks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_args

from jigcam.document import Document
from jigcam.errors import JigcamError, Refused
from jigcam.findings import stops
from jigcam.job import Entry
from jigcam.job.loading import job_from
from jigcam.joints import Entries, kind, kind_names
from jigcam.kit import load_kit
from jigcam.making.by_hand import without_offers
from jigcam.making.columns import columns, hanging, prose
from jigcam.workshop.build import plan_joint

if TYPE_CHECKING:
    from jigcam.kit import Kit

WAYS: tuple[str, ...] = get_args(Entry.model_fields["way"].annotation)
"""By which joints are made."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A kind's starter, made one way. why_not: what stops it, a sentence each; empty where it can be made."""

    kind: str
    way: str
    why_not: tuple[str, ...] = ()

    @property
    def works(self) -> bool:
        """Whether the kit makes it so."""
        return not self.why_not

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {"kind": self.kind, "way": self.way, "works": self.works, "why_not": list(self.why_not)}


@dataclass(frozen=True, slots=True)
class Lack:
    """Keys that a kit does not have. keys: as in its file; says: what they are; makes: trials that work with them."""

    keys: str
    says: str
    makes: tuple[Trial, ...]

    def as_dict(self) -> dict[str, Any]:
        """For `--json`."""
        return {"keys": self.keys, "makes": [{"kind": each.kind, "way": each.way} for each in self.makes]}


def lacks_of(kit: Kit, trials: tuple[Trial, ...]) -> tuple[Lack, ...]:
    """What the kit does not have at all, tried with that of a shipped kit: what it would make then and does not now."""
    failed = [trial for trial in trials if not trial.works]
    found = (
        Lack(
            keys, says, tuple(trial for each in failed if (trial := _tried(each.kind, each.way, more)) and trial.works)
        )
        for keys, says, more in _with_more(kit)
    )
    return tuple(lack for lack in found if lack.makes)


def _with_more(kit: Kit) -> Iterator[tuple[str, str, Kit]]:
    """Keys that are missing, what they are, and the kit with them."""
    shop = load_kit("metric-shop" if kit.units == "mm" else "inch-shop")
    bits = {} if kit.bits else {"bits": shop.bits}
    if kit.machine is None:
        yield "[machine]", "a CNC", kit.model_copy(update={"machine": shop.machine, **bits})
    elif kit.machine.upright is None:
        machine = kit.machine.model_copy(update={"upright": shop.the_machine.upright})
        says = "the width and thickness of the largest board that stands on end in the machine's vise"
        yield "upright in [machine]", says, kit.model_copy(update={"machine": machine})
    missing = {key: getattr(shop, key) for key in ("router", "sheet", "bushings") if not getattr(kit, key)}
    if missing:
        keys = ", no ".join({"bushings": "[[bushings]]"}.get(key, f"[{key}]") for key in missing)
        yield keys, "what a template wants", kit.model_copy(update={**missing, **bits})


def try_kit(kit: Kit) -> tuple[Trial, ...]:
    """Every kind by every way that it has, planned but not proved: what the tools are long, wide and many enough for.

    The joints are drawn for the shipped kit of the kit's units; another size of the joint may work where they do not.
    """
    return tuple(trial for name in kind_names() for way in WAYS if (trial := _tried(name, way, kit)) is not None)


def _tried(name: str, way: str, kit: Kit) -> Trial | None:
    """None where the kind has no such way."""
    document = Document.parse(kind(name).starter(kit.units), Path(f"{name}.toml"))
    table = document.data["joints"][0]
    entry = kind(name).entry
    tools = {*Entry.TOOLS, *entry.TOOLS, *entry.BY_BIT}
    document.data["joints"] = [{key: value for key, value in table.items() if key not in tools} | {"way": way}]
    try:
        job = job_from(document, Entries())
    except JigcamError:
        return None
    try:
        plan_joint(job.joints[0], job, kit)
    except Refused as refused:
        says = (without_offers(finding.says) for finding in stops(refused.findings))
        return Trial(name, way, tuple(dict.fromkeys(says)))
    except JigcamError as error:
        return Trial(name, way, (str(error),))
    return Trial(name, way)


def trial_lines(
    kit: Kit, trials: tuple[Trial, ...], lacks: tuple[Lack, ...] = (), width: int | None = None
) -> list[str]:
    """For people: a table of kinds and ways, what stops those that will not do, and what the kit would make with keys
    that it lacks. width: columns of the screen."""
    told = {(trial.kind, trial.way): "yes" if trial.works else "no" for trial in trials}
    kinds = list(dict.fromkeys(trial.kind for trial in trials))
    rows = [[name, *(told.get((name, way), "-") for way in WAYS)] for name in kinds]
    lines = [
        *prose([f"{kit.name}: no fault in the file. Joints that can be made with it, and by which way:"], width),
        "",
        *columns(["", *WAYS], rows, width=width),
        "",
        *prose(["Tried on one joint of each kind, of a usual size; -: not made so by anyone."], width),
    ]
    for lack in lacks:
        ways = dict.fromkeys(trial.way for trial in lack.makes)
        makes = "; ".join(f"{', '.join(each.kind for each in lack.makes if each.way == way)} ({way})" for way in ways)
        lines += [
            "",
            *hanging(f"it has no {lack.keys}: {lack.says}. With that it also makes: {makes}", width or 100, 2),
        ]
    alike: dict[tuple[str, ...], list[Trial]] = {}
    for trial in trials:
        if not trial.works:
            alike.setdefault((trial.way, *trial.why_not), []).append(trial)
    for (way, first, *more), those in alike.items():
        rest = f" ({len(more)} more)" if more else ""
        lines += ["", *hanging(f"{', '.join(trial.kind for trial in those)}, {way}: {first}{rest}", width or 100, 2)]
    return lines
