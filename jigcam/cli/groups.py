"""Groups whose commands are imported when they are asked for, so that `--help` stays quick."""

from __future__ import annotations

import signal
from collections.abc import Mapping, Sequence
from contextlib import suppress
from importlib import import_module
from typing import Any

import click

from jigcam.cli.ending import LostOutput, end_quietly, forget_output, losing_output, whole_streams
from jigcam.cli.help import Context
from jigcam.interruption import end_by


class LateGroup(click.Group):
    """A group known by a table: name of a command → one line of help. Command `x` is `command` in `<package>.x`."""

    context_class = Context

    def __init__(self, *args: Any, package: str, table: Mapping[str, str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.package = package
        self.table = table

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """Run it as click does, except where something from outside ends it (see `jigcam.cli.ending`).

        Exit status 2 where the standard output takes no more, with a message that says what has been done. An error
        stream that takes no more changes no status.
        """
        if not standalone_mode:
            return super().main(args, prog_name, complete_var, False, **extra)
        with whole_streams():
            try:
                status = super().main(args, prog_name, complete_var, False, **extra)
            except click.ClickException as error:
                with suppress(OSError):
                    error.show()
                status = error.exit_code
            except click.Abort:
                with suppress(OSError):
                    click.echo("interrupted", err=True)
                # Not a status of ours: whoever waits for the program learns that the keyboard ended it.
                end_by(signal.SIGINT)
            except LostOutput as lost:
                if lost.reader_left:
                    end_quietly()
                status = _tell_lost(lost)
        raise SystemExit(status or 0)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """As click does; help that cannot be printed raises `LostOutput`."""
        with losing_output():
            return super().parse_args(ctx, args)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the table's order, which is that in which a maker meets them."""
        return list(self.table)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now."""
        if cmd_name not in self.table:
            return None
        command: click.Command = import_module(f"{self.package}.{cmd_name}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List names and one line each, without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(self.table.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, with the nearest command named in the error."""
        if args and args[0] not in self.table and not args[0].startswith("-"):
            from jigcam.errors import nearest

            near = nearest(args[0], self.table)
            hint = f"Did you mean {near!r}?" if near else f"There are: {', '.join(self.table)}."
            ctx.fail(f"There is no command {args[0]!r}. {hint}")
        return super().resolve_command(ctx, args)


def _tell_lost(lost: LostOutput) -> int:
    """Say that the standard output took no more, and what has been done; the exit status."""
    from jigcam.cli.screen import report
    from jigcam.errors import OutputError

    forget_output()
    error = OutputError(
        f"the result could not be printed; {lost.done}",
        where="standard output",
        found=lost.fault.strerror or str(lost.fault),
        wanted="a terminal, a pipe or a file with room",
    )
    report(error, as_json=False)
    return error.exit_status
