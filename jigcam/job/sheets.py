"""Joints that ask for one sheet together, by the key `template`: which they are, and what a job may not ask of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from jigcam.document.positions import Key
from jigcam.errors import InputError
from jigcam.job.entry import Entry
from jigcam.job.slug import slug
from jigcam.units.parse import shown

KEY = "template"
APART = "leave the key template out, and the joint gets a sheet of its own"


def sheet_folder(name: str) -> str:
    """The folder in the output of a sheet of that name."""
    return slug(name, "sheet")


def shared_sheets(entries: Sequence[Entry]) -> dict[str, tuple[Entry, ...]]:
    """Sheets by name, with the joints whose openings they have: at least two, in the order of the job."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.template is not None:
            found.setdefault(entry.template, []).append(entry)
    return {name: tuple(some) for name, some in found.items() if len(some) > 1}


def sheet_faults(entries: Sequence[Entry], folders: Mapping[str, str]) -> Iterator[tuple[Key, InputError]]:
    """What is wrong with the sheets that joints ask for, each with the place of its key. folders: of the joints."""
    firsts: dict[str, Entry] = {}
    for number, entry in enumerate(entries):
        if entry.template is None:
            continue
        place: Key = ("joints", number, KEY)
        if not entry.SHARES:
            yield place, _not_of_this_kind(entry)
        elif entry.way != "template":
            yield place, _not_by_template(entry)
        elif getattr(entry, "face", None) == "both":
            yield place, _of_its_own(entry)
        else:
            first = firsts.setdefault(entry.template, entry)
            yield from ((place, error) for error in _elsewhere(entry, first))
    names = {folder: name for name, folder in folders.items()}
    for name in shared_sheets(entries):
        folder = sheet_folder(name)
        other = names.setdefault(folder, name)
        if other != name or name in folders:
            number = next(n for n, entry in enumerate(entries) if entry.template == name)
            yield (
                ("joints", number, KEY),
                InputError(
                    "a sheet and something else of the job would be written to the same folder",
                    found=f"{shown(name)} and {shown(other)}, both {folder}",
                    wanted="a name of the sheet that is no joint's and no other sheet's",
                ),
            )


def _not_of_this_kind(entry: Entry) -> InputError:
    return InputError(
        f"a {entry.kind} cannot share a sheet with other joints",
        found=f"{KEY} = {shown(entry.template)}",
        wanted="the key in joints that are one opening of a sheet, such as a groove",
        mend=APART if entry.way == "template" else f"leave the key {KEY} out",
    )


def _not_by_template(entry: Entry) -> InputError:
    return InputError(
        "the joint is cut without a template, so it is on no sheet",
        found=f"{KEY} = {shown(entry.template)}, way = {shown(entry.way)}",
        wanted='way = "template"',
        mend=f'write way = "template", or leave the key {KEY} out',
    )


def _of_its_own(entry: Entry) -> InputError:
    return InputError(
        "a joint that is cut in both faces turns its sheet over by itself, and shares it with no other",
        found=f"{KEY} = {shown(entry.template)}, and both faces",
        wanted="a sheet of its own",
        mend=f"leave the key {KEY} out, or write the cuts of each face as joints of their own",
    )


def _elsewhere(entry: Entry, first: Entry) -> Iterator[InputError]:
    """The faults of a joint that lies in another board, face or end than the first one of its sheet."""
    for what in ("board", "face", "end"):
        its, wanted = getattr(entry, what, None), getattr(first, what, None)
        if its != wanted:
            yield InputError(
                f"a sheet is laid on one {what}, and its joints are in two",
                found=f"{_said(what, its)} here, and {_said(what, wanted)} in {shown(first.name)}",
                wanted=f"joints in one {what}",
                mend=f"give the joints of each {what} a name of a sheet of their own",
            )
            return


def _said(what: str, name: str | None) -> str:
    """A key as it stands in an entry."""
    return f"no {what}" if name is None else f"{what} = {shown(name)}"
