"""All files of a built job: those of the piece, then G-code, dry runs, previews, drawings, setup sheets; manifest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jigcam.characters import one_line
from jigcam.making.dry_run import made_dry_run
from jigcam.making.made_file import MadeFile
from jigcam.making.setup_sheet import setup_sheet
from jigcam.workshop.folder import MANIFEST
from jigcam.workshop.manifest import manifest, manifest_bytes
from jigcam.workshop.piece_files import piece_files

if TYPE_CHECKING:
    from jigcam.drawing.paper import HomePaper
    from jigcam.making.built import Built


def made_files(built: Built, paper: HomePaper | None = None, *, page: bool = False) -> list[MadeFile]:
    """The files, in the order of the manifest. Raises `Refused`.

    paper: to print drawings on in true size. page: whether to make the page that plays the cut.
    """
    from jigcam.drawing.renderers import RENDERERS

    files = list(piece_files(built, paper))
    for joint, proof in zip(built.joints, built.proofs, strict=True):
        drawings = joint.plan.drawings()
        facts = joint.facts
        files += [each.made(built.kit.the_machine) for each in joint.files]
        files += [made_dry_run(each, built.job.title, built.kit.the_machine) for each in joint.files]
        files += [
            MadeFile(f"{joint.folder}/{name}", renderer.kind, content, facts)
            for renderer in RENDERERS
            for name, content in renderer.files(drawings, paper)
        ]
        sheet = "\n".join(map(one_line, setup_sheet(joint, proof, built))) + "\n"
        files.append(MadeFile(f"{joint.folder}/setup-sheet.txt", "sheet", sheet.encode(), facts))
    if page:
        from jigcam.player import PAGE, page_of

        files.append(MadeFile(PAGE, "preview", page_of(built), {"joint": ""}))
    return files


def folder_content(
    built: Built, paper: HomePaper | None = None, *, page: bool = False
) -> tuple[dict[str, bytes], dict[str, Any]]:
    """What the output folder is to hold, by relative path, and the manifest in it. paper, page: see `made_files`.

    Raises `Refused`.
    """
    files = made_files(built, paper, page=page)
    content = manifest(built, files)
    return {MANIFEST: manifest_bytes(content), **{file.file: file.content for file in files}}, content
