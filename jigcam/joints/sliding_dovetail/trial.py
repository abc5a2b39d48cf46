"""What a test piece says of the next one: how the fit follows bit and fence, on plain numbers. mm, rad.

*Play*: how far the tail shifts sideways in its socket, from one flank to the other, with its shoulders down; the same
at every height, as all flanks lean alike. Less than none: how much wider the tail is than its socket at one height.
"""

from __future__ import annotations

from math import cos, tan

from jigcam.values import dataclass


def play_of(clearance: float, angle: float) -> float:
    """Play of a tail with that clearance square to each of its flanks."""
    return 2.0 * clearance / cos(angle)


def clearance_of(play: float, angle: float) -> float:
    """Clearance square to each flank of a tail with that play."""
    return play * cos(angle) / 2.0


def play_by_depth(deeper: float, angle: float) -> float:
    """How much the play grows when the socket is cut deeper with the same bit: its mouth gets narrower, so less than 0.

    The height of the bit that cuts the tail changes nothing as long as the shoulders come down: they are as wide as the
    bit's tip stands out of the fence. A tail that is too long touches the bottom first, stands off, and is as much
    tighter as a socket that is deeper by the same amount.
    """
    return -2.0 * deeper * tan(angle)


def play_by_fence(further: float, faces: int) -> float:
    """How much the play grows when the bit stands out further, with so many faces of the tail cut so."""
    return further * faces


@dataclass(frozen=True, slots=True)
class NextTrial:
    """What to change after a test piece. found, wanted: its play, and the one asked for. angle: of the flanks."""

    found: float
    wanted: float
    angle: float

    @property
    def excess(self) -> float:
        """How much too loose it is; less than 0: too tight."""
        return self.found - self.wanted

    def further(self, faces: int) -> float:
        """How much further the bit has to stand out of the fence where so many faces are cut anew; < 0: less far."""
        return -self.excess / faces

    @property
    def deeper(self) -> float:
        """How much deeper the next socket has to be where the fence stays as it is; < 0: less deep."""
        return self.excess / (2.0 * tan(self.angle))
