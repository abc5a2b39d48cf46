"""The three ways of a groove: by a template, cut directly, by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.groove.season import season_findings, with_room

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan


def plan_groove(groove: Groove, entry: Entry, job: Job, kit: Kit) -> Plan:
    """A groove by the way that its entry asks for. Raises `Refused`, and InputError for tools that the kit lacks."""
    groove = with_room(groove, job, kit)
    # Each way is imported where it is asked for: a cut without a template needs none of what a template does.
    if entry.way == "direct":
        from jigcam.joints.groove.direct import plan_direct

        return plan_direct(groove, entry, job, kit)
    if entry.way == "hand":
        from jigcam.joints.groove.by_hand import HandGroove

        findings = tuple(dict.fromkeys([*groove.findings, *season_findings(groove, job, kit)]))
        return HandGroove(groove.name, (), findings, kit, job.voice, groove=groove, places=groove.places())
    from jigcam.joints.groove.by_template import plan_by_template

    return plan_by_template(groove, entry, job, kit)
