"""What every way of mortises without a template shows and says of the joint as drawn."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from jigcam.joints.mortise.words import mortise_words
from jigcam.making.plan import Plan
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.making.blocks import Block


@dataclass(frozen=True)
class DrawnMortise(Plan):
    """The plan of mortises, as far as it is that of their drawing."""

    it: Mortise

    def drawings(self) -> Mapping[str, Drawing]:
        """Each board with its mortises."""
        from jigcam.joints.mortise.picture import scene_mortise

        return {"mortise": scene_mortise(self.it, self.voice)}

    def joint_words(self) -> list[Block]:
        """The joint and its tenon."""
        return mortise_words(self.it, self.voice)
