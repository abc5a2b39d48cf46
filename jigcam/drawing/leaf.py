"""Pages of PDF bound to a file: each is told how it is drawn, and the file is written when all of them are known."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.paper import Paper
from jigcam.drawing.pdf_ink import FONT, letters, say_right, typeface
from jigcam.drawing.tiles import EDGE
from jigcam.values import dataclass

Draw = Callable[[Canvas], None]


@dataclass(frozen=True, slots=True)
class Leaf:
    """One page. paper: as it lies. draw: everything on it, in mm from its lower left corner. mark: a name of the first
    page of a part, under which a reader of PDF finds it."""

    paper: Paper
    draw: Draw
    mark: str = ""


def bound(
    leaves: Sequence[Leaf], title: str, *, numbered: bool = False, attached: Mapping[str, bytes] | None = None
) -> bytes:
    """The pages as the bytes of a PDF file; the same pages give the same bytes.

    numbered: with "page n of m" at the foot. attached: files that go with it, by name.
    """
    out = io.BytesIO()
    typeface()
    canvas = Canvas(out, invariant=1, pageCompression=1, initialFontName=FONT)
    canvas.setTitle(letters(title))
    canvas.setCreator("jigcam")
    for number, leaf in enumerate(leaves, start=1):
        canvas.setPageSize((leaf.paper.width * mm, leaf.paper.height * mm))
        canvas.scale(mm, mm)
        if leaf.mark:
            canvas.bookmarkPage(f"part-{number}")
            canvas.addOutlineEntry(letters(leaf.mark), f"part-{number}", level=0)
        leaf.draw(canvas)
        if numbered:
            say_right(canvas, leaf.paper.width - EDGE, EDGE - 3.5, f"page {number} of {len(leaves)}", 2.2)
        canvas.showPage()
    _attach(canvas, attached or {})
    canvas.save()
    return out.getvalue()


def _attach(canvas: Canvas, files: Mapping[str, bytes]) -> None:
    """Files embedded in the document (ISO 32000-1, 7.11.4: file specifications and the name tree EmbeddedFiles)."""
    if not files:
        return
    document = canvas._doc  # reportlab has no public way to embed a file
    names = []
    for name, content in sorted(files.items()):
        stream = pdfdoc.PDFStream(pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("EmbeddedFile")}), content)
        embedded = document.Reference(stream)
        said = pdfdoc.PDFString(name)
        specification = pdfdoc.PDFDictionary(
            {
                "Type": pdfdoc.PDFName("Filespec"),
                "F": said,
                "UF": said,
                "EF": pdfdoc.PDFDictionary({"F": embedded}),
            }
        )
        names += [said, document.Reference(specification)]
    tree = pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray(names)})
    document.Catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": tree})
