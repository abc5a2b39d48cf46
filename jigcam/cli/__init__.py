"""The command line: it reads arguments, calls the workshop and prints; it does no arithmetic.

Importing this module imports click and nothing heavier; each command's own module is imported when it is called.
"""

from __future__ import annotations

from pathlib import Path

import click

from jigcam import __version__
from jigcam.cli.groups import LateGroup

__all__ = ["main"]

COMMANDS = {
    "make": "Make the files of a job: all of them, proved, or none.",
    "check": "Compute and prove a whole job; write nothing.",
    "piece": "Put the boards together: sizes, order, cut list.",
    "view": "Show a job or a G-code file in this terminal.",
    "prove": "Read a G-code file back and compare it with its job.",
    "bushing": "Guide bushings: offsets, pairs, tolerance, test cuts.",
    "kit": "List a kit: bits, bushings, and which pairs work.",
    "start": "List jobs to start from, and print one.",
    "schema": "Print the JSON Schema of a job or kit, for editors.",
    "next": "What to set for the next test piece of a joint.",
    "movement": "Seasonal movement of a board, and the gap it needs.",
}


BEGIN = """\
Where to begin

  1  jigcam start                         lists jobs to start from
     jigcam start groove -o shelf.toml    writes one, with every key explained:
                                          change it into your own joint
  2  jigcam view shelf.toml               shows it
     jigcam check shelf.toml              cuts it virtually, writes nothing
  3  jigcam make shelf.toml -o out        writes the files; read setup-sheet.txt
                                          in out before you go to the machine
"""
"""What `jigcam` alone says in a folder without job or output."""
ALSO = """
Your own tools: jigcam start kit -o my-kit.toml, then jigcam kit my-kit.toml
All commands:   jigcam --help
"""
"""And what it says everywhere."""


@click.group(
    cls=LateGroup,
    package="jigcam.cli",
    table=COMMANDS,
    context_settings={"help_option_names": ["-h", "--help"]},
    invoke_without_command=True,
)
@click.version_option(__version__, message="jigcam %(version)s")
@click.pass_context
def main(ctx: click.Context) -> None:
    """From a joint on a board to a router template or a tool path that has proved itself before wood is cut.

    A JOB file says what the joint is; a KIT file says what is in the shop. `jigcam` alone says what to do next in this
    folder.

    Exit status: 0 done; 1 refused by a finding; 2 wrong usage, bad input, or no room for the output.
    """
    if ctx.invoked_subcommand is None:
        from jigcam.cli.screen import say, say_lines
        from jigcam.workshop.here import jobs_in, next_lines, outputs_in

        if told := next_lines(jobs_in(Path()), outputs_in(Path())):
            say_lines(told)
        say((ALSO if told else f"{BEGIN}{ALSO}").rstrip("\n"))
