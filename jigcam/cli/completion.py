"""What a shell completes beside commands and options: starters, and kits. Never an error."""

from __future__ import annotations

import click
from click.shell_completion import CompletionItem


def kinds(_: click.Context, __: click.Parameter, begun: str) -> list[CompletionItem]:
    """What `jigcam start` prints."""
    from jigcam.workshop.starters import starter_names

    return [CompletionItem(name) for name in starter_names() if name.startswith(begun)]


def kits(_: click.Context, __: click.Parameter, begun: str) -> list[CompletionItem]:
    """Names of the kits that are shipped; where none begins so, files."""
    from jigcam.kit import kit_names

    found = [CompletionItem(name) for name in kit_names() if name.startswith(begun)]
    return found or [CompletionItem(begun, type="file")]
