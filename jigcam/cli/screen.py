"""How results and errors reach the screen: results on stdout, messages on stderr, colour on a terminal only."""

from __future__ import annotations

import json
import os
import shutil
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import Any, TextIO

import click

from jigcam.characters import escaped, laid_out, one_line
from jigcam.cli.ending import LostOutput, losing_output
from jigcam.cli.help import Context
from jigcam.errors import Faults, JigcamError, Refused
from jigcam.findings import Finding, by_gravity
from jigcam.making.columns import PROSE, hanging, prose

MOST_FAULTS = 100
"""Faults of one file that are printed; nobody mends more in one sitting. --json has all."""
_INK: dict[str, dict[str, Any]] = {
    "stop": {"fg": "red", "bold": True},
    "error": {"fg": "red", "bold": True},
    "caution": {"fg": "magenta", "bold": True},
    "note": {"fg": "cyan"},
    "good": {"fg": "green"},
    "title": {"bold": True},
    "aside": {"dim": True},
}
"""Of the terminal's own sixteen colours, those that can be read on a dark and on a light ground."""


MISSING = {
    "JOB": "Give the path of a job file; jigcam start lists jobs to start from, jigcam alone those that are here.",
    "FILE": "Give the path of a job or of a G-code file.",
}
"""What is said of an argument that was left out."""


class Command(click.Command):
    """A command with `--json`, whose errors become messages and exit statuses instead of tracebacks."""

    context_class = Context

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.params.append(click.Option(["--json", "as_json"], is_flag=True, help="Print the result as JSON."))

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """As click does; a `JigcamError` from an argument's text is printed and sets the exit status."""
        as_json = "--json" in args
        try:
            with losing_output():  # of its help
                return super().parse_args(ctx, args)
        except JigcamError as error:
            report(error, as_json=as_json)
            ctx.exit(error.exit_status)
        except click.MissingParameter as error:
            what = MISSING.get(error.param.human_readable_name if error.param else "")
            raise click.UsageError(
                f"{error.format_message()} {what}" if what else error.format_message(), error.ctx
            ) from error
        except click.UsageError as error:
            if one_line(error.message) == error.message:
                raise
            raise click.UsageError(one_line(error.format_message()), error.ctx) from error

    def invoke(self, ctx: click.Context) -> Any:
        """Run it; a `JigcamError` is printed and sets the exit status."""
        as_json = bool(ctx.params.get("as_json"))
        try:
            return super().invoke(ctx)
        except JigcamError as error:
            report(error, as_json=as_json, why=bool(ctx.params.get("why")))
            ctx.exit(error.exit_status)
        except LostOutput as lost:
            lost.done = done(ctx)
            raise
        except (click.ClickException, click.exceptions.Exit, click.Abort):
            raise
        except Exception as fault:
            if os.environ.get("JIGCAM_TRACEBACK"):
                raise
            unforeseen = JigcamError(
                f"jigcam itself failed ({type(fault).__name__}: {fault}); {done(ctx)}",
                mend="please report it; JIGCAM_TRACEBACK=1 in the environment shows where",
            )
            report(unforeseen, as_json=as_json)
            ctx.exit(unforeseen.exit_status)


