"""Groups whose commands are imported when they are asked for, so that `--help` stays quick."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click


class LateGroup(click.Group):
    """A group known by a table: name of a command → one line of help. Command `x` is `command` in `<package>.x`."""

    def __init__(self, *args: Any, package: str, table: Mapping[str, str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.package = package
        self.table = table

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
