"""`jigcam start`: a commented job, of a joint or a whole case, or a commented kit, to begin with."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from jigcam.characters import one_line
from jigcam.cli import completion
from jigcam.cli.screen import Command, has_done, say, say_blocks, say_json, tell, terminal_width


@click.command(cls=Command, name="start", short_help="Print a commented job, or a kit, to start from.")
@click.argument("kind", required=False, shell_complete=completion.kinds)
@click.option("--units", type=click.Choice(["in", "mm"]), help="Of its lengths.  [default: those of --kit, else in]")
@click.option("--kit", metavar="KIT", help="The tools that the job names: a kit of profiles/, or the path of your own.")
@click.option(
    "-o", "--out", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write it into this new file."
)
def command(
    kind: str | None, units: Literal["in", "mm"] | None, kit: str | None, target: Path | None, as_json: bool
) -> None:
    """Print a commented job with one joint of KIND, as `groove`, to start from. Without KIND: list them.

    `case` is a whole job: sides, top, bottom and shelf. `kit` is a kit. KIND may also be what the trade calls it: dado
    and housing are grooves, bow-tie is a key. -o FILE writes a file that is not there yet.
    """
    from jigcam.errors import OutputError
    from jigcam.workshop.new_file import write_new_file
    from jigcam.workshop.starters import kit_as_named, starter_called, starter_lines, starter_names

    if kit is not None and kind in (None, "kit"):
        raise click.UsageError("--kit goes with a job to start from: jigcam start groove --kit my-kit.toml")
    named = kit_as_named(kit, target) if kit is not None else None
    units = units or (named.units if named else "in")
    if kind is None:
        if target is not None:
            raise click.UsageError("-o wants a KIND to write; jigcam start lists them")
        if as_json:
            say_json(
                {"starters": [{"kind": name, "says": starter_called(name, units).says} for name in starter_names()]}
            )
        else:
            say_blocks([starter_lines(units, terminal_width())])
        return
    starter = starter_called(kind, units, named)
    if target is not None:
        try:
            write_new_file(target, starter.text.encode("utf-8"))
        except OSError as fault:
            raise OutputError(
                "the starter could not be written",
                where=str(target),
                found=fault.strerror or str(fault),
                mend="give the name of a new file in a folder that exists",
            ) from fault
        has_done(f"{target} is written")
    if as_json:
        say_json({"kind": kind, "units": units, "file": str(target) if target else None, "text": starter.text})
    elif target is None:
        say(starter.text.rstrip("\n"))
    else:
        tell(one_line(f"wrote {target}; next: jigcam {starter.next} {target}"))
