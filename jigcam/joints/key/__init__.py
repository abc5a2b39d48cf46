"""Bow-tie keys: let in across a crack to keep it from opening, recess and key from one opening."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.key.entry import KeyEntry
from jigcam.joints.key.key import key
from jigcam.joints.key.rule_table import RULES
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.key.key import Key
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan


def _plan(joint: Key, entry: KeyEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.key.plan import plan_keys

    return plan_keys(joint, entry, job, kit)


ALSO = ("bow tie", "bowtie", "bow tie key", "butterfly", "butterfly key", "dovetail key", "double dovetail")
NEAR = ("inlay", "patch", "dutchman")

KIND = Kind(KeyEntry, key, _plan, starter_in(__name__), RULES, also=ALSO, near=NEAR)
