"""`jigcam start`: a commented job, or a commented kit, to begin with."""

from __future__ import annotations

from pathlib import Path

import click

from jigcam.characters import one_line
from jigcam.cli import completion
from jigcam.cli.screen import Command, has_done, say, say_json, tell


@click.command(cls=Command, name="start", short_help="Print a commented job, or a kit, to start from.")
@click.argument("kind", shell_complete=completion.kinds)
@click.option("--units", type=click.Choice(["in", "mm"]), default="in", show_default=True, help="Of its lengths.")
@click.option("-o", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write it into this new file.")
def command(kind: str, units: str, target: Path | None, as_json: bool) -> None:
    """Print a commented job with one joint of KIND (as `groove`) to start from; with `kit`, a commented kit.

    KIND may also be what the trade calls it: dado and housing are grooves, bow-tie is a key.
    It goes to the screen, so `jigcam start groove > shelf.toml` keeps it; -o FILE writes a file that is not there yet.
    """
    from jigcam.errors import OutputError
    from jigcam.joints import kind_called
    from jigcam.kit.starter import starter_kit
    from jigcam.workshop.new_file import write_new_file

    text = starter_kit("mm" if units == "mm" else "in") if kind == "kit" else kind_called(kind).starter(units)
    if target is not None:
        try:
            write_new_file(target, text.encode("utf-8"))
        except OSError as fault:
            raise OutputError(
                "the starter could not be written",
                where=str(target),
                found=fault.strerror or str(fault),
                mend="give the name of a new file in a folder that exists",
            ) from fault
        has_done(f"{target} is written")
    if as_json:
        say_json({"kind": kind, "units": units, "file": str(target) if target else None, "text": text})
    elif target is None:
        say(text.rstrip("\n"))
    else:
        tell(one_line(f"wrote {target}; next: jigcam {'kit' if kind == 'kit' else 'check'} {target}"))
