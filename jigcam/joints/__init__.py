"""Joints: from the parameters of each kind to the solids that it removes from each board, and how the boards meet."""

from __future__ import annotations

from jigcam.joints.band import Band
from jigcam.joints.groove import Groove, groove
from jigcam.joints.key import Key
from jigcam.joints.kinds import BUILDERS, Joint, build
from jigcam.joints.mate import Mate
from jigcam.joints.solid import Cut, Hand, Prism, Solid

__all__ = ["BUILDERS", "Band", "Cut", "Groove", "Hand", "Joint", "Key", "Mate", "Prism", "Solid", "build", "groove"]
