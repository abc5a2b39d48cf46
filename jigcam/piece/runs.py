"""For how many real boards each setup of a job is run: a file is for one board, and of some there are several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.making.setup import Setup
    from jigcam.piece.space import Assembled, Copy
    from jigcam.wood import Taken


def runs_of(
    setup: Setup, joints: Sequence[str], setups: Sequence[Setup], taken: Sequence[Taken], piece: Assembled
) -> int:
    """How often a setup is run. joints: those that its plan makes; setups: of the plan; taken: what they take.

    A template is milled once. A board of the opposite hand has the same setup where the plan has none of its own for
    it and the joint is cut in it all the same.
    """
    if setup.clamping == "template":
        return 1
    copies, hands = {*_met(setup, joints, piece)}, {"as drawn", "opposite"}
    if not copies:
        # Of a joint that holds nothing only the board itself is known, in the hands that it is drawn for.
        copies = {each.copy for each in piece.placed if each.copy.board.name == setup.board}
        hands = {each.hand for each in taken if each.board.name == setup.board}
    if len({each.hand for each in setups if (each.board, each.side) == (setup.board, setup.side)}) > 1:
        hands = {setup.hand}
    return max(sum(("opposite" if copy.opposite else "as drawn") in hands for copy in copies), 1)


def _met(setup: Setup, joints: Sequence[str], piece: Assembled) -> Iterator[Copy]:
    """The boards that the joints hold there: at the end that is up, where the board stands."""
    for contact in piece.contacts:
        meeting = contact.meeting
        for copy, at in ((contact.a, meeting.a_at), (contact.b, meeting.b_at)):
            its = setup.board in (copy.board.name, copy.board.like)
            if meeting.joint in joints and its and (setup.end is None or at == f"{setup.end} end"):
                yield copy
