"""All files of a built job: those of the piece, then G-code, dry runs, previews, drawings, setup sheets; manifest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigcam.characters import one_line
from jigcam.job.slug import slug
from jigcam.making.dry_run import made_dry_run
from jigcam.making.made_file import MadeFile
from jigcam.making.setup_sheet import sheet_of
from jigcam.workshop.folder import MANIFEST
from jigcam.workshop.manifest import manifest, manifest_bytes
from jigcam.workshop.piece_files import PieceTold, of_no_joint, piece_files, piece_told

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
    from jigcam.drawing.paper import HomePaper
    from jigcam.making.built import Built
    from jigcam.making.made_joint import Progress
    from jigcam.making.setup_sheet import SetupSheet


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted beside the files of every job.

    paper: to print drawings and setup sheets on, each as PDF in true size. plan: the plan of the whole, on that paper
    or the kit's. joint: the only one that was asked for. page: whether to make the page that plays the cut. kit: named
    in place of the job's own.
    """

    paper: HomePaper | None = None
    plan: bool = False
    joint: str | None = None
    page: bool = False
    kit: str | None = None

    def options(self) -> list[str]:
        """What `jigcam make` is told to want it again, beside the job and the folder."""
        named = {"--kit": self.kit, "--joint": self.joint, "--paper": self.paper}
        given = [word for option, value in named.items() if value is not None for word in (option, value)]
        return [*given, *(["--plan"] if self.plan else []), *(["--page"] if self.page else [])]


def made_files(built: Built, wanted: Asked | None = None, progress: Progress | None = None) -> list[MadeFile]:
    """The files, in the order of the manifest. Raises `Refused`."""
    from jigcam.drawing.renderers import RENDERERS

    wanted = wanted or Asked()
    paper = wanted.paper
    piece = piece_told(built)
    files = list(piece_files(built, piece, paper))
    drawn: dict[str, Mapping[str, Drawing]] = {}
    for joint, proof in zip(built.joints, built.proofs, strict=True):
        drawings = drawn[joint.name] = joint.plan.drawings()
        facts = joint.facts
        files += [each.made(built.kit.the_machine) for each in joint.files]
        files += [made_dry_run(each, built.job.title, built.kit.the_machine) for each in joint.files]
        files += [
            MadeFile(f"{joint.folder}/{name}", renderer.kind, content, facts)
            for renderer in RENDERERS
            for name, content in renderer.files(drawings, paper)
        ]
        sheet = sheet_of(joint, proof, built)
        text = "\n".join(map(one_line, sheet.lines())) + "\n"
        files.append(MadeFile(f"{joint.folder}/setup-sheet.txt", "sheet", text.encode(), facts))
        if paper is not None:
            pages = _sheet_pages(sheet, drawings, paper, built)
            files += [MadeFile(f"{joint.folder}/{name}", "sheet", content, facts) for name, content in pages]
    if wanted.plan:
        files += _plan(built, wanted, drawn, piece, progress)
    if wanted.page:
        from jigcam.player import PAGE, page_of

        files.append(MadeFile(PAGE, "preview", page_of(built), of_no_joint(built)))
    return files


def _sheet_pages(
    sheet: SetupSheet, drawings: Mapping[str, Drawing], paper: HomePaper, built: Built
) -> Iterator[tuple[str, bytes]]:
    """A setup sheet to print, and to read on a screen beside the machine."""
    from jigcam.drawing.leaf import bound
    from jigcam.drawing.paper import HOME
    from jigcam.making.sheet_html import sheet_html
    from jigcam.making.sheet_pages import sheet_pages

    voice = built.job.voice
    pages = sheet_pages(sheet, drawings, HOME[paper], voice)
    yield "setup-sheet.pdf", bound(pages, sheet.title, numbered=True)
    yield "setup-sheet.html", sheet_html(sheet, drawings, voice).encode()


def _plan(
    built: Built,
    wanted: Asked,
    drawn: Mapping[str, Mapping[str, Drawing]],
    piece: PieceTold | None,
    progress: Progress | None,
) -> Iterator[MadeFile]:
    """The plan of the whole piece, and each board's drawing for other programs."""
    from jigcam.drawing.renderers import RENDERERS
    from jigcam.workshop.board_drawings import drawings_of_boards
    from jigcam.workshop.plan_pack import PLAN, Pack, plan_pack

    boards = drawings_of_boards(built)
    pack = Pack(built, wanted.paper or built.kit.the_paper, boards, wanted.joint, piece)
    facts = of_no_joint(built)
    yield MadeFile(PLAN, "drawing", plan_pack(pack, drawn, progress), facts)
    stems = {name: f"board-{number}-{slug(name, 'board')}" for number, name in enumerate(boards, start=1)}
    by_stem = {stems[name]: drawing for name, drawing in boards.items()}
    names = {stem: name for name, stem in stems.items()}
    for renderer in RENDERERS:
        if renderer.kind == "drawing" and not renderer.printed:
            for name, content in renderer.files(by_stem):
                yield MadeFile(name, "drawing", content, {**facts, "board": names[name.removesuffix(renderer.suffix)]})


def folder_content(
    built: Built, wanted: Asked | None = None, progress: Progress | None = None
) -> tuple[dict[str, bytes], dict[str, Any]]:
    """What the output folder is to hold, by relative path, and the manifest in it. Raises `Refused`."""
    files = made_files(built, wanted, progress)
    content = manifest(built, files, (wanted or Asked()).options())
    return {MANIFEST: manifest_bytes(content), **{file.file: file.content for file in files}}, content
