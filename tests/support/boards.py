"""Several joints in one board, for tests: jobs made in Python, and cuts of a board without any joint."""

from __future__ import annotations

from math import atan, pi
from typing import Any, Literal

from jigcam.geometry import Region
from jigcam.job import Board, Entry, Job
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.joints.half_blind_dovetail import HalfBlindDovetailEntry
from jigcam.joints.key.entry import KeyEntry
from jigcam.joints.through_dovetail import ThroughDovetailEntry
from jigcam.piece import Piece, PieceJoint
from jigcam.units import Voice
from jigcam.wood import Prism, Taken

DIVIDER = Board(name="divider", length=300.0, width=90.0, thickness=19.05)
"""A board of 3/4 in, mm."""
TOP = Board(name="top", length=700.0, width=90.0, thickness=16.0)


def dado(name: str, at: float, **keys: Any) -> GrooveEntry:
    """A dado 12 mm wide and 6 mm deep across the divider, its middle at x; keys change it."""
    entry: dict[str, Any] = {
        "name": name,
        "kind": "groove",
        "way": "direct",
        "board": "divider",
        "face": "inside",
        "start_point": (at, 0.0),
        "angle": pi / 2.0,
        "length": 90.0,
        "width": 12.0,
        "depth": 6.0,
        "start": "open",
        "finish": "open",
        "ends": "square",
    }
    return GrooveEntry(**{**entry, **keys})


def along(name: str, at: float, **keys: Any) -> GrooveEntry:
    """A groove 6 mm wide and 6 mm deep along the divider, its middle at y, open at both ends; keys change it."""
    lying = {"start_point": (0.0, at), "angle": 0.0, "length": 300.0, "width": 6.0, "ends": "round"}
    return dado(name, 0.0, **{**lying, **keys})


def tails(**keys: Any) -> ThroughDovetailEntry:
    """Two tails on the right end of the divider; keys change the joint's."""
    entry: dict[str, Any] = {
        "name": "corner",
        "tails": "divider",
        "tails_end": "right",
        "pins": "top",
        "pins_end": "left",
        "count": 2,
        "pin": 9.0,
        "half_pin": 7.0,
        "slope": atan(1 / 8),
    }
    return ThroughDovetailEntry(**{**entry, **keys})


def lapped(**keys: Any) -> HalfBlindDovetailEntry:
    """The same tails behind a lap of 4 mm: the divider is the side of a drawer, the top its front."""
    said = tails().model_dump(include={"tails", "tails_end", "pins", "pins_end", "count", "pin", "half_pin", "slope"})
    return HalfBlindDovetailEntry(**{"name": "drawer", **said, "lap": 4.0, **keys})


def bow_ties(**keys: Any) -> KeyEntry:
    """Two keys on the outside of the divider; keys change them."""
    entry: dict[str, Any] = {
        "name": "bow ties",
        "kind": "key",
        "board": "divider",
        "face": "outside",
        "at": (150.0, 45.0),
        "angle": pi / 2.0,
        "length": 60.0,
        "ends": 32.0,
        "waist": 16.0,
        "depth": 6.0,
        "count": 2,
        "spacing": 60.0,
    }
    return KeyEntry(**{**entry, **keys})


def board_job(*joints: Entry, units: Literal["in", "mm"] = "mm", board: Board = DIVIDER) -> Job:
    """A job with joints in the divider, whose corner goes to a top."""
    return Job(title="Sheet-music cabinet", units=units, boards={"divider": board, "top": TOP}, joints=joints)


def cut(
    joint: str, region: Region, depth: float, *, face: Literal["outside", "inside"] = "outside", board: Board = DIVIDER
) -> Taken:
    """A region taken from a face of a board, in that face's frame."""
    return Taken(joint, board, face, Prism(region, depth))


def piece_of(*taken: Taken) -> Piece:
    """The joints of cuts, in their order, as drawn; lengths in mm."""
    names = dict.fromkeys(each.joint for each in taken)
    joints = tuple(PieceJoint(name, tuple(each for each in taken if each.joint == name)) for name in names)
    return Piece(joints, Voice("mm"))
