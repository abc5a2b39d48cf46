"""What is in the shop: bits, bushings, router, machine, sheet goods and woods; models, loading, shipped profiles."""

from __future__ import annotations

from jigcam.kit.accuracy import Accuracy
from jigcam.kit.adjusting import Adjustment, adjusted, write_measured
from jigcam.kit.bit import Bit, BitKind
from jigcam.kit.climate import Climate
from jigcam.kit.kit import Kit
from jigcam.kit.loading import load_kit
from jigcam.kit.machine import KeepOutBox, Machine, Nut, Upright
from jigcam.kit.materials import Material, Sawn, Wood, common_names, materials, wood, woods
from jigcam.kit.measured import Measured
from jigcam.kit.movement import change, equilibrium_moisture
from jigcam.kit.profiles import kit_names, profiles_folder
from jigcam.kit.router import Bushing, Router, Sheet
from jigcam.kit.want import Want

__all__ = [
    "Accuracy",
    "Adjustment",
    "Bit",
    "BitKind",
    "Bushing",
    "Climate",
    "KeepOutBox",
    "Kit",
    "Machine",
    "Material",
    "Measured",
    "Nut",
    "Router",
    "Sawn",
    "Sheet",
    "Upright",
    "Want",
    "Wood",
    "adjusted",
    "change",
    "common_names",
    "equilibrium_moisture",
    "kit_names",
    "load_kit",
    "materials",
    "profiles_folder",
    "wood",
    "woods",
    "write_measured",
]
