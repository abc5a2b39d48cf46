"""The air of a year where a piece stands, and of the shop where it is made: the optional table `[climate]`.

Each of `dry`, `shop` and `damp` is a relative humidity in % with a temperature, or a moisture content of wood in %.
What job and kit leave out is a heated house of the temperate zone, 30 to 65 %, and a shop at 50 %.
"""

from __future__ import annotations

from typing import Annotated, Final, Self

from pydantic import model_validator

from jigcam.document.fields import Temperature, a_number
from jigcam.document.model import Model
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.kit.movement import equilibrium_moisture

ROOM: Final = 21.0
"""°C of air whose temperature is not said: 70 °F, the row of Table 4-2 of the Wood Handbook for living rooms."""
FIBRE_SATURATION: Final = 30.0
"""Moisture content in % above which wood no longer moves (Wood Handbook, section 4: about 30 %)."""


class Air(Model):
    """One state of the air.

    humidity: in %. temperature: in °C. moisture: instead of both, the moisture content of wood in it, in %.
    """

    humidity: Annotated[float, a_number("a relative humidity in %", 1.0, 100.0)] | None = None
    temperature: Temperature | None = None
    moisture: Annotated[float, a_number("a moisture content in %", 0.0, FIBRE_SATURATION)] | None = None

    @property
    def moisture_content(self) -> float:
        """Of wood that has lain in it for weeks, in %, by Eq. 4-5 of the Wood Handbook where it was not given."""
        if self.moisture is not None:
            return self.moisture
        assert self.humidity is not None, "air has a humidity or a moisture content"
        temperature = ROOM if self.temperature is None else self.temperature
        return min(FIBRE_SATURATION, equilibrium_moisture(self.humidity / 100.0, temperature))

    @model_validator(mode="after")
    def _says_one_thing(self) -> Self:
        said = [key for key in ("humidity", "temperature", "moisture") if getattr(self, key) is not None]
        if self.humidity is None and self.moisture is None:
            found = " and ".join(said) or "nothing"
            raise Misfit(((), _unsaid("nothing says how damp it is", found)))
        if self.moisture is not None and len(said) > 1:
            raise Misfit((("moisture",), _unsaid("how damp it is, is said twice", " and ".join(said))))
        return self


def _unsaid(what: str, found: str) -> InputError:
    return InputError(
        what, found=found, wanted='{ humidity = 35, temperature = "70 F" }, or { moisture = 7 }, both in %'
    )


DRY: Final = Air(humidity=30.0)
SHOP: Final = Air(humidity=50.0)
DAMP: Final = Air(humidity=65.0)


class Climate(Model):
    """The air.

    dry: the driest of a year where the piece stands. damp: the dampest. shop: where boards are measured and cut.
    """

    dry: Air | None = None
    shop: Air | None = None
    damp: Air | None = None

    def over(self, other: Climate) -> Climate:
        """The same, with what another one says where this one is silent."""
        return Climate(dry=self.dry or other.dry, shop=self.shop or other.shop, damp=self.damp or other.damp)
