"""Virtual cutting from the text of a file: what is cut, how it fits, and whether it is safe."""

from jigcam.proof.around import Around, around
from jigcam.proof.cross_section import CrossSection, VirtualCut
from jigcam.proof.fit import Fit, edge_outline, fit
from jigcam.proof.milled import filled
from jigcam.proof.prove import milled_region, prove, prove_reading
from jigcam.proof.report import Corner, Proof
from jigcam.proof.ride import Ride, ride
from jigcam.proof.target import KeepOut, Mark, Removal, Stock, Target

__all__ = [
    "Around",
    "Corner",
    "CrossSection",
    "Fit",
    "KeepOut",
    "Mark",
    "Proof",
    "Removal",
    "Ride",
    "Stock",
    "Target",
    "VirtualCut",
    "around",
    "edge_outline",
    "filled",
    "fit",
    "milled_region",
    "prove",
    "prove_reading",
    "ride",
]
