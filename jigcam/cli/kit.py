"""`jigcam kit`: what is in the shop."""

from __future__ import annotations

import click

from jigcam.cli import completion
from jigcam.cli.screen import Command, say, say_blocks, say_json, say_lines, terminal_width


@click.command(cls=Command, name="kit")
@click.argument("kit", required=False, shell_complete=completion.kits)
@click.option("--check", is_flag=True, help="Say all that is wrong in it, and which joints it makes by which way.")
def command(kit: str | None, check: bool, as_json: bool) -> None:
    """List a KIT, its bits and bushings and which pairs work; without KIT, the names of the kits that are shipped.

    KIT is a name, as `inch-shop`, or the path of a kit file. To make your own, copy one from the profiles folder,
    or begin with `jigcam start kit`.
    """
    from jigcam.kit import kit_names, load_kit, profiles_folder

    if kit is None:
        if check:
            raise click.UsageError("--check wants a KIT: a name, as inch-shop, or the path of a kit file")
        if as_json:
            say_json({"kits": list(kit_names()), "folder": str(profiles_folder())})
            return
        wide = max(map(len, kit_names()), default=0)
        say("kits that are shipped")
        say_lines([f"  {name:<{wide}}  {load_kit(name).name}" for name in kit_names()])
        say_lines(
            [
                "",
                f"their files are in {profiles_folder()}",
                "next: jigcam kit NAME lists one; copy its file, or begin with jigcam start kit, and change it to "
                "what is in your drawer",
            ]
        )
        return
    found = load_kit(kit)
    if check:
        from jigcam.workshop.kit_trial import lacks_of, trial_lines, try_kit

        trials = try_kit(found)
        lacks = lacks_of(found, trials)
        if as_json:
            told = {"trials": [trial.as_dict() for trial in trials], "lacks": [lack.as_dict() for lack in lacks]}
            say_json({"kit": found.name, **told})
        else:
            say_blocks([trial_lines(found, trials, lacks, terminal_width())])
        return
    from jigcam.bench.kit_list import kit_dict, kit_lines

    if as_json:
        say_json(kit_dict(found))
    else:
        say_blocks([kit_lines(found, terminal_width())])
