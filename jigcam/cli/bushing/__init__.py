"""`jigcam bushing`: the bench for guide bushings."""

from __future__ import annotations

import click

from jigcam.cli.groups import LateGroup

COMMANDS = {
    "offset": "Offset, opening and cut of one bit in one bushing.",
    "pairs": "Every bit and bushing of a kit, ranked for a cut.",
    "tolerance": "How width, place and fit of a groove may come out.",
    "test": "Files of a test coupon with stepped openings.",
    "adjust": "Correct a kit by a measured test cut.",
}


@click.group(cls=LateGroup, package="jigcam.cli.bushing", table=COMMANDS, name="bushing")
def command() -> None:
    """Guide bushings: choose, check and correct before any wood is cut."""
