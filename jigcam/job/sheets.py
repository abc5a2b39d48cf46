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
        elif _moved(entry):
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


def _moved(entry: Entry) -> bool:
    """Whether the joint moves its sheet over the board by itself: along a row, or from one face to the other."""
    return getattr(entry, "repeat", None) is not None or getattr(entry, "face", None) == "both"


def _of_its_own(entry: Entry) -> InputError:
    return InputError(
        "a joint that is cut again elsewhere moves its sheet by itself, and shares it with no other",
        found=f"{KEY} = {shown(entry.template)}, and repeat or both faces",
        wanted="a sheet of its own",
        mend=f"leave the key {KEY} out, or write each of these cuts as a joint of its own",
    )


def _elsewhere(entry: Entry, first: Entry) -> Iterator[InputError]:
    """The faults of a joint that lies in another board or face than the first one of its sheet."""
    for what in ("board", "face"):
        its, wanted = getattr(entry, what), getattr(first, what)
        if its != wanted:
            yield InputError(
                f"a sheet is laid on one {what}, and its joints are in two",
                found=f"{what} = {shown(its)} here, and {shown(wanted)} in {shown(first.name)}",
                wanted=f"joints in one {what}",
                mend=f"give the joints of each {what} a name of a sheet of their own",
            )
            return
