"""Places on a board in words: from which end, from which edge, on which face."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.units import Voice
    from jigcam.wood import Hand


def board_words(board: Board, hand: Hand) -> str:
    """A board, and whether it is the mirrored one."""
    return board.name if hand == "as drawn" else f"{board.name}, opposite hand"


def place_words(place: tuple[float, float], board: Board, voice: Voice) -> str:
    """x, y of the board frame in words: "about 4 in from the left end and 1-1/2 in from the lower edge", whichever
    sides are nearer."""
    x, y = place
    end = (x, "left") if x <= board.length / 2.0 else (board.length - x, "right")
    edge = (y, "lower") if y <= board.width / 2.0 else (board.width - y, "upper")
    far, near = voice.about(max(end[0], 0.0)), voice.about(max(edge[0], 0.0))
    return f"about {far} from the {end[1]} end and {near} from the {edge[1]} edge"


def other(face: str) -> str:
    """The face opposite."""
    return "inside" if face == "outside" else "outside"
