"""`jigcam kit`: what is in the shop."""

from __future__ import annotations

import click

from jigcam.cli.output import Command, say_json, say_lines


@click.command(cls=Command, name="kit")
@click.argument("kit", required=False)
def command(kit: str | None, as_json: bool) -> None:
    """List a KIT, its bits and bushings and which pairs work; without KIT, the names of the kits that are shipped.

    KIT is a name, as `inch-shop`, or the path of a kit file. To make your own, copy one from the profiles folder.
    """
    from jigcam.kit import kit_names, load_kit, profiles_folder

    if kit is None:
        if as_json:
            say_json({"kits": list(kit_names()), "folder": str(profiles_folder())})
            return
        say_lines(f"{name:<14} {load_kit(name).name}" for name in kit_names())
        say_lines(["", f"they are files in {profiles_folder()}"])
        return
    from jigcam.workshop.kit_list import kit_dict, kit_lines

    found = load_kit(kit)
    if as_json:
        say_json(kit_dict(found))
    else:
        say_lines(kit_lines(found))
