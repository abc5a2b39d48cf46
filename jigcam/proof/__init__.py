"""Virtual cutting from the text of a file: what is cut, how it fits, and whether it is safe."""

from jigcam.proof.prove import prove, prove_reading
from jigcam.proof.report import Corner, Proof
from jigcam.proof.target import KeepOut, Mark, Removal, Stock, Target

__all__ = ["Corner", "KeepOut", "Mark", "Proof", "Removal", "Stock", "Target", "prove", "prove_reading"]
