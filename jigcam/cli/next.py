"""`jigcam next`: what to set for the next test piece."""

from __future__ import annotations

from pathlib import Path

import click

from jigcam.cli.arguments import JOB, JOINT, KIT
from jigcam.cli.screen import Command, say_json, say_lines

HELP = """What to set for the next test piece of a joint of JOB, by the play of the last one.

Not every kind is fitted by test pieces: for a joint of another kind it says which are.

Put the test piece into its socket, shoulders down, and push it sideways, from one flank to the other: how far it
shifts, at a dial or by feelers beside it, is the gap, and 0 where it goes in and does not shift.

Where it does not go in, measure the socket across its mouth and the tail at its shoulders: the first less the second
is the gap, below 0. The play that the job asks for jigcam takes off itself.
"""


@click.command(cls=Command, name="next", help=HELP)
@JOB
@JOINT
@click.option(
    "--gap",
    required=True,
    metavar="LENGTH",
    help="Play of the test piece over both flanks, as 0.3mm; a bare number is in the job's units. Below 0: how much "
    "too wide it is.",
)
@KIT
def command(job: Path, joint: str | None, gap: str, kit: str | None, as_json: bool) -> None:
    """What to set for the next test piece of a joint."""
    from jigcam.bench.trial import next_trial
    from jigcam.job import kit_for
    from jigcam.workshop.loading import load_job

    loaded = load_job(job)
    advice = next_trial(loaded, kit_for(loaded, kit), joint, gap)
    if as_json:
        say_json(advice.as_dict())
    else:
        say_lines(advice.lines())
