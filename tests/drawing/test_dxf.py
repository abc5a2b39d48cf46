"""DXF files, read back by ezdxf's own reader, say what the drawings say: outlines to the micron, units, words."""

from __future__ import annotations

import io
import subprocess
import sys

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing as Document
from support.grooves import groove_job
from support.sample_drawing import sample

from jigcam.drawing import dxf
from jigcam.drawing.model import Drawing, Item, View
from jigcam.drawing.roles import PENS
from jigcam.geometry import Path, disc
from jigcam.kit import load_kit
from jigcam.workshop.build import build_job

MICRON = 1e-3
"""mm: the bar for DXF and SVG."""
INCH = {1: 25.4, 4: 1.0}
"""$INSUNITS: millimetres in a unit of the file (DXF Reference, from memory)."""


def read(raw: bytes) -> Document:
    """The file as ezdxf reads it; it finds nothing to repair."""
    document = ezdxf.read(io.StringIO(raw.decode("utf-8")))
    found = document.audit()
    assert not found.errors
    assert not found.fixes
    return document


def outlines(document: Document, layer: str) -> list[Path]:
    """Outlines of a layer in mm."""
    mm = INCH[document.header["$INSUNITS"]]
    found = []
    for line in document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'):
        table = np.array(line.get_points("xyb"))
        table[:, :2] *= mm
        found.append(Path(table, line.closed))
    return found


def shapes(view: View, role: str) -> list[Path]:
    return [path for item in view.items if item.role == role and item.outlined for path in item.paths if path.length]


def groove_drawings(units: str) -> dict[str, Drawing]:
    built = build_job(groove_job(units=units, way="template"), load_kit("metric-shop"))
    return dict(built.joints[0].plan.drawings())


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_outline_of_the_first_view_lies_where_the_geometry_has_it(units: str) -> None:
    for drawing in groove_drawings(units).values():
        document, view = read(dxf.render(drawing)), drawing.views[0]
        assert document.header["$INSUNITS"] == {"in": 1, "mm": 4}[drawing.units]
        for role in {item.role for item in view.items if item.outlined}:
            there = outlines(document, role)
            for path in shapes(view, role):
                gaps = [
                    max(float(np.abs(np.array(other.bounds) - path.bounds).max()), abs(other.length - path.length))
                    for other in there
                    if other.closed == path.closed
                ]
                assert min(gaps, default=np.inf) < MICRON, (role, path.bounds)


def test_cut_opening_and_sheet_are_closed_lines_with_bulges() -> None:
    drawing = next(each for stem, each in groove_drawings("mm").items() if "template" in stem)
    document = read(dxf.render(drawing))
    for role in ("opening", "sheet"):
        drawn = [path for view in drawing.views for path in shapes(view, role)]
        assert sorted(path.closed for path in outlines(document, role)) == sorted(path.closed for path in drawn)
        assert any(path.closed for path in drawn)
    assert any(np.abs(path.vertices[:, 2]).max() > 0.9 for path in outlines(document, "opening")), "round ends"


def test_views_stand_apart_and_in_true_size() -> None:
    views = tuple(View(name, (Item("cut", disc(0.0, 0.0, 10.0)),)) for name in "abc")
    document = read(dxf.render(Drawing("three", (views[:2], views[2:]))))
    boxes = [path.bounds for path in outlines(document, "cut")]
    assert [round(x1 - x0, 6) for x0, _, x1, _ in boxes] == [20.0] * 3
    assert boxes[0] == pytest.approx((-10, -10, 10, 10), abs=MICRON), "the first keeps its own frame"
    for place, (x0, y0, x1, y1) in enumerate(boxes):
        for u0, v0, u1, v1 in boxes[place + 1 :]:
            assert x1 < u0 or u1 < x0 or y1 < v0 or v1 < y0


def test_layers_are_roles_with_their_tone_and_words() -> None:
    document = read(dxf.render(sample()))
    for layer in document.layers:
        if layer.dxf.name in PENS:
            pen = PENS[layer.dxf.name]  # type: ignore[index]
            assert layer.description == pen.name
            assert layer.color == dxf.COLOURS[pen.tone]


def test_names_of_people_are_no_codes() -> None:
    drawing = Drawing("%%uside^J {\\b0;}", ((View("100%%d", (Item("cut", disc(0.0, 0.0, 1.0)),)),),))
    texts = [text.dxf.text for text in read(dxf.render(drawing)).modelspace().query("TEXT")]
    assert all("%%" not in text for text in texts)
    assert any("100" in text for text in texts)


def test_writing_a_dxf_file_loads_no_library_for_it() -> None:
    script = "import sys, jigcam.drawing.dxf; sys.exit(any(name.partition('.')[0] == 'ezdxf' for name in sys.modules))"
    assert subprocess.run([sys.executable, "-c", script]).returncode == 0, "a fifth of what it took to start a make"


def test_handles_and_counts_of_tables_are_those_of_what_is_in_them() -> None:
    document = read(dxf.render(sample()))
    text = dxf.render(sample()).decode()
    assert "@" not in text.replace("0.0 @ 2000", ""), "every mark of the blank is replaced"
    handles = [int(handle, 16) for handle in document.entitydb]
    assert len(handles) == len(set(handles))
    assert max(handles) < int(text.partition("$HANDSEED\n  5\n")[2].partition("\n")[0], 16)
    for table in ("LTYPE", "LAYER", "APPID"):
        section = text.partition(f"TABLE\n  2\n{table}\n")[2].partition("ENDTAB")[0]
        said = int(section.partition("AcDbSymbolTable\n 70\n")[2].partition("\n")[0])
        assert said == section.count("AcDbSymbolTableRecord")


def test_the_same_drawing_gives_the_same_bytes() -> None:
    assert dxf.render(sample()) == dxf.render(sample())
