"""The command line: it reads arguments, calls the workshop and prints; it does no arithmetic.

Importing this module imports click and nothing heavier; each command's own module is imported when it is called.
"""

from __future__ import annotations

from importlib import import_module

import click

from jigcam import __version__

COMMANDS = {
    "make": "Make the files of a job: all of them, proved, or none.",
    "check": "Compute and prove a whole job; write nothing.",
    "view": "Show a job or a G-code file as a picture of text.",
    "prove": "Read a G-code file back and compare it with its job.",
    "bushing": "Guide bushings: offsets, pairs, tolerance, test cuts.",
    "kit": "List a kit: bits, bushings, and which pairs work.",
    "start": "Print a commented job to start from.",
    "movement": "Seasonal movement of a board, and the gap it needs.",
}


class LateGroup(click.Group):
    """A group whose commands are imported when they are asked for, so that `--help` stays quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order in which a maker meets them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now."""
        if cmd_name not in COMMANDS:
            return None
        return import_module(f"jigcam.cli.{cmd_name}").command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List names and one line each, without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, with the nearest command named in the error."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from jigcam.errors import nearest

            near = nearest(args[0], COMMANDS)
            hint = f" Did you mean {near!r}?" if near else f" There are: {', '.join(COMMANDS)}."
            ctx.fail(f"There is no command {args[0]!r}.{hint}")
        return super().resolve_command(ctx, args)


@click.group(cls=LateGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="jigcam %(version)s")
def main() -> None:
    """From a joint on a board to a router template or a tool path that has proved itself before wood is cut.

    A JOB file says what the joint is; a KIT file says what is in the shop. Begin with `jigcam start groove`.
    Exit status: 0 done; 1 refused by a finding; 2 wrong usage or bad input.
    """
