"""Room that boards want which float in grooves: so much narrower than from groove to groove they are sawn.

A board that lies with both edges in grooves is drawn down to their bottoms; across its grain it grows when damp.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.piece.open_ends import ENDS
from jigcam.wood.seasons import SHOWS

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.piece.space import Assembled, Contact
    from jigcam.wood.seasons import Seasons

EDGES = ENDS["width"]


def rooms_of(job: Job, piece: Assembled, seasons: Seasons) -> dict[str, float]:
    """What is taken off the width of boards, by name, mm: as much before each groove as its sheet says, in sizes that a
    rule shows, less what the board as drawn stays off already. Of boards whose wood is not named nothing."""
    floating = {entry.name for entry in job.joints if getattr(entry, "floats", False)}
    closing = {id(each.contact): each for each in piece.closing}
    held: dict[str, dict[str, Contact]] = {}
    for each in piece.contacts:
        if each.meeting.joint in floating and each.meeting.b_at in EDGES:
            held.setdefault(each.b.board.name, {})[each.meeting.b_at] = each
    rooms = {}
    for name, edges in held.items():
        grows = seasons.grows_across(job.boards[name])
        if len(edges) < 2 or grows <= SHOWS / 2.0:
            continue
        off = sum(max(0.0, closing[id(each)].gap) for each in edges.values() if id(each) in closing)
        room = 2.0 * job.voice.ruled_up(grows / 2.0) - off
        if room > SHOWS / 2.0:
            rooms[name] = room
    return rooms