def colour_wanted(stream: TextIO) -> bool:
    """On a terminal, unless NO_COLOR is set (to anything) or the terminal is dumb."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def unicode_wanted(stream: TextIO) -> bool:
    """Whether Braille and box characters survive the stream's encoding."""
    try:
        "⣿─".encode(stream.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


@contextmanager
def progress_bar() -> Iterator[Callable[[str, float], None] | None]:
    """A bar on stderr that shows on anything over a second; nothing where stderr is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    # stdout stays what it is: a stand-in would hide its encoding from whoever asks within the block.
    console = Console(stderr=True, no_color=not colour_wanted(sys.stderr), color_system="standard")
    column = BarColumn(style="default", complete_style="cyan", finished_style="cyan", pulse_style="cyan")
    with Progress(
        TextColumn("{task.description}", style="default", markup=False),
        column,
        console=console,
        transient=True,
        redirect_stdout=False,
        redirect_stderr=False,
    ) as bar:
        task = bar.add_task("", total=1.0, visible=False)
        late = threading.Timer(1.0, bar.update, (task,), {"visible": True})
        late.daemon = True
        late.start()

        def tell(step: str, share: float) -> None:
            bar.update(task, description=step, completed=share)

        try:
            yield tell
        finally:
            late.cancel()


LEVEL = 9
"""Columns that the name of a level takes before a finding."""


def terminal_width(limit: int = 160) -> int:
    """Columns of the terminal (80 in a pipe), at most `limit`."""
    return max(40, min(limit, shutil.get_terminal_size((80, 24)).columns))


def ink(text: str, kind: str, stream: TextIO) -> str:
    """`text` in the ink of a level, or of what it is, where colour is wanted."""
    return click.style(text, **_INK[kind]) if colour_wanted(stream) and text else text


def say(text: str) -> None:
    """A result, on stdout. Characters that its encoding lacks become '?', never an error.

    Of what does not print, only line ends, tabs and colours come through. Raises `LostOutput`.
    """
    with losing_output():
        _write(text, sys.stdout)


def say_lines(lines: Iterable[str]) -> None:
    """Lines of words on stdout, each a line whatever names it holds, those wider than the screen broken between words.

    No colour is in them yet. Raises `LostOutput`.
    """
    say("\n".join(prose(list(map(one_line, lines)), terminal_width())))


def say_blocks(blocks: Iterable[Iterable[str]]) -> None:
    """Blocks of lines on stdout, with an empty line between them; else as `say_lines`."""
    say("\n\n".join("\n".join(map(one_line, lines)) for lines in blocks))


def tell(text: str) -> None:
    """A message, on stderr. Where that takes none, there is nobody left to tell."""
    with suppress(OSError):
        _write(text, sys.stderr)


def _write(text: str, stream: TextIO) -> None:
    encoding = stream.encoding or "utf-8"
    plain = laid_out(text).encode(encoding, "replace").decode(encoding)
    click.echo(plain, file=stream, color=colour_wanted(stream))


def say_json(data: Any) -> None:
    """A result for machines, on stdout; what does not print is escaped. Raises `LostOutput`."""
    say(escaped(json.dumps(data, indent=2, ensure_ascii=False)))


_DONE = "jigcam: what has been done"


def has_done(what: str) -> None:
    """Remember what the command has written, to be told should anything fail after it."""
    click.get_current_context().meta[_DONE] = what


def done(context: click.Context) -> str:
    """What the command has written, in words."""
    return str(context.meta.get(_DONE, "nothing was written"))


def finding_lines(
    findings: Iterable[Finding],
    stream: TextIO,
    *,
    width: int | None = None,
    why: bool = True,
    everywhere: Sequence[str] = (),
) -> list[str]:
    """Findings as wrapped lines, gravest first, each remark once: its level, the joints that it holds for, what it says
    and its rule.

    why: notes as well. everywhere: the names of all joints, where there is no need to list them.
    """
    from jigcam.cli.remarks import said_once, whole

    room = (width or terminal_width(PROSE)) - LEVEL
    lines: list[str] = []
    for remark in said_once(finding for finding in findings if why or finding.level != "note"):
        first, *more = map(one_line, whole(remark, everywhere))
        body = [*hanging(first, room, 0), *(part for line in more for part in hanging(f"  {line}", room, 0))]
        head = ink(f"{remark.level:<8}", remark.level, stream)
        lines += [f"{head} {body[0]}", *(" " * LEVEL + line for line in body[1:])]
    return lines


def report(error: JigcamError, *, as_json: bool, why: bool = False) -> None:
    """Print an error on stderr, and then with `as_json` its fields on stdout as well. why: of a refusal the notes too.

    Raises `LostOutput`.
    """
    width = terminal_width() if sys.stderr.isatty() else None
    if isinstance(error, Refused):
        for line in finding_lines(error.findings, sys.stderr, why=why):
            tell(line)
        tell(_inked(prose([f"refused: {one_line(error.what)}"], width), "refused", "stop"))
        if as_json:
            say_json({"refused": error.what, "findings": [f.as_dict() for f in by_gravity(error.findings)]})
        return
    faults = error.faults if isinstance(error, Faults) else (error,)
    for fault in faults[:MOST_FAULTS]:
        tell(_inked(prose(f"error: {fault}".split("\n"), width), "error", "error"))
    if len(faults) > MOST_FAULTS:
        tell(ink("error", "error", sys.stderr) + f": {len(faults) - MOST_FAULTS} more faults of this kind and others")
    if as_json:
        say_json({"errors": [fault.as_dict() for fault in faults]})


def _inked(lines: Sequence[str], word: str, kind: str) -> str:
    """Lines whose first word is in ink, on stderr."""
    return "\n".join(lines).replace(word, ink(word, kind, sys.stderr), 1)
