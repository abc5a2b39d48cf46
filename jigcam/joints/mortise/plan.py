"""The three ways of a mortise: by a template, cut directly, by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.mortise.entry import MortiseEntry
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan


def plan_mortise(it: Mortise, entry: MortiseEntry, job: Job, kit: Kit) -> Plan:
    """Mortises by the way that their entry asks for.

    Raises `Refused`, and InputError for tools that the kit lacks.
    """
    it.sound()
    # Each way is imported where it is asked for: a cut without a template needs none of what a template does.
    if entry.way == "direct":
        from jigcam.joints.mortise.direct import plan_direct

        return plan_direct(it, entry, job, kit)
    if entry.way == "hand":
        from jigcam.joints.mortise.by_hand import HandMortise

        return HandMortise(it.name, (), it.findings, kit, job.voice, it=it)
    from jigcam.joints.mortise.by_template import plan_by_template

    return plan_by_template(it, entry, job, kit)
