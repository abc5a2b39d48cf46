"""`jigcam piece`: the boards of a job put together."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigcam.characters import one_line
from jigcam.cli.arguments import JOB, WHY
from jigcam.cli.screen import (
    Command,
    colour_wanted,
    finding_lines,
    has_done,
    say,
    say_json,
    say_lines,
    tell,
    terminal_width,
    unicode_wanted,
)

if TYPE_CHECKING:
    from jigcam.workshop.piece_shown import PieceShown


@click.command(cls=Command, name="piece")
@JOB
@WHY
@click.option(
    "--csv", "table", type=click.Path(path_type=Path, dir_okay=False), help="Write the cut list into this new file."
)
@click.pass_context
def command(ctx: click.Context, job: Path, why: bool, table: Path | None, as_json: bool) -> None:
    """Put the boards of the JOB together: which there are, how they meet, whether it closes, in which order.

    Shows the piece put together and pulled apart, and the cut list by which its wood is bought. Sizes that are "to
    fit" follow from the joints. No kit is asked for. Exit status 1 where the boards do not go together; no file is
    written then.
    """
    from jigcam.workshop.loading import load_job
    from jigcam.workshop.piece_account import PieceAccount
    from jigcam.workshop.piece_shown import PieceShown

    account = PieceAccount.of(load_job(job))
    shown = PieceShown(account)
    stopped = account.stopped
    if table is not None and not stopped:
        _write(table, shown)
    if as_json:
        say_json({**account.as_dict(), "cut_list": shown.cuts.as_dict()})
    else:
        told = finding_lines(account.findings, sys.stdout, why=why)
        account_lines = account.lines(terminal_width())
        if stopped:
            # What is wrong comes first, and nothing by which wood could be bought.
            say("\n".join([*told, "", *account_lines]))
        else:
            say("\n".join(account_lines))
            _show(shown)
            say("\n".join(["", *told]) if told else "")
    if table is not None:
        tell(one_line(f"{table} was not written" if stopped else f"wrote {table}"))
    if stopped:
        ctx.exit(1)


def _show(shown: PieceShown) -> None:
    """Pictures and cut list on the screen."""
    from jigcam.drawing import terminal
    from jigcam.piece.cut_list_text import cut_list_lines

    width = terminal_width()
    for drawing in shown.drawings:
        picture = terminal.render(drawing, width, colour=colour_wanted(sys.stdout), unicode=unicode_wanted(sys.stdout))
        say(f"\n{picture.rstrip()}")
    say_lines(["", *cut_list_lines(shown.cuts, width)])


def _write(path: Path, shown: PieceShown) -> None:
    """The cut list as CSV. Raises OutputError."""
    from jigcam.errors import OutputError
    from jigcam.piece.cut_list_text import cut_list_csv
    from jigcam.workshop.new_file import write_new_file

    try:
        write_new_file(path, cut_list_csv(shown.cuts).encode("utf-8"))
    except OSError as fault:
        raise OutputError(
            "the cut list could not be written",
            where=str(path),
            found=fault.strerror or str(fault),
            mend="give the name of a new file in a folder that exists",
        ) from fault
    has_done(f"{path} is written")
