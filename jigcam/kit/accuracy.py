"""How far the sizes of tools, templates and stock may be off: the kit's optional table `[tolerances]`.

Each is a *limit*: the true size lies within plus or minus that much of the nominal one, and nothing more is known
about where (JCGM 100:2008, 4.3.7: an even distribution).
"""

from __future__ import annotations

from typing import Annotated, Final

from jigcam.document.fields import a_length
from jigcam.document.model import Model

LARGEST: Final = 5.0
"""mm; a larger tolerance is a slip of the pen."""
Limit = Annotated[float, a_length("a tolerance", 0.0, LARGEST)]

MARKS: Final = {
    "bit": "from memory: diameters of bits as sold, or after a sharpening",
    "bushing": "common practice, no source",
    "opening": "common practice, no source: a light CNC in MDF",
    "concentricity": "from memory: 0.1 mm is a good fit of bushing and bit on one axis",
    "stock": "common practice, no source: planed stock, measured at one place",
    "laying": "common practice, no source: a sheet laid against a fence, or by lines",
    "measuring": "common practice, no source: two readings of a caliper",
}
"""Where each default comes from, by key."""


class Accuracy(Model):
    """Limits in mm, each to either side of the nominal size.

    bit, bushing: of their diameters. opening: of the template's opening as milled, across. concentricity: greatest
    distance between the axes of bushing and bit. stock: of the thickness of the board that enters. laying: of the
    template's place on the board. measuring: of a true B − d that was found with a test cut.
    """

    bit: Limit = 0.05
    bushing: Limit = 0.05
    opening: Limit = 0.05
    concentricity: Limit = 0.1
    stock: Limit = 0.1
    laying: Limit = 0.25
    measuring: Limit = 0.03

    def source(self, key: str) -> str:
        """Where the value of a key comes from: given by the maker, or the mark of the default."""
        return "given" if key in self.model_fields_set else MARKS[key]
