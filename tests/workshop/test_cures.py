"""What a finding says to write instead is written, and the finding is gone: no remedy is refused by the next run."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from copy import deepcopy
from pathlib import Path

import pytest
from support.jobs import Table, job_table, kit_table, write_job
from support.kinds.finger_joint import finger_job
from support.kinds.mortise import mortise_job
from support.kinds.rabbet import rabbet_job
from support.kinds.sliding_dovetail import sliding_job
from support.kinds.through_dovetail import corner_job
from support.rule_cases import CASES

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.workshop.build import plan_joint

Change = Callable[[Table], object]
"""What a remedy does to the last joint of a job, its kit or the like."""


def _put(key: str, value: object) -> Change:
    return lambda entry: entry.__setitem__(key, value)


def _out(*keys: str) -> Change:
    return lambda entry: [entry.pop(key) for key in keys]


def _written(match: re.Match[str]) -> Change:
    """`write key = value`, and with it what is then to be left out."""
    value: object = match["text"] if match["text"] is not None else int(match["number"])
    out = re.findall(r"\w+", (match["out"] or "").replace(" and ", " "))

    def change(entry: Table) -> None:
        entry[match["key"]] = value
        for key in out:
            del entry[key]

    return change


VALUE = r'(?P<key>\w+) = (?:"(?P<text>[^"]+)"|(?P<number>\d+))'
THEN = r"(?:(?:, which needs no machine and no bushing; then| and) leave (?P<out>\w+(?: and \w+)*) out)?"
WRITE = re.compile(rf"(?:write|or) {VALUE}{THEN}")
WORKS = re.compile(rf"{VALUE} works without one: the template is then made with saw and rasp{THEN}")
OTHER = re.compile(r'(?P<key>\w+) = "\w+" does not work with this kit, but "(?P<text>\w+)" would')
LEAVE = re.compile(r"(?<!then )(?<!and )leave (?P<key>\w+) out\b")
LEAST = re.compile(r"make the (?P<key>base) at least (?P<text>[\d./-]+ (?:mm|in))")


def changes(says: str) -> Iterator[tuple[str, Change]]:
    """Every remedy of a finding that names a key, as it is said, and what following it does."""
    for pattern in (WRITE, WORKS):
        for match in pattern.finditer(says):
            yield match[0], _written(match)
    for match in OTHER.finditer(says):
        yield match[0], _put(match["key"], match["text"])
    for match in LEAVE.finditer(says):
        if match["key"] != "it":
            yield match[0], _out(match["key"])
    for match in LEAST.finditer(says):
        yield match[0], _put(match["key"], match["text"])


def findings(folder: Path, table: Table, kit: Table | None) -> tuple[Finding, ...]:
    """What is said when the last joint is planned, whether it is refused or not."""
    job = load_job(write_job(folder, table, kit))
    try:
        return tuple(plan_joint(job.joints[-1], job, kit_for(job)).findings)
    except Refused as refused:
        return tuple(refused.findings)


def without(*keys: str) -> Table:
    kit = kit_table("mm")
    for key in keys:
        kit.pop(key, None)
        kit["machine"].pop(key, None) if "machine" in kit else None
    return kit


def with_bits(*names: str) -> Table:
    kit = kit_table("mm")
    return kit | {"bits": [bit for bit in kit["bits"] if bit["name"] in names]}


TAIL = (200.0, 120.0, 15.0)
"""A board in which no tail of 15.95 mm has room, though that is what the wider bit would want."""

SLIDING = {
    "no play": (sliding_job(way="template"), None, 3),
    "a thin tail board": (sliding_job(tail=TAIL, way="template"), None, 3),
    "too wide a bit for the tail board": (
        sliding_job(tail=TAIL, way="template"),
        with_bits("dovetail 15.9 x 7", "straight 6", "straight 8"),
        1,
    ),
    "another slope": (sliding_job(way="template", base=12.9, angle_of_flank=11), None, 2),
    "a bit of another kind": (sliding_job(way="template", base=12.9, bit="straight 8"), None, 2),
    "a bushing that does not take it": (sliding_job(way="template", base=12.9, bushing="bushing 11"), None, 2),
    "no machine": (sliding_job(way="template"), without("machine"), 2),
    "no vise, by template": (sliding_job(way="template", tail_way="upright"), without("upright"), 2),
}
JOBS: Mapping[str, tuple[str, Table, Table | None, int]] = {
    **{f"sliding: {name}": ("sliding-template", *rest) for name, rest in SLIDING.items()},
    "no vise": ("sliding-tail", sliding_job(), without("upright"), 2),
    "no machine, a template would do": ("no-machine", job_table("mm"), without("machine"), 2),
    "no machine, no bushing either": ("no-machine", job_table("mm"), without("machine", "bushings"), 1),
    "no machine, a bit named": ("no-machine", job_table("mm", bit="straight 10"), without("machine"), 2),
    "no bushings": ("no-bushings", job_table("mm", way="template"), without("bushings"), 1),
    "no router": (
        "no-router",
        job_table("mm", way="template"),
        {key: value for key, value in with_bits("straight 6", "straight 8").items() if key != "router"},
        1,
    ),
    "no sheet": ("no-sheet", job_table("mm", way="template"), without("sheet"), 1),
    "no vise for a mortise": ("end-not-held", mortise_job(way="direct", end="left"), without("upright"), 1),
    "no bit": ("no-bit", mortise_job(way="direct", width=6.5, depth=28.5), None, 1),
    "no pair": ("no-pair", mortise_job(way="template", width=6.5, depth=24.5), None, 1),
    "no vise for fingers": ("finger-vise", finger_job(), without("upright"), 1),
    "fingers face to back": ("finger-ends", finger_job(b_end="right"), None, 2),
    "one finger": ("finger-alone", finger_job(count=None, finger=60.0), None, 1),
    "a thin last finger": ("finger-last", finger_job(count=None, finger=13.4), None, 1),
    "tails face to back": ("dovetail-ends", corner_job(tails_end="left", pins_end="left"), None, 2),
    "no vise for pins": ("dovetail-setup", corner_job(pins_setup="upright", tails_setup="flat"), without("upright"), 1),
    "a narrow groove": ("interference", job_table("mm", receives="shelf", width=12.0), None, 1),
    "a panel that stands proud": ("stands-proud", rabbet_job(mate=8.1, width=8.0), None, 1),
}


@pytest.mark.parametrize("name", JOBS)
def test_a_remedy_that_is_followed_is_not_refuted_by_the_next_run(name: str, tmp_path: Path) -> None:
    rule, table, kit, least = JOBS[name]
    first = findings(tmp_path / "as drawn", table, kit)
    assert rule in {each.rule for each in first}, first
    said = [each for each in first if each.rule == rule or each.level == "stop"]
    told = [(each.rule, *remedy) for each in said for remedy in changes(each.says)]
    assert len(told) >= least, said
    for number, (cured, remedy, change) in enumerate(told):
        mended = deepcopy(table)
        change(mended["joints"][-1])
        left = findings(tmp_path / str(number), mended, kit)
        assert cured not in {each.rule for each in left}, f"{remedy}: {left}"
        new = [each for each in left if each.level == "stop" and each.rule not in {one.rule for one in first}]
        assert not new, f"{remedy}: {new}"


PROSE: Mapping[str, str] = {
    "dovetail-rabbet": "or leave the rabbet out, which is no one key",
}
"""Rules that say `write …`, `leave … out` and the like of other things than one key of the joint."""


def test_every_remedy_that_names_a_key_is_followed_in_some_job() -> None:
    """A rule whose case names a key and a value is among the jobs above, or said to be prose."""
    followed = {rule for rule, *_ in JOBS.values()} | set(PROSE)
    named = {
        each.rule
        for rule, case in CASES.items()
        if rule in SAID_WITHOUT_FILES
        for speak in case.speaks
        for each in speak()
        if any(True for _ in changes(each.says))
    }
    assert named <= followed, named - followed


SAID_WITHOUT_FILES: Iterable[str] = frozenset(
    name
    for name in CASES
    if name.partition("-")[0] in {"dovetail", "finger", "sliding", "mortise", "too", "off", "stands"}
)
"""Rules whose cases are quick, and made anyway by the tests of rules."""
